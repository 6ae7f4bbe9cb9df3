/* test_balance_temperature.c - a balance whose zero and sensitivity move with its temperature: loadings at
 * two temperatures to a calibration, its file, the season, and a run at a third one.
 *
 * The balance is manufactured: its terms are invented, so that its loads are known. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/calibration_file.h"
#include "reduce/calibrate.h"
#include "reduce/calibration_make.h"
#include "reduce/calibration_read.h"
#include "reduce/pipeline.h"
#include "report/calibration_report.h"
#include "tests/check.h"
#include "tests/night_fixture.h"
#include "tests/scratch.h"

extern CU_TestInfo balance_temperature_tests[];

enum { LEVELS = 2, SENSES = 5, ROWS = LEVELS * SENSES * LOAD_COUNT };

static const double COLD = 288, WARM = 304, MEAN = 296, RUN = 301, ZERO = 292;
static const double rated[LOAD_COUNT] = {2000, 1500, 9000, 800, 1500, 900};

/* Main term and neighbour, zero shift, and sensitivity shift of one row of the balance. */
struct truth_row {
    double main, neighbour, zero, sensitivity;
};

static const struct truth_row truth[LOAD_COUNT] = {
    {1.2, 0.010, 3e-3, 2.0e-4},  {0.9, -0.020, -2e-3, -1.0e-4}, {1.5, 0.005, 4e-3, 3.0e-4},
    {1.1, 0.015, 1e-3, -2.0e-4}, {1.0, -0.010, -5e-3, 1.5e-4},  {1.3, 0.008, 2e-3, 2.5e-4}};

/* Outputs of the iterative form's balance. */
static void outputs_of(const double load[LOAD_COUNT], double temperature, double output[LOAD_COUNT])
{
    double from = temperature - MEAN;
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        double own = load[i] / rated[i];
        double other = load[(i + 1) % LOAD_COUNT] / rated[(i + 1) % LOAD_COUNT];
        output[i] = (truth[i].main + truth[i].sensitivity * from) * own +
                    truth[i].neighbour * other + truth[i].zero * from;
    }
}

/* Loads of the direct form's balance at these outputs. */
static void loads_of(const double output[LOAD_COUNT], double temperature, double load[LOAD_COUNT])
{
    double from = temperature - MEAN;
    for (size_t i = 0; i < LOAD_COUNT; i++)
        load[i] =
            rated[i] * ((truth[i].main + truth[i].sensitivity * from) * output[i] +
                        truth[i].neighbour * output[(i + 1) % LOAD_COUNT] + truth[i].zero * from);
}

/* Each component by itself in four sizes and none, at both temperatures. */
static void make_loadings(enum calibration_form form, struct loading rows[ROWS],
                          struct loadings *loadings)
{
    static const double temperatures[LEVELS] = {COLD, WARM};
    size_t n = 0;
    memset(rows, 0, ROWS * sizeof *rows);
    *loadings = (struct loadings){.name = "made.csv",
                                  .sha256 = "made",
                                  .rows = rows,
                                  .n = ROWS,
                                  .is_present = {1, 1, 1, 1, 1, 1},
                                  .output_of = {0, 1, 2, 3, 4, 5},
                                  .output_unit = "mV/V",
                                  .has_temperature = 1};
    for (size_t level = 0; level < LEVELS; level++)
        for (size_t i = 0; i < LOAD_COUNT; i++)
            for (int sense = -2; sense <= 2; sense++) {
                struct loading *row = &rows[n++];
                row->temperature = temperatures[level];
                row->line = n + 2;
                if (form == CALIBRATION_DIRECT) {
                    row->output[i] = 0.4 * sense;
                    loads_of(row->output, row->temperature, row->load);
                    continue;
                }
                row->load[i] = 0.5 * sense * rated[i];
                outputs_of(row->load, row->temperature, row->output);
            }
}

/* Loadings to a calibration, written to a file and read back as a campaign would. */
static void calibrate_through_a_file(enum calibration_form form, struct calibration *read)
{
    struct loading rows[ROWS];
    struct loadings loadings;
    struct calibrate_request request = {.form = form,
                                        .terms = 6,
                                        .keep_all = 1,
                                        .balance = "under",
                                        .valid_from = "",
                                        .valid_until = "",
                                        .output_unit = "mV/V"};
    struct balance balance = {.name = "under", .output_unit = "mV/V"};
    struct calibration_card card;
    struct problems problems = {0};
    struct buffer text = {0};
    struct units *units = NULL;
    struct fault fault;
    char folder[SCRATCH_PATH], path[SCRATCH_PATH + 32];
    memcpy(request.rated, rated, sizeof rated);
    make_loadings(form, rows, &loadings);
    CHECK_OK(calibrate(&loadings, &request, &card, &fault), &fault);
    CHECK_NEAR(card.temperature, MEAN, 1e-12, "identity: half way between 288 and 304 K");
    csv_calibration(&card, &text);
    CU_ASSERT_FATAL(scratch_make(folder) && scratch_write(folder, "b.csv", buffer_string(&text)));
    (void)snprintf(path, sizeof path, "%s/b.csv", folder);
    CHECK_OK(units_open(&units, &fault), &fault);
    CHECK_OK(calibration_file_read(path, "b.csv", &balance, units, &problems, read, &fault),
             &fault);
    CHECK(problems.n == 0);
    CHECK(read->has_temperature && read->temperature_lowest == COLD &&
          read->temperature_highest == WARM);
    units_close(units);
    buffer_free(&text);
    calibration_card_free(&card);
    scratch_remove(folder);
}

