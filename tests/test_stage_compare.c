/* test_stage_compare.c - runs to deltas: mountings, brackets, verdicts, weighted values, maps. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/mountings.h"
#include "reduce/pipeline.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

static void reduce(struct night_fixture *fixture)
{
    struct fault fault;
    struct reduce_summary summary;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
}

static double main_delta(struct night_fixture *fixture, const char *configuration,
                         const char *column)
{
    char sql[200];
    (void)snprintf(sql, sizeof sql,
                   "SELECT %s FROM delta WHERE configuration = '%s' AND is_main = 1", column,
                   configuration);
    return fixture_number(fixture, sql);
}

static const char *main_text(struct night_fixture *fixture, const char *configuration,
                             const char *column)
{
    char sql[200];
    (void)snprintf(
        sql, sizeof sql,
        "SELECT coalesce(%s, 'none') FROM delta WHERE configuration = '%s' AND is_main = 1", column,
        configuration);
    return fixture_text(fixture, sql);
}

static void the_bracketed_delta_is_the_golden_one(void)
{
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_add_wind(&fixture, "a1", "base", 1000, 1.0000);
    fixture_add_wind(&fixture, "b", "wing", 2000, 1.0120);
    fixture_add_wind(&fixture, "a2", "base", 3000, 1.0040);
    reduce(&fixture);
    CHECK_NEAR(main_delta(&fixture, "wing", "delta"), 0.0100, 1e-12,
               "bracketed delta by hand: 1.0120 - (1.0000 + 1.0040)/2");
    CHECK_NEAR(fixture_number(&fixture,
                              "SELECT baseline_here FROM observation WHERE configuration = "
                              "'wing' AND quantity = 'CL' AND target = 'low'"),
               1.0020, 1e-12, "interpolation by hand");
    CHECK_TEXT(main_text(&fixture, "wing", "verdict"), "none");
    CHECK_TEXT(main_text(&fixture, "wing", "reason"),
               "no repeats, in this entry or in the season: no interval");
    CHECK(isnan(main_delta(&fixture, "wing", "half_width")));
    fixture_close(&fixture);
}

/* A night of five returns and two mountings of wing; noise +-0.001 in CL, delta of wing about gain. */
static void open_night(struct night_fixture *fixture, double gain, const char *second)
{
    fixture_open(fixture);
    fixture_add_zero(fixture, "z1", 0, 0);
    fixture_add_wind(fixture, "a1", "base", 1000, 3.000);
    fixture_add_wind(fixture, "b1", "wing", 2000, 3.0005 + gain);
    fixture_add_wind(fixture, "a2", "base", 3000, 3.001);
    fixture_add_wind(fixture, "b2", second, 4000, 2.9995 + gain);
    fixture_add_wind(fixture, "a3", "base", 5000, 2.999);
    fixture_add_wind(fixture, "c1", "floor", 6000, 3.001);
    fixture_add_wind(fixture, "a4", "base", 7000, 3.000);
}

static void two_mountings_give_a_verdict_by_the_declared_direction(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 0.040, "wing");
    reduce(&fixture);
    CHECK_TEXT(main_text(&fixture, "wing", "verdict"), "gain");
    CHECK_CONTAINS(main_text(&fixture, "wing", "reason"), "degrees of freedom");
    CHECK_NEAR(main_delta(&fixture, "wing", "mountings"), 2, 0, "two mountings");
    CHECK_NEAR(main_delta(&fixture, "wing", "baseline_mountings"), 4, 0, "four returns");
    double half = main_delta(&fixture, "wing", "half_width");
    CHECK_NEAR(half, main_delta(&fixture, "wing", "multiplier * standard_uncertainty"), 1e-12,
               "identity");
    CHECK_NEAR(main_delta(&fixture, "wing", "upper - delta"), half, 1e-12, "identity");
    /* The simultaneous interval of two deltas is wider than the single one of the same noise. */
    CHECK(main_delta(&fixture, "wing", "multiplier") >
          fixture_number(&fixture, "SELECT multiplier FROM delta WHERE configuration = 'wing' AND "
                                   "quantity = 'CLF' AND target = 'low'"));
    CHECK_NEAR(fixture_number(&fixture,
                              "SELECT count(*) FROM delta WHERE is_main = 0 AND verdict IS "
                              "NOT NULL"),
               0, 0, "no verdict words outside the main measure");
    fixture_close(&fixture);
}

static void a_loss_and_a_change_that_does_not_matter_read_so(void)
{
    struct night_fixture fixture;
    open_night(&fixture, -0.040, "wing");
    reduce(&fixture);
    CHECK_TEXT(main_text(&fixture, "wing", "verdict"), "loss");
    fixture_close(&fixture);
    open_night(&fixture, 0, "wing");
    reduce(&fixture);
    CHECK_TEXT(main_text(&fixture, "wing", "verdict"), "no change that matters");
    fixture_close(&fixture);
}

