/* test_explain.c - what `lapwing explain` says, and what it does not claim. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/explain.h"
#include "reduce/explain_command.h"
#include "reduce/pipeline.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

static void open_night(struct night_fixture *fixture)
{
    struct reduce_summary summary;
    struct fault fault;
    fixture_open(fixture);
    fixture_add_zero(fixture, "z1", 0, 0);
    fixture_add_wind(fixture, "a1", "base", 1000, 3.000);
    fixture_add_wind(fixture, "b1", "wing", 2000, 3.040);
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
}

static void reduce_again(struct night_fixture *fixture)
{
    struct reduce_summary summary;
    struct fault fault;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
}

/* The explanation; "" when the status is not the one that is wanted. */
static const char *explain(struct night_fixture *fixture, const char *run, const char *point,
                           const char *symbol, enum status wanted, struct key_text *text,
                           struct fault *fault)
{
    const struct explain_request request = {run, point, symbol, 0};
    CHECK(explain_number(fixture->store, &fixture->campaign, &request, text, fault) == wanted);
    return text->text == NULL ? "" : text->text;
}

static void numbers_are_written_plainly(void)
{
    static const struct {
        double value;
        const char *unit, *text;
    } cases[] = {{-0.0, "Pa", "0 Pa"},
                 {1.5, "1", "1.5"},
                 {-2.25, "", "-2.25"},
                 {0, "", "0"},
                 {(double)NAN, "N", "n/a"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct key_text text = {NULL, 0, 0, 0};
        explain_say_number(&text, cases[i].value, 6, cases[i].unit);
        CHECK_TEXT(text.text, cases[i].text);
        key_text_end(&text);
    }
}

/* The point comes before what is asked of it; in any other order nothing is opened. */
static void arguments_have_one_order(void)
{
    static const struct {
        const char *arguments[5];
        int is_understood;
    } cases[] = {
        {{"explain", "R1/1", "CL"}, 1},
        {{"explain", "R1/1", "CL", "--inputs"}, 1},
        {{"explain", "R1/1", "--trace", "R3"}, 1},
        {{"explain", "--trace", "R3", "R1/1"}, 0},
        {{"explain", "--inputs", "R1/1", "CL"}, 0},
        {{"explain", "R1/1", "--inputs", "CL"}, 0},
        {{"explain", "R1/1", "--trace", "--inputs"}, 0},
        {{"explain", "R1/1", "--trace"}, 0},
        {{"explain", "R1/1", "--trace", "R3", "--inputs"}, 0},
        {{"explain", "R1/1"}, 0},
    };
    const struct common_options common = {.folder = "/nowhere/at/all"};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char room[5][16];
        char *arguments[6] = {NULL};
        struct fault fault = {.status = OK};
        int n = 0;
        for (; n < 5 && cases[i].arguments[n] != NULL; n++) {
            (void)snprintf(room[n], sizeof room[n], "%s", cases[i].arguments[n]);
            arguments[n] = room[n];
        }
        CHECK(explain_command.run(&common, n, arguments, &fault) != 0);
        CHECK_CONTAINS(fault.text,
                       cases[i].is_understood ? "/nowhere/at/all" : "explain takes RUN/POINT and");
    }
}

static void a_target_names_its_point(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    open_night(&fixture);
    CHECK_CONTAINS(explain(&fixture, "a1", "low", "CL", OK, &text, &fault),
                   "CL of run a1 point P1\n");
    key_text_end(&text);
    (void)explain(&fixture, "a1", "none such", "CL", NOT_FOUND, &text, &fault);
    CHECK_CONTAINS(fault.text, "run a1 has no point 'none such'");
    CHECK_CONTAINS(fault.text, "its points are P1");
    key_text_end(&text);
    /* A label goes before a target of the same name. */
    fixture_execute(&fixture, "UPDATE target_result SET target = 'P1' WHERE run = 'b1'");
    CHECK_CONTAINS(explain(&fixture, "b1", "P1", "CL", OK, &text, &fault), "run b1 point P1\n");
    key_text_end(&text);
    fixture_close(&fixture);
}

