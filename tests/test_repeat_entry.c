/* test_repeat_entry.c - from points to how well they repeat in one entry. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>

#include "tests/check.h"
#include "tests/repeat_season.h"
#include "tests/season_look.h"

extern CU_TestInfo repeat_entry_tests[];

static double level(struct night_fixture *fixture, const char *quantity, const char *target,
                    const char *words, const char *column)
{
    char sql[300];
    (void)snprintf(sql, sizeof sql,
                   "SELECT %s FROM repeatability_entry WHERE quantity = '%s' AND target = '%s' AND "
                   "level = '%s'",
                   column, quantity, target, words);
    return fixture_number(fixture, sql);
}

static void open_run(struct night_fixture *fixture)
{
    fixture_open(fixture);
    fixture_add_zero(fixture, "z1", 0, 0);
    repeat_add_run(fixture, "a1", "base", 1000);
}

static void points_of_a_run_by_hand(void)
{
    struct night_fixture fixture;
    open_run(&fixture);
    repeat_add_point(&fixture, "a1", "L1", 1000, 0, 3.000, 1);
    repeat_add_point(&fixture, "a1", "L2", 1010, 0, 3.002, 1);
    repeat_add_point(&fixture, "a1", "H1", 1020, 1, 3.100, 1);
    repeat_add_point(&fixture, "a1", "L3", 1030, 0, 3.010, 1);
    repeat_reduce(&fixture);
    CHECK_RELATIVE(level(&fixture, "CL", "low", "back to back", "variance"), 2e-6, 1e-9, "by hand");
    CHECK_NEAR(level(&fixture, "CL", "low", "back to back", "degrees_of_freedom"), 1, 0, "by hand");
    CHECK_NEAR(level(&fixture, "CL", "low", "back to back", "measurements"), 2, 0, "L1 and L2");
    /* visits of 2 and 1: B = 54e-6, K = 4/3, whole 40.5e-6, single 40.5e-6 + 2e-6/4 */
    CHECK_RELATIVE(level(&fixture, "CL", "low", "attitude returned", "variance"), 41e-6, 1e-9,
                   "by hand");
    CHECK_NEAR(level(&fixture, "CL", "low", "attitude returned", "measurements"), 3, 0, "by hand");
    CHECK_RELATIVE(level(&fixture, "CLF", "low", "back to back", "variance"), 0.45 * 0.45 * 2e-6,
                   1e-9, "identity: 45 % of the downforce");
    CHECK(isnan(level(&fixture, "balance", "low", "back to back", "variance"))); /* rounding */
    CHECK(isnan(level(&fixture, "CL", "high", "attitude returned", "variance")));
    CHECK(isnan(level(&fixture, "CL", "weighted", "back to back", "variance")));
    CHECK(isnan(level(&fixture, "CL", "low", "part refitted", "variance")));
    CHECK_NEAR(fixture_number(&fixture, "SELECT mean FROM entry_mean WHERE quantity = 'CL' AND "
                                        "target = 'low'"),
               3.004, 1e-12, "by hand");
    fixture_close(&fixture);
}

static void what_ends_a_visit(void)
{
    static const struct {
        int attitude;
        double wind;
        const char *decision;
        double back_to_back,
            returned; /* degrees of freedom between the first and the last; 0: none */
    } between[] = {{0, 1, "exclude", 1, 0}, /* at the same attitude, and not used */
                   {2, 1, "", 0, 1},        /* off every target */
                   {1, 1, "exclude", 0, 1}, /* at another, and not used */
                   {0, 0.5, "exclude", 0, 1}};
    for (size_t i = 0; i < sizeof between / sizeof between[0]; i++) {
        struct night_fixture fixture;
        open_run(&fixture);
        repeat_add_point(&fixture, "a1", "L1", 1000, 0, 3.000, 1);
        repeat_add_point(&fixture, "a1", "X", 1010, between[i].attitude, 3.100, between[i].wind);
        repeat_add_point(&fixture, "a1", "L2", 1020, 0, 3.002, 1);
        if (between[i].decision[0] != '\0')
            fixture_decide(&fixture, "a1", "X", between[i].decision);
        repeat_reduce(&fixture);
        double freedom = level(&fixture, "CL", "low", "back to back", "degrees_of_freedom");
        CHECK_NEAR(isnan(freedom) ? 0 : freedom, between[i].back_to_back, 0, "by definition");
        freedom = level(&fixture, "CL", "low", "attitude returned", "degrees_of_freedom");
        CHECK_NEAR(isnan(freedom) ? 0 : freedom, between[i].returned, 0, "by definition");
        fixture_close(&fixture);
    }
}