static void one_mounting_has_an_interval_and_no_verdict(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 0.040, "wing");
    reduce(&fixture);
    CHECK_TEXT(main_text(&fixture, "floor", "verdict"), "none");
    CHECK_TEXT(main_text(&fixture, "floor", "reason"),
               "parts not refitted: no verdict (1 mounting)");
    CHECK(isfinite(main_delta(&fixture, "floor", "half_width")));
    CHECK_TEXT(fixture_text(&fixture, "SELECT subject FROM flag WHERE rule = 'not-refitted'"),
               "floor");
    fixture_close(&fixture);
}

static void the_same_mounting_is_not_counted_twice(void)
{
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_add_wind(&fixture, "a1", "base", 1000, 3.000);
    fixture_add_wind(&fixture, "b1", "wing", 2000, 3.040);
    fixture_add_wind(&fixture, "b2", "wing", 2500, 3.042);
    fixture_add_wind(&fixture, "a2", "base", 3000, 3.001);
    fixture_add_wind(&fixture, "c1", "floor", 4000, 3.001);
    fixture_add_wind(&fixture, "a3", "base", 5000, 2.999);
    reduce(&fixture);
    CHECK_NEAR(main_delta(&fixture, "wing", "mountings"), 1, 0,
               "nothing was refitted between them");
    CHECK_TEXT(fixture_text(&fixture,
                            "SELECT runs FROM observation WHERE configuration = 'wing' AND "
                            "quantity = 'CL' AND target = 'low'"),
               "b1, b2");
    CHECK_NEAR(fixture_number(&fixture,
                              "SELECT value FROM observation WHERE configuration = 'wing' "
                              "AND quantity = 'CL' AND target = 'low'"),
               3.041, 1e-12, "identity: mean of the two runs");
    /* A label says that the wing was refitted all the same. */
    fixture_execute(&fixture, "UPDATE run SET mounting = 'second' WHERE run = 'b2'");
    reduce(&fixture);
    CHECK_NEAR(main_delta(&fixture, "wing", "mountings"), 2, 0, "labels rule");
    fixture_close(&fixture);
}

static void labels_and_order_number_the_mountings(void)
{
    struct run_row runs[7];
    const struct run_row *order[7];
    size_t mounting[7];
    static char *const names[7] = {"a", "a", "b", "a", "a", "a", "b"};
    static char *const labels[7] = {"", "", "x", "", "m", "", "x"};
    static const size_t want[7] = {1, 1, 1, 2, 3, 3, 1};
    memset(runs, 0, sizeof runs);
    for (int i = 0; i < 7; i++) {
        runs[i].configuration = names[i];
        runs[i].mounting = labels[i];
        order[i] = &runs[i];
    }
    mountings_number(order, 7, mounting);
    for (int i = 0; i < 7; i++)
        CHECK(mounting[i] == want[i]);
}

static void a_configuration_outside_the_returns_is_unbracketed(void)
{
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_add_wind(&fixture, "a1", "base", 1000, 3.000);
    fixture_add_wind(&fixture, "c1", "floor", 1500, 3.000);
    fixture_add_wind(&fixture, "a2", "base", 2000, 3.001);
    fixture_add_wind(&fixture, "b1", "wing", 3000, 3.040);
    reduce(&fixture);
    CHECK(isnan(main_delta(&fixture, "wing", "delta")));
    CHECK_TEXT(main_text(&fixture, "wing", "reason"), "not bracketed by baseline returns");
    CHECK_TEXT(fixture_text(&fixture, "SELECT subject || ' ' || state FROM flag WHERE rule = "
                                      "'unbracketed'"),
               "wing refused");
    fixture_close(&fixture);
}

static void one_of_each_gives_a_delta_without_an_interval(void)
{
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_add_wind(&fixture, "a1", "base", 1000, 3.000);
    fixture_add_wind(&fixture, "b1", "wing", 2000, 3.040);
    reduce(&fixture);
    CHECK_NEAR(main_delta(&fixture, "wing", "delta"), 0.040, 1e-12, "by hand: 3.040 - 3.000");
    CHECK(isnan(main_delta(&fixture, "wing", "half_width")));
    CHECK(isnan(main_delta(&fixture, "wing", "standard_uncertainty")));
    CHECK_TEXT(main_text(&fixture, "wing", "verdict"), "none");
    CHECK_TEXT(main_text(&fixture, "wing", "method"), "");
    CHECK_TEXT(main_text(&fixture, "wing", "reason"),
               "baseline measured once and no earlier entry tells the noise: no interval");
    CHECK_TEXT(fixture_text(&fixture, "SELECT subject || ' ' || state FROM flag WHERE rule = "
                                      "'unbracketed'"),
               "wing flagged");
    fixture_close(&fixture);
}