static void an_iterative_one_gives_the_loads_at_a_third_temperature(void)
{
    static const double load[LOAD_COUNT] = {900, -300, -4000, 150, -700, 220};
    static const double nothing[LOAD_COUNT] = {0};
    double output[LOAD_COUNT], zero[LOAD_COUNT], found[LOAD_COUNT];
    struct calibration calibration;
    struct balance_calibration made;
    struct fault fault;
    calibrate_through_a_file(CALIBRATION_ITERATIVE, &calibration);
    CHECK_OK(calibration_make(&calibration, "under", &made, &fault), &fault);
    outputs_of(load, RUN, output);
    outputs_of(nothing, ZERO, zero);
    for (size_t i = 0; i < LOAD_COUNT; i++)
        output[i] -= zero[i];
    CHECK(balance_loads_at(&made, output, RUN, ZERO, found) == OUTCOME_OK);
    for (size_t i = 0; i < LOAD_COUNT; i++)
        CHECK_NEAR(found[i], load[i], 1e-9 * rated[i], "the manufactured balance");
    CHECK(balance_loads(&made, output, found) == OUTCOME_OK);
    CHECK(fabs(found[2] - load[2]) > 1e-3 * rated[2]); /* the terms are not idle */
    CHECK(balance_loads_at(&made, output, (double)NAN, ZERO, found) == OUTCOME_NOT_FINITE);
    CHECK(balance_loads_at(&made, output, RUN, (double)NAN, found) == OUTCOME_NOT_FINITE);
}

/* The zero stands at the reference, where the outputs of no load are 0. */
static void a_direct_one_gives_the_loads_at_a_third_temperature(void)
{
    static const double output[LOAD_COUNT] = {0.3, -0.2, -0.7, 0.15, -0.4, 0.22};
    double load[LOAD_COUNT], found[LOAD_COUNT];
    struct calibration calibration;
    struct balance_calibration made;
    struct fault fault;
    calibrate_through_a_file(CALIBRATION_DIRECT, &calibration);
    CHECK_OK(calibration_make(&calibration, "under", &made, &fault), &fault);
    loads_of(output, RUN, load);
    CHECK(balance_loads_at(&made, output, RUN, MEAN, found) == OUTCOME_OK);
    for (size_t i = 0; i < LOAD_COUNT; i++)
        CHECK_NEAR(found[i], load[i], 1e-9 * rated[i], "the manufactured balance");
}

/* R = F/1000 + 0.1 (F/1000)^2 of Fz: a car of 3000 N hangs on the balance at the zero. 500 N more move
 * the output by -0.5 + 0.1 (3.5^2 - 3^2) = -0.175. */
static void a_heavy_weight_stands_elsewhere_on_the_curve(void)
{
    struct balance_calibration made = {.is_iterative = 1};
    struct balance_reading zero = {.output = {0, 0, -3 + 0.1 * 9, 0, 0, 0}};
    struct balance_reading point = {.output = {0, 0, -3.5 + 0.1 * 12.25, 0, 0, 0}};
    double found[LOAD_COUNT];
    for (int i = 0; i < LOAD_COUNT; i++) {
        made.iterative.rated[i] = 1000;
        made.iterative.coefficient[i][i] = 1;
    }
    made.iterative.coefficient[2][balance_term_index(TERM_SQUARE, 2, 2)] = 0.1;
    CHECK(balance_iterative_prepare(&made.iterative) == OUTCOME_OK);
    CHECK(balance_loads_between(&made, &point, &zero, found) == OUTCOME_OK);
    CHECK(fabs(found[2] + 500) > 100); /* subtracted first: the wrong place on the curve */
    made.from_natural_zero = 1;
    CHECK(balance_loads_between(&made, &point, &zero, found) == OUTCOME_OK);
    CHECK_NEAR(found[2], -500, 1e-6, "the manufactured balance; the iteration stops at 1e-12");
    zero.output[2] = (double)NAN;
    CHECK(balance_loads_between(&made, &point, &zero, found) == OUTCOME_NOT_FINITE);
}

