/* test_tare_fit.c - a rigid weight and what it leaves, taken off a run through the whole point stage.
 *
 * The weight's loads are worked out here by statics: a balance that pitches with the car, its centre of
 * gravity in the car's own axes. Numbers are invented.                                              */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/explain.h"
#include "reduce/pipeline.h"
#include "tests/check.h"
#include "tests/night_fixture.h"
#include "tests/program.h"

static const double weight = 812 * 9.80665; /* N: 812 kg */
static const double centre[3] = {0.05, -0.02, 0.31};
static const double reference[3] = {0.03, 0.01, -0.35}; /* the balance's, as declared below */
static const double wheelbase = 2.5;
static const double aero[6] = {2300, -20, -8700, 310, 1900, -110};
static const double heights[][2] = {
    {0.010, 0.030}, {0.010, 0.090}, {0.040, 0.030}, {0.040, 0.090}, {0.025, 0.060}};
static const double links = 900; /* N/m: what suspension links carry, on Fz by the front height */

enum { TARES = 5 };

/* Loads on the balance, axes parallel to the car's: gravity leans forward by the sine of the pitch. */
static void weigh(double front, double rear, double load[6])
{
    double pitch = asin((rear - front) / wheelbase);
    const double f[3] = {-weight * sin(pitch), 0, -weight * cos(pitch)};
    double r[3];
    for (int i = 0; i < 3; i++)
        r[i] = centre[i] - reference[i];
    memcpy(load, f, sizeof f);
    load[3] = r[1] * f[2] - r[2] * f[1];
    load[4] = r[2] * f[0] - r[0] * f[2];
    load[5] = r[0] * f[1] - r[1] * f[0];
}

/* What the balance reads against a zero that was taken at the first attitude; its z is down and its My
 * left-handed. */
static void read_balance(double front, double rear, double stiffness, const double extra[6],
                         double output[6])
{
    static const double sense[6] = {1, 1, -1, 1, -1, 1};
    double now[6], then[6];
    weigh(front, rear, now);
    weigh(heights[0][0], heights[0][1], then);
    now[2] += stiffness * (front - heights[0][0]);
    for (int i = 0; i < 6; i++)
        output[i] = sense[i] * (now[i] - then[i] + extra[i]) / 1000;
}

static void open_night(struct night_fixture *fixture, double stiffness, double scales)
{
    static const double nothing[6] = {0};
    fixture_open(fixture);
    struct facility *facility = &fixture->facility;
    fixture->campaign.car.model_scale = 1;
    facility->weight_tare = TARE_FIT;
    facility->balance_follows = "pitch, yaw";
    facility->scales_weight = scales;
    facility->tare_tolerance[0] = facility->tare_tolerance[1] = 1.5e-3;
    facility->tare_tolerance[2] = 0.01;
    memcpy(fixture->balance.origin, reference, sizeof reference);
    fixture->balance.axis_sign[2] = -1;
    fixture->balance.moment_sign[1] = -1;
    fixture_add_zero(fixture, "z1", 50, 0);
    fixture_add_run(fixture, &(struct fixture_run){
                                 .run = "t1", .kind = "weight_tare", .start = 90, .zero = "z1"});
    for (int i = 0; i < TARES; i++) {
        struct fixture_point tare = {.front = heights[i][0], .rear = heights[i][1]};
        char name[16];
        (void)snprintf(name, sizeof name, "T%d", i);
        read_balance(tare.front, tare.rear, stiffness, nothing, tare.output);
        fixture_add_point(fixture, "t1", name, 90 + i, &tare);
    }
    fixture_add_run(
        fixture,
        &(struct fixture_run){
            .run = "r1", .kind = "wind_on", .configuration = "base", .start = 140, .zero = "z1"});
}

static void add_wind(struct night_fixture *fixture, const char *point, double front, double rear,
                     double stiffness)
{
    struct fixture_point values = {.rise = 3000, .front = front, .rear = rear, .tap = {-1500, 900}};
    read_balance(front, rear, stiffness, aero, values.output);
    fixture_add_point(fixture, "r1", point, 140, &values);
}

static void reduce(struct night_fixture *fixture)
{
    struct fault fault;
    struct reduce_summary summary;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
}