/* A Reynolds sweep is no scatter. */
static void other_winds_are_not_repeats(void)
{
    struct night_fixture fixture;
    open_run(&fixture);
    repeat_add_point(&fixture, "a1", "L1", 1000, 0, 3.000, 1);
    repeat_add_point(&fixture, "a1", "L2", 1010, 0, 3.040, 0.7);
    repeat_add_point(&fixture, "a1", "L3", 1020, 0, 3.080, 0.5);
    repeat_reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM repeatability_entry"), 0, 0,
               "each wind once");
    fixture_close(&fixture);
}

static void runs_of_one_mounting_are_returns(void)
{
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_add_wind(&fixture, "a1", "base", 1000, 3.000);
    fixture_add_wind(&fixture, "a2", "base", 2000, 3.002);
    fixture_add_wind(&fixture, "b1", "wing", 3000, 3.040);
    fixture_add_wind(&fixture, "a3", "base", 4000, 3.009);
    repeat_reduce(&fixture);
    CHECK_RELATIVE(level(&fixture, "CL", "low", "attitude returned", "variance"), 2e-6, 1e-9,
                   "by hand: a1 and a2; a3 is another mounting");
    CHECK_NEAR(level(&fixture, "CL", "low", "attitude returned", "degrees_of_freedom"), 1, 0,
               "by hand");
    fixture_close(&fixture);
}

static void weighted_values_from_their_targets(void)
{
    struct night_fixture fixture;
    open_run(&fixture);
    repeat_add_run(&fixture, "a2", "base", 2000);
    repeat_add_point(&fixture, "a1", "L1", 1000, 0, 3.000, 1);
    repeat_add_point(&fixture, "a1", "L2", 1010, 0, 3.002, 1);
    repeat_add_point(&fixture, "a1", "H1", 1020, 1, 3.100, 1);
    repeat_add_point(&fixture, "a1", "H2", 1030, 1, 3.104, 1);
    repeat_add_point(&fixture, "a2", "L1", 2000, 0, 3.004, 1);
    repeat_add_point(&fixture, "a2", "H1", 2010, 1, 3.106, 1);
    repeat_reduce(&fixture);
    double low = 0.75 * 0.75 * 2e-6;
    double high = 0.25 * 0.25 * 8e-6;
    CHECK_RELATIVE(level(&fixture, "CL", "weighted", "back to back", "variance"), low + high, 1e-8,
                   "by hand");
    CHECK_RELATIVE(level(&fixture, "CL", "weighted", "back to back", "degrees_of_freedom"),
                   (low + high) * (low + high) / (low * low + high * high), 1e-8, "by hand");
    CHECK_NEAR(level(&fixture, "CL", "weighted", "back to back", "measurements"), 4, 0, "by hand");
    double change = 0.75 * (3.004 - 3.001) + 0.25 * (3.106 - 3.102);
    CHECK_RELATIVE(level(&fixture, "CL", "weighted", "attitude returned", "variance"),
                   change * change / 2, 1e-8, "by hand: two runs");
    fixture_close(&fixture);
}

static void refits_are_the_comparisons_noise(void)
{
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_add_wind(&fixture, "a1", "base", 1000, 3.000);
    fixture_add_wind(&fixture, "b1", "wing", 2000, 3.041);
    fixture_add_wind(&fixture, "a2", "base", 3000, 3.001);
    fixture_add_wind(&fixture, "b2", "wing", 4000, 3.039);
    fixture_add_wind(&fixture, "a3", "base", 5000, 2.999);
    repeat_reduce(&fixture);
    CHECK_RELATIVE(level(&fixture, "CL", "low", "part refitted", "variance"),
                   fixture_number(&fixture, "SELECT standard_deviation * standard_deviation FROM "
                                            "noise WHERE quantity = 'CL' AND target = 'low'"),
                   1e-12, "the same estimator");
    CHECK_NEAR(level(&fixture, "CL", "low", "part refitted", "degrees_of_freedom"),
               fixture_number(&fixture, "SELECT degrees_of_freedom FROM noise WHERE quantity = "
                                        "'CL' AND target = 'low'"),
               0, "the same estimator");
    CHECK_NEAR(level(&fixture, "CL", "low", "part refitted", "measurements"), 5, 0, "mountings");
    fixture_close(&fixture);
}

CU_TestInfo repeat_entry_tests[] = {
    {"points of a run, by hand", points_of_a_run_by_hand},
    {"what ends a visit", what_ends_a_visit},
    {"other winds are not repeats", other_winds_are_not_repeats},
    {"runs of one mounting are returns", runs_of_one_mounting_are_returns},
    {"weighted values from their targets", weighted_values_from_their_targets},
    {"refits are the comparison's noise", refits_are_the_comparisons_noise},
    CU_TEST_INFO_NULL};