/* The fixture's second tap, made the balance's temperature. */
static void open_night(struct night_fixture *fixture, double temperature, double load[LOAD_COUNT])
{
    static const double nothing[LOAD_COUNT] = {0};
    struct fixture_point zero = {.front = 0.02, .rear = 0.04, .tap = {0, ZERO}};
    struct fixture_point wind = {
        .rise = 3000, .front = 0.02, .rear = 0.04, .tap = {0, temperature}};
    struct calibration calibration;
    struct fault fault;
    calibrate_through_a_file(CALIBRATION_ITERATIVE, &calibration);
    fixture_open(fixture);
    CHECK_OK(calibration_store(fixture->store, "under", "b.csv", "mV/V", &calibration, &fault),
             &fault);
    fixture_outputs(0.9, 2, 0.9, load);
    for (size_t i = 0; i < LOAD_COUNT; i++)
        load[i] *= 1000;
    outputs_of(nothing, ZERO, zero.output);
    outputs_of(load, temperature, wind.output);
    fixture_add_run(fixture, &(struct fixture_run){.run = "z1", .kind = "zero", .start = 0});
    fixture_add_point(fixture, "z1", "P1", 0, &zero);
    fixture_add_run(fixture,
                    &(struct fixture_run){
                        .run = "r1", .kind = "wind_on", .configuration = "base", .start = 50});
    fixture_add_point(fixture, "r1", "P1", 50, &wind);
    fixture_execute(fixture,
                    "UPDATE channel SET role = 'balance_temperature', tap = NULL WHERE tap = 'T2'");
}

static void reduce(struct night_fixture *fixture)
{
    struct reduce_summary summary;
    struct fault fault;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
}

static void a_run_at_a_third_temperature_has_its_loads(void)
{
    struct night_fixture fixture;
    double load[LOAD_COUNT];
    open_night(&fixture, RUN, load);
    reduce(&fixture);
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        char sql[200];
        (void)snprintf(
            sql, sizeof sql,
            "SELECT value FROM ledger WHERE run = 'r1' AND step = 'balance' AND quantity "
            "= '%s'",
            calibration_load_name(i));
        CHECK_NEAR(fixture_number(&fixture, sql), load[i], 1e-9 * rated[i],
                   "the manufactured balance");
    }
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = "
                                        "'beyond-temperature'"),
               0, 0, "301 K lies between 288 and 304 K");
    fixture_close(&fixture);
}

static void a_run_from_the_natural_zero_is_read_as_logged(void)
{
    struct night_fixture fixture;
    struct balance_calibration made;
    struct fault fault;
    double load[LOAD_COUNT];
    open_night(&fixture, RUN, load);
    CHECK_OK(calibration_read(fixture.store, "under", &made, &fault), &fault);
    CHECK(made.from_natural_zero == 0);
    fixture_execute(&fixture, "UPDATE calibration_file SET from_natural_zero = 1");
    CHECK_OK(calibration_read(fixture.store, "under", &made, &fault), &fault);
    CHECK(made.from_natural_zero == 1);
    reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM ledger WHERE run = 'r1' AND step = "
                                        "'balance' AND quantity = 'Fz'"),
               load[2], 1e-9 * rated[2], "the manufactured balance");
    fixture_close(&fixture);
}

static void a_temperature_beyond_the_calibration_is_flagged(void)
{
    struct night_fixture fixture;
    double load[LOAD_COUNT];
    open_night(&fixture, 307.5, load);
    reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, "SELECT run || '/' || point || ' ' || state || ' ' || detail "
                                      "FROM flag WHERE rule = 'beyond-temperature'"),
               "r1/P1 flagged the balance is at 307.50 K, calibrated from 288.00 to 304.00 K");
    fixture_close(&fixture);
}

static void a_run_without_the_temperature_is_refused(void)
{
    struct night_fixture fixture;
    double load[LOAD_COUNT];
    open_night(&fixture, RUN, load);
    fixture_execute(&fixture, "UPDATE channel SET role = 'other' WHERE role = "
                              "'balance_temperature' AND run = 'r1'");
    reduce(&fixture);
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE run = 'r1' AND state = "
                                          "'refused'"),
                   "has terms in its temperature and the logs hold none");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(downforce_coefficient) FROM point_result"), 0,
               0, "no number");
    fixture_close(&fixture);
}

CU_TestInfo balance_temperature_tests[] = {
    {"an iterative one gives the loads at a third temperature",
     an_iterative_one_gives_the_loads_at_a_third_temperature},
    {"a direct one gives the loads at a third temperature",
     a_direct_one_gives_the_loads_at_a_third_temperature},
    {"a run at a third temperature has its loads", a_run_at_a_third_temperature_has_its_loads},
    {"a run from the natural zero is read as logged",
     a_run_from_the_natural_zero_is_read_as_logged},
    {"a temperature beyond the calibration is flagged",
     a_temperature_beyond_the_calibration_is_flagged},
    {"a run without the temperature is refused", a_run_without_the_temperature_is_refused},
    {"a heavy weight stands elsewhere on the curve", a_heavy_weight_stands_elsewhere_on_the_curve},
    CU_TEST_INFO_NULL};