static double ledger(struct night_fixture *fixture, const char *step, const char *quantity)
{
    char sql[256];
    (void)snprintf(sql, sizeof sql,
                   "SELECT value FROM ledger WHERE point = 'P1' AND step = '%s' AND quantity = "
                   "'%s'",
                   step, quantity);
    return fixture_number(fixture, sql);
}

static double flags(struct night_fixture *fixture, const char *rule)
{
    char sql[160];
    (void)snprintf(sql, sizeof sql, "SELECT count(*) FROM flag WHERE rule = '%s'", rule);
    return fixture_number(fixture, sql);
}

static void check_aero(struct night_fixture *fixture, const char *step, double tolerance)
{
    static const char *const names[] = {"Fx", "Fy", "Fz", "Mx", "My", "Mz"};
    static const double sense[6] = {1, 1, -1, 1, -1, 1};
    for (int i = 0; i < 6; i++)
        CHECK_NEAR(ledger(fixture, step, names[i]), sense[i] * aero[i], tolerance,
                   "identity: what the wind was given to do");
}

/* Between the tare's points, where a lookup has nothing. */
static void the_weight_comes_off_between_the_tare_points(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 0, 812);
    add_wind(&fixture, "P1", 0.0181, 0.0523, 0);
    reduce(&fixture);
    check_aero(&fixture, "weight model", 1e-7);
    check_aero(&fixture, "weight tare", 1e-7);
    CHECK_RELATIVE(ledger(&fixture, "weight model", "W"), weight, 1e-9, "identity");
    CHECK_NEAR(ledger(&fixture, "weight model", "x_cg"), centre[0], 1e-6, "identity");
    CHECK_NEAR(ledger(&fixture, "weight model", "y_cg"), centre[1], 1e-6, "identity");
    CHECK_NEAR(ledger(&fixture, "weight model", "z_cg"), centre[2], 1e-6, "identity");
    CHECK_RELATIVE(fixture_number(&fixture, "SELECT weight_n FROM weight_fit"), weight, 1e-9,
                   "identity");
    CHECK_NEAR(fixture_number(&fixture, "SELECT cg_z_m FROM weight_fit"), centre[2], 1e-6,
               "identity");
    CHECK(fixture_number(&fixture, "SELECT condition_number FROM weight_fit") > 10);
    CHECK(flags(&fixture, "scales-weight") == 0 && flags(&fixture, "weight-not-told") == 0);
    CHECK(flags(&fixture, "tare-residual") == 0);
    fixture_close(&fixture);
}

/* Links that carry weight with the ride height are no rigid weight: linear, so interpolated to what the
 * sine of the pitch, part of which they are taken for, bends between the points. */
static void what_the_weight_leaves_is_interpolated(void)
{
    struct night_fixture fixture;
    open_night(&fixture, links, 0);
    add_wind(&fixture, "P1", 0.0181, 0.0523, links);
    reduce(&fixture);
    check_aero(&fixture, "weight tare", 1e-3);
    CHECK(fabs(ledger(&fixture, "weight model", "Fz") + aero[2]) > 1);
    CHECK(fixture_number(&fixture, "SELECT residual_fz_n FROM weight_fit") > 1);
    CHECK(isnan(fixture_number(&fixture, "SELECT scales_weight_n FROM weight_fit")));
    fixture_close(&fixture);
}

static void outside_the_sweep_there_is_no_tare(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 0, 0);
    add_wind(&fixture, "P1", 0.0401, 0.0901, 0); /* beyond a corner, within its tolerance */
    add_wind(&fixture, "P2", 0.0420, 0.0800, 0);
    reduce(&fixture);
    check_aero(&fixture, "weight tare", 1e-7);
    CHECK_TEXT(fixture_text(&fixture, "SELECT state FROM point_coefficient WHERE point = 'P2'"),
               "refused");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE point = 'P2' AND rule = "
                                          "'tare-not-at-attitude'"),
                   "outside what the tare swept");
    fixture_close(&fixture);
}