static void a_wind_off_run_is_called_what_it_is(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    open_night(&fixture);
    (void)explain(&fixture, "z1", "Z", "CL", NOT_FOUND, &text, &fault);
    CHECK_CONTAINS(fault.text, "run z1 is a zero run");
    CHECK_CONTAINS(fault.text, "no coefficients");
    key_text_end(&text);
    fixture_execute(&fixture, "UPDATE run SET kind = 'weight_tare' WHERE run = 'z1'");
    (void)explain(&fixture, "z1", "Z", "CL", NOT_FOUND, &text, &fault);
    CHECK_CONTAINS(fault.text, "run z1 is a weight tare run");
    key_text_end(&text);
    fixture_close(&fixture);
}

static void only_the_steps_taken_have_a_formula(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    open_night(&fixture);
    const char *got = explain(&fixture, "a1", "P1", "CL", OK, &text, &fault);
    CHECK_CONTAINS(got, "raw: CL = -Fz/(q A)\n");
    CHECK(strstr(got, "CLF = ") == NULL);
    CHECK(strstr(got, "linear in time") == NULL); /* one zero, held */
    CHECK_CONTAINS(got, "one zero held constant");
    CHECK_CONTAINS(got, "  blockage: declared none\n");
    CHECK(strstr(got, "; unit 1") == NULL);
    CHECK(strstr(got, " 1\n") == NULL);
    CHECK(strstr(got, " -0 ") == NULL && strstr(got, " +0\n") == NULL);
    key_text_end(&text);
    fixture.facility.corrected = CORRECTED_YES;
    reduce_again(&fixture);
    CHECK_CONTAINS(explain(&fixture, "a1", "P1", "balance", OK, &text, &fault),
                   "already corrected by the facility: buoyancy and blockage not applied\n");
    CHECK_CONTAINS(text.text, "corrected: balance = 100 CLF/CL\n");
    CHECK_CONTAINS(text.text, "; unit %.\n");
    key_text_end(&text);
    fixture_close(&fixture);
}

static void a_blockage_family_is_named(void)
{
    static char family[] = "area ratio";
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    open_night(&fixture);
    fixture.facility.blockage = family;
    fixture.facility.width = 10;
    fixture.facility.height = 5;
    reduce_again(&fixture);
    const char *got = explain(&fixture, "a1", "P1", "CL", OK, &text, &fault);
    CHECK_CONTAINS(got, "blockage: divided by q_c/q of the family 'area ratio', q_c/q = (1 - "
                        "S/C)^-2\n");
    CHECK_CONTAINS(got, "; q_c/q 1.085"); /* (1 - 2/50)^-2 = 1.08507 */
    key_text_end(&text);
    fixture_close(&fixture);
}

static void a_given_q_says_so(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    open_night(&fixture);
    fixture.facility.freestream = FREESTREAM_GIVEN;
    fixture_execute(&fixture,
                    "UPDATE channel SET role = 'dynamic_pressure' WHERE role = "
                    "'total_minus_static'; UPDATE run SET ingest_key = ingest_key || 'x'");
    reduce_again(&fixture);
    const char *got = explain(&fixture, "a1", "P1", "CL", OK, &text, &fault);
    CHECK_CONTAINS(got, "freestream: q as the log gives it, M^2 = q/(0.7 p)");
    CHECK_CONTAINS(got, "air (CIPM-2007)\n");
    key_text_end(&text);
    fixture_close(&fixture);
}

static void coefficients_of_the_file_say_so(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    open_night(&fixture);
    fixture_execute(
        &fixture,
        "UPDATE channel SET role = 'drag_coefficient' WHERE role = 'balance_output_1';"
        "UPDATE channel SET role = 'downforce_coefficient' WHERE role = 'balance_output_3';"
        "UPDATE channel SET role = 'pitch_coefficient' WHERE role = 'balance_output_5';"
        "UPDATE channel SET role = 'belt_speed' WHERE role LIKE 'balance_output_%';"
        "UPDATE run SET ingest_key = ingest_key || 'x'");
    reduce_again(&fixture);
    const char *got = explain(&fixture, "a1", "P1", "CL", OK, &text, &fault);
    CHECK_CONTAINS(got, "raw: coefficients as the facility's file gives them");
    CHECK(strstr(got, "\nZero\n") == NULL);
    CHECK(strstr(got, "\nWeight tare\n") == NULL);
    CHECK(strstr(got, "\nBalance ") == NULL);
    key_text_end(&text);
    fixture_close(&fixture);
}

