/* test_stage_refusals.c - runs and taps that the stage of points does not give numbers for. */
#include <CUnit/CUnit.h>

#include "reduce/pipeline.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

static void reduce(struct night_fixture *fixture, struct reduce_summary *summary)
{
    struct fault fault;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, summary, &fault), &fault);
}

static void a_frozen_tap_and_an_impossible_one_fail(void)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    struct fixture_point values = {
        .rise = 3000, .front = 0.02, .rear = 0.04, .tap = {3500, -600}, .tap_is_frozen = 1000};
    fixture_outputs(0.9, 3, 1.35, values.output);
    fixture_add_run(&fixture,
                    &(struct fixture_run){
                        .run = "r1", .kind = "wind_on", .configuration = "base", .start = 50});
    fixture_add_point(&fixture, "r1", "P1", 50, &values);
    reduce(&fixture, &summary);
    CHECK_TEXT(fixture_text(&fixture, "SELECT group_concat(state) FROM tap_result"),
               "failed,failed");
    CHECK_TEXT(fixture_text(&fixture,
                            "SELECT group_concat(subject || ' ' || rule, ', ') FROM (SELECT "
                            "* FROM flag WHERE rule LIKE 'tap-%' ORDER BY subject)"),
               "T1 tap-impossible, T2 tap-frozen");
    CHECK_TEXT(fixture_text(&fixture, "SELECT rule FROM flag WHERE rule LIKE 'zero-%'"),
               "zero-after-missing");
    fixture_close(&fixture);
}

/* The logger of a slow scanner repeats a value for longer than the point: 1.2 of its usual holds. */
static void a_tap_that_is_held_is_not_frozen(void)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    struct fixture_point values = {
        .rise = 3000, .front = 0.02, .rear = 0.04, .tap = {-500, -600}, .tap_is_frozen = 1.2};
    fixture_outputs(0.9, 3, 1.35, values.output);
    fixture_add_run(&fixture,
                    &(struct fixture_run){
                        .run = "r1", .kind = "wind_on", .configuration = "base", .start = 50});
    fixture_add_point(&fixture, "r1", "P1", 50, &values);
    reduce(&fixture, &summary);
    CHECK_TEXT(
        fixture_text(&fixture, "SELECT group_concat(rule) FROM flag WHERE rule LIKE 'tap-f%'"), "");
    fixture_close(&fixture);
}

static void a_run_without_a_zero_is_refused(void)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    fixture_open(&fixture);
    fixture_add_wind(&fixture, "r1", "base", 50, 3);
    reduce(&fixture, &summary);
    CHECK(summary.runs_refused == 1);
    CHECK_TEXT(fixture_text(&fixture, "SELECT state FROM point_coefficient"), "refused");
    CHECK_TEXT(fixture_text(&fixture, "SELECT rule FROM flag WHERE run = 'r1'"), "zero-missing");
    fixture_close(&fixture);
}

static void two_kinds_of_loads_are_refused_by_name(void)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_add_wind(&fixture, "r1", "base", 50, 3);
    fixture_execute(
        &fixture,
        "UPDATE channel SET role = 'drag_coefficient' WHERE run = 'r1' AND position = 12");
    reduce(&fixture, &summary);
    const char *detail = fixture_text(&fixture, "SELECT detail FROM flag WHERE run = 'r1'");
    CHECK_CONTAINS(detail, "balance outputs");
    CHECK_CONTAINS(detail, "coefficients of the facility");
    fixture_close(&fixture);
}

CU_TestInfo stage_refusals_tests[] = {
    {"a frozen tap and an impossible one fail", a_frozen_tap_and_an_impossible_one_fail},
    {"a tap that is held is not frozen", a_tap_that_is_held_is_not_frozen},
    {"a run without a zero is refused", a_run_without_a_zero_is_refused},
    {"two kinds of loads are refused by name", two_kinds_of_loads_are_refused_by_name},
    CU_TEST_INFO_NULL};