static void the_weight_is_held_against_the_scales(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 0, 815);
    add_wind(&fixture, "P1", 0.02, 0.04, 0);
    reduce(&fixture);
    CHECK(flags(&fixture, "scales-weight") == 1);
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM flag WHERE rule = 'scales-weight'"),
               812.0 / 815 - 1, 1e-9, "by hand: 812 kg fitted, 815 kg on the scales");
    fixture.facility.gravity = 9.80665 * 812 / 815; /* a place where 815 kg weigh as much */
    reduce(&fixture);
    CHECK(flags(&fixture, "scales-weight") == 0);
    fixture_close(&fixture);
}

/* A level balance: the sweep tells no weight, and the loads are tared all the same. */
static void a_level_balance_is_told_by_name(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 0, 0);
    fixture.facility.balance_follows = "nothing";
    add_wind(&fixture, "P1", 0.0181, 0.0523, 0);
    reduce(&fixture);
    const char *detail =
        fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'weight-not-told'");
    CHECK_CONTAINS(detail, "W is not told");
    CHECK_CONTAINS(detail, "z of the centre of gravity is not told");
    CHECK_CONTAINS(detail, "the sweep spans pitch 2.");
    CHECK(isnan(fixture_number(&fixture, "SELECT weight_n FROM weight_fit")));
    CHECK_NEAR(ledger(&fixture, "weight tare", "Fx"), aero[0], 3,
               "interpolated over pitch, where the sine is straight to this");
    fixture_close(&fixture);
}

static void explain_tells_the_weight(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    const struct explain_request request = {"r1", "P1", "CL", 0};
    open_night(&fixture, links, 812);
    add_wind(&fixture, "P1", 0.0181, 0.0523, links);
    reduce(&fixture);
    CHECK_OK(explain_number(fixture.store, &fixture.campaign, &request, &text, &fault), &fault);
    CHECK_CONTAINS(text.text, "rigid weight of 5 points: W ");
    CHECK_CONTAINS(text.text, "scales 7963 N");
    CHECK_CONTAINS(text.text, "condition number");
    CHECK_CONTAINS(text.text, "of the smallest worthwhile delta of");
    CHECK_CONTAINS(text.text, "weight model: minus a rigid weight's loads");
    key_text_end(&text);
    fixture_close(&fixture);
}

/* The demo's tunnel shares no code with the program: its car weighs 834 N (sample_runs/car.c), and the
 * height of its centre is that of sample_runs/tunnel.c; x is drowned in one degree of pitch. */
static void the_weight_of_the_demo_car_is_found(void)
{
    char path[64], out[PROGRAM_OUTPUT];
    CHECK(program_scratch(path));
    CHECK(program_shell(out,
                        "%s --copy --seed 1 --tap-rows 20 --out %s && sed -i 's/weight_tare: "
                        "lookup/weight_tare: "
                        "fit/' %s/campaign.yaml",
                        program_make_night(), path, path) == 0);
    CHECK(program_shell(out, "%s -q -C %s ingest; %s -q -C %s reduce", program_lapwing(), path,
                        program_lapwing(), path) == 0);
    CHECK(program_shell(out,
                        "sqlite3 %s/season.sqlite \"SELECT min(abs(weight_n - 834.0) < 3 * "
                        "weight_n_u AND weight_n_u < 0.5 AND abs(cg_z_m - 0.10) < 3 * cg_z_m_u AND "
                        "cg_z_m_u < 0.001 AND cg_x_m IS NULL), count(*) > 5 FROM weight_fit\"",
                        path) == 0);
    CHECK_TEXT(out, "1|1\n");
    program_remove(path);
}

CU_TestInfo tare_fit_tests[] = {
    {"the weight comes off between the tare points", the_weight_comes_off_between_the_tare_points},
    {"what the weight leaves is interpolated", what_the_weight_leaves_is_interpolated},
    {"outside the sweep there is no tare", outside_the_sweep_there_is_no_tare},
    {"the weight is held against the scales", the_weight_is_held_against_the_scales},
    {"a level balance is told by name", a_level_balance_is_told_by_name},
    {"explain tells the weight", explain_tells_the_weight},
    {"the weight of the demo car is found", the_weight_of_the_demo_car_is_found},
    CU_TEST_INFO_NULL};