static void no_uncertainty_is_not_called_one(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    open_night(&fixture);
    CHECK_CONTAINS(explain(&fixture, "a1", "P1", "CL", OK, &text, &fault),
                   "(random, within the point)");
    key_text_end(&text);
    fixture_execute(&fixture, "UPDATE point_result SET downforce_coefficient_u = NULL;"
                              "UPDATE target_result SET downforce_coefficient_u = NULL");
    const char *got = explain(&fixture, "a1", "P1", "CL", OK, &text, &fault);
    CHECK(strstr(got, "(random, within the point)") == NULL);
    CHECK(strstr(got, "added by the step") == NULL);
    CHECK_CONTAINS(got, "compared there");
    key_text_end(&text);
    fixture_close(&fixture);
}

static void one_line_is_called_one_line(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    open_night(&fixture);
    fixture_execute(&fixture,
                    "UPDATE point SET first_line = 3, last_line = 3, rows = 1, duration_s = 0");
    CHECK_CONTAINS(explain(&fixture, "a1", "P1", "CL", OK, &text, &fault),
                   "point P1: line 3 of the first log, 1 row, mean time");
    key_text_end(&text);
    fixture_close(&fixture);
}

static void a_refused_point_says_which_flag_refused_it(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    open_night(&fixture);
    fixture_execute(&fixture, "UPDATE run SET state = 'quarantined' WHERE run = 'z1'");
    reduce_again(&fixture);
    const char *got = explain(&fixture, "a1", "P1", "CL", OK, &text, &fault);
    CHECK_CONTAINS(got, "no number: the point is refused by zero-missing: there is no usable zero");
    CHECK_CONTAINS(got, "Target\n  none: the point is refused\n");
    CHECK(strstr(got, "no declared target") == NULL);
    key_text_end(&text);
    CHECK_CONTAINS(explain(&fixture, "a1", "P1", "Cp:T1", OK, &text, &fault),
                   "no pressure coefficient; the point is refused by zero-missing");
    key_text_end(&text);
    fixture_close(&fixture);
}

static void a_point_off_all_targets_says_so(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    open_night(&fixture);
    fixture.targets[0].coordinate[ATTITUDE_FRONT_RIDE_HEIGHT] += 1;
    fixture.targets[1].coordinate[ATTITUDE_FRONT_RIDE_HEIGHT] += 1;
    reduce_again(&fixture);
    CHECK_CONTAINS(explain(&fixture, "a1", "P1", "CL", OK, &text, &fault),
                   "Target\n  the point belongs to no declared target\n");
    key_text_end(&text);
    fixture_close(&fixture);
}

CU_TestInfo explain_tests[] = {
    {"numbers are written plainly", numbers_are_written_plainly},
    {"arguments have one order", arguments_have_one_order},
    {"a target names its point", a_target_names_its_point},
    {"a wind-off run is called what it is", a_wind_off_run_is_called_what_it_is},
    {"only the steps taken have a formula", only_the_steps_taken_have_a_formula},
    {"a blockage family is named", a_blockage_family_is_named},
    {"a given q says so", a_given_q_says_so},
    {"coefficients of the file say so", coefficients_of_the_file_say_so},
    {"no uncertainty is not called one", no_uncertainty_is_not_called_one},
    {"one line is called one line", one_line_is_called_one_line},
    {"a refused point says which flag refused it", a_refused_point_says_which_flag_refused_it},
    {"a point off all targets says so", a_point_off_all_targets_says_so},
    CU_TEST_INFO_NULL};