static void add_high_point(struct night_fixture *fixture, const char *run, double time,
                           double downforce, double front)
{
    struct fixture_point values = {.rise = 3000, .front = 0.03, .rear = 0.05};
    fixture_outputs(0.8, downforce, front, values.output);
    fixture_add_point(fixture, run, "P2", time, &values);
}

static void the_weighted_balance_is_a_ratio_of_sums(void)
{
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_add_wind(&fixture, "a1", "base", 1000, 3.000);
    add_high_point(&fixture, "a1", 1010, 2, 0.8);
    fixture_add_wind(&fixture, "a2", "base", 2000, 3.000);
    reduce(&fixture);
    static const char sql[] =
        "SELECT value FROM observation WHERE target = 'weighted' AND quantity ="
        " 'balance'";
    CHECK_NEAR(fixture_number(&fixture, sql),
               100 * (0.75 * 1.35 + 0.25 * 0.8) / (0.75 * 3 + 0.25 * 2), 1e-10,
               "identity: 100 sum(w CLF)/sum(w CL)");
    CHECK_TEXT(fixture_text(&fixture, "SELECT run || ' ' || subject FROM flag WHERE rule = "
                                      "'attitude-not-measured'"),
               "a2 high");
    CHECK_NEAR(fixture_number(&fixture,
                              "SELECT count(*) FROM observation WHERE target = 'weighted' "
                              "AND quantity = 'CL'"),
               1, 0, "a run that misses a weighted target has no weighted value");
    fixture_close(&fixture);
}

static void the_pressure_map_takes_means_of_runs(void)
{
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_execute(&fixture,
                    "INSERT INTO tap VALUES ('T3',3,'T3',0.1,0.1,0,0,0,1,NULL,'floor',NULL)");
    fixture_add_wind(&fixture, "a1", "base", 1000, 3.0);
    fixture_add_wind(&fixture, "b1", "wing", 2000, 3.0);
    fixture_add_wind(&fixture, "a2", "base", 3000, 3.0);
    fixture_execute(&fixture, "DELETE FROM point WHERE run = 'a2'");
    struct fixture_point values = {
        .rise = 3000, .front = 0.02, .rear = 0.04, .tap = {-1700, -600}, .tap_is_frozen = 1000};
    fixture_outputs(0.9, 3, 1.35, values.output);
    fixture_add_point(&fixture, "a2", "P1", 3000, &values);
    reduce(&fixture);
    double q = 0.7 * 101325 * 5 * (pow(1 + 3000.0 / 101325, 2.0 / 7) - 1);
    CHECK_NEAR(fixture_number(&fixture,
                              "SELECT cp FROM map_tap WHERE configuration = 'base' AND tap "
                              "= 'T1'"),
               -1600 / q, 1e-12, "identity: mean of the two runs");
    CHECK_NEAR(fixture_number(&fixture, "SELECT delta_cp FROM map_tap WHERE configuration = 'wing' "
                                        "AND tap = 'T1'"),
               100 / q, 1e-12, "identity: -1500 against -1600");
    CHECK(isnan(fixture_number(&fixture, "SELECT delta_cp_u FROM map_tap WHERE configuration = "
                                         "'wing' AND tap = 'T1'")));
    CHECK_TEXT(fixture_text(&fixture, "SELECT not_tested FROM tap_change WHERE configuration = "
                                      "'wing' AND tap = 'T1' AND p_value IS NULL"),
               "mounted once: nothing tells what a refit changes");
    CHECK_NEAR(fixture_number(&fixture, "SELECT runs FROM map_tap WHERE configuration = 'base' AND "
                                        "tap = 'T2'"),
               1, 0, "a frozen tap does not count in its run");
    CHECK(isnan(fixture_number(&fixture, "SELECT cp FROM map_tap WHERE configuration = 'base' AND "
                                         "tap = 'T3'")));
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM map_triangle"), 0, 0,
               "two live taps bear no triangle");
    fixture_close(&fixture);
}

CU_TestInfo stage_compare_tests[] = {
    {"the bracketed delta is the golden one", the_bracketed_delta_is_the_golden_one},
    {"two mountings give a verdict by the declared direction",
     two_mountings_give_a_verdict_by_the_declared_direction},
    {"a loss and a change that does not matter read so",
     a_loss_and_a_change_that_does_not_matter_read_so},
    {"one mounting has an interval and no verdict", one_mounting_has_an_interval_and_no_verdict},
    {"the same mounting is not counted twice", the_same_mounting_is_not_counted_twice},
    {"labels and order number the mountings", labels_and_order_number_the_mountings},
    {"a configuration outside the returns is unbracketed",
     a_configuration_outside_the_returns_is_unbracketed},
    {"one of each gives a delta without an interval",
     one_of_each_gives_a_delta_without_an_interval},
    {"the weighted balance is a ratio of sums", the_weighted_balance_is_a_ratio_of_sums},
    {"the pressure map takes means of runs", the_pressure_map_takes_means_of_runs},
    CU_TEST_INFO_NULL};
