/* test_compare_evidence.c - what a delta may rest on: ratios, repeats that say nothing, slopes that
 * all mountings share, drift under a pressure map.                                                 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/pipeline.h"
#include "reduce/delta_reading.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

extern CU_TestInfo compare_evidence_tests[];

static void reduce(struct night_fixture *fixture)
{
    struct fault fault;
    struct reduce_summary summary;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
}

static double delta_of(struct night_fixture *fixture, const char *quantity, const char *column)
{
    char sql[240];
    (void)snprintf(sql, sizeof sql,
                   "SELECT %s FROM delta WHERE configuration = 'wing' AND quantity = '%s' AND "
                   "target = 'low'",
                   column, quantity);
    return fixture_number(fixture, sql);
}

static const char *text_of(struct night_fixture *fixture, const char *quantity, const char *column)
{
    char sql[240];
    (void)snprintf(sql, sizeof sql,
                   "SELECT coalesce(%s, 'none') FROM delta WHERE configuration = 'wing' AND "
                   "quantity = '%s' AND target = 'low'",
                   column, quantity);
    return fixture_text(fixture, sql);
}

/* A wind-on run with one point at the first target; outputs on top of a zero of this level. */
static void add_run(struct night_fixture *fixture, const char *run, const char *configuration,
                    double start, double downforce, double front, double level)
{
    struct fixture_point values = {.rise = 3000, .front = 0.02, .rear = 0.04};
    fixture_outputs(0.9, downforce, front, values.output);
    for (int i = 0; i < 6; i++)
        values.output[i] += level;
    fixture_add_run(fixture, &(struct fixture_run){.run = run,
                                                   .kind = "wind_on",
                                                   .configuration = configuration,
                                                   .start = start});
    fixture_add_point(fixture, run, "P1", start, &values);
}

/* A large zero level makes CL uncertain by more than its size: every point says balance-undefined. */
static void an_undefined_balance_gives_no_delta(void)
{
    static const char *const names[] = {"base", "wing", "base", "wing", "base"};
    static const double downforce[] = {0.00100, 0.00120, 0.00101, 0.00121, 0.00102};
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture.campaign.main_metric = "balance";
    fixture_add_zero(&fixture, "z1", 0, 500);
    for (int i = 0; i < 5; i++) {
        char run[16];
        (void)snprintf(run, sizeof run, "r%d", i);
        add_run(&fixture, run, names[i], 1000 * (i + 1), downforce[i], 0.4 * downforce[i], 500);
    }
    reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = "
                                        "'balance-undefined'"),
               5, 0, "the fixture's points");
    CHECK(isnan(delta_of(&fixture, "balance", "delta")));
    CHECK_TEXT(text_of(&fixture, "balance", "verdict"), "none");
    CHECK_TEXT(text_of(&fixture, "balance", "reason"), "undefined at its points: no delta");
    CHECK(isfinite(delta_of(&fixture, "CL", "delta")));
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM observation WHERE quantity = "
                                        "'balance'"),
               0, 0, "no value, no observation");
    fixture_close(&fixture);
}

/* Two targets are weighted; the balance of one is undefined, so the weighted balance is. */
static void one_undefined_target_leaves_no_weighted_balance(void)
{
    struct night_fixture fixture;
    struct fixture_point high = {.rise = 3000, .front = 0.03, .rear = 0.05};
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 5);
    add_run(&fixture, "a1", "base", 1000, 3, 1.35, 5);
    fixture_outputs(0.9, 1e-5, 1e-5, high.output);
    for (int i = 0; i < 6; i++)
        high.output[i] += 5;
    fixture_add_point(&fixture, "a1", "P2", 1010, &high);
    add_run(&fixture, "a2", "base", 2000, 3, 1.35, 5);
    reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, "SELECT point FROM flag WHERE rule = 'balance-undefined'"),
               "P2");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM observation WHERE quantity = "
                                        "'balance' AND target = 'weighted'"),
               0, 0, "a share of a sum with an undefined part");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM observation WHERE quantity = "
                                        "'balance' AND target = 'low'"),
               1, 0, "the other target has its own, in the one mounting");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM observation WHERE quantity = 'CL' "
                                        "AND target = 'weighted'"),
               1, 0, "coefficients have a sum all the same");
    fixture_close(&fixture);
}

static void identical_repeats_give_no_interval(void)
{
    static const char *const names[] = {"base", "wing", "base", "wing", "base"};
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    for (int i = 0; i < 5; i++) {
        char run[16];
        (void)snprintf(run, sizeof run, "r%d", i);
        fixture_add_wind(&fixture, run, names[i], 1000 * (i + 1), i % 2 == 0 ? 3.00 : 3.02);
    }
    reduce(&fixture);
    CHECK_NEAR(delta_of(&fixture, "CL", "delta"), 0.02, 1e-12, "identity");
    CHECK(isnan(delta_of(&fixture, "CL", "half_width")));
    CHECK(isnan(delta_of(&fixture, "CL", "standard_uncertainty")));
    CHECK_TEXT(text_of(&fixture, "CL", "verdict"), "none");
    CHECK_TEXT(text_of(&fixture, "CL", "reason"), "repeats are identical: resolution not known");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM noise WHERE quantity = 'CL'"), 0, 0,
               "no noise was seen");
    fixture_close(&fixture);
}

static void a_mounting_of_two_runs_has_the_ratio_of_its_means(void)
{
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture.metrics[1] = (struct metric){"efficiency", "L/D", BETTER_HIGHER, 0, 0.01};
    fixture_add_zero(&fixture, "z1", 0, 0);
    add_run(&fixture, "a1", "base", 1000, 3.0, 1.2, 0);
    add_run(&fixture, "a2", "base", 1500, 1.0, 0.6, 0);
    add_run(&fixture, "b1", "wing", 2000, 3.0, 1.2, 0);
    add_run(&fixture, "a3", "base", 3000, 3.0, 1.2, 0);
    reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM observation WHERE configuration = "
                                        "'base' AND mounting = 1 AND quantity = 'balance' AND "
                                        "target = 'low'"),
               100 * 1.8 / 4, 1e-10, "identity: 100 sum CLF / sum CL");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM observation WHERE configuration = "
                                        "'base' AND mounting = 1 AND quantity = 'L/D' AND "
                                        "target = 'low'"),
               4 / 1.8, 1e-10, "identity: sum CL / sum CD");
    fixture_close(&fixture);
}

/* Five returns about four mountings, values scattered; `n` of them are made. */
static void open_scattered(struct night_fixture *fixture, int n)
{
    static const double noise[] = {0,      0.0004,  0.0011, -0.0006, -0.0008, 0.0003,
                                   0.0002, -0.0004, 0.0006, 0.0001,  -0.0003};
    fixture_open(fixture);
    fixture_add_zero(fixture, "z1", 0, 0);
    for (int i = 0; i < n; i++) {
        char run[16];
        (void)snprintf(run, sizeof run, "r%d", i);
        fixture_add_wind(fixture, run, i % 2 == 0 ? "base" : "wing", 1000 * (i + 1),
                         3 + noise[i] + (i % 2 == 0 ? 0 : 0.04));
    }
    reduce(fixture);
}

static void few_degrees_of_freedom_are_said_beside_the_verdict(void)
{
    struct night_fixture fixture;
    open_scattered(&fixture, 5);
    double freedom = delta_of(&fixture, "CL", "degrees_of_freedom");
    char want[64];
    CHECK_NEAR(freedom, 1.8, 1e-9, "tests/test_bracket.c, averages_mountings: 3^2/(4 + 1)");
    (void)snprintf(want, sizeof want, "only %g degrees of freedom", 1.8);
    struct delta_reading reading = {.half_width = 1, .degrees_of_freedom = 1.7825};
    CHECK_TEXT(delta_freedom_text(&reading).text, "1.8 degrees of freedom");
    reading.degrees_of_freedom = 2.97;
    CHECK_TEXT(delta_freedom_text(&reading).text, "just under 3 degrees of freedom");
    reading.degrees_of_freedom = 1.02;
    CHECK_TEXT(delta_freedom_text(&reading).text, "1 degree of freedom");
    CHECK_TEXT(text_of(&fixture, "CL", "verdict"), "gain");
    CHECK_TEXT(text_of(&fixture, "CL", "reason"), want);
    CHECK_TEXT(text_of(&fixture, "CLF", "reason"), "");
    fixture_close(&fixture);
    open_scattered(&fixture, 11);
    CHECK(delta_of(&fixture, "CL", "degrees_of_freedom") > 3);
    CHECK_TEXT(text_of(&fixture, "CL", "verdict"), "gain");
    CHECK_TEXT(text_of(&fixture, "CL", "reason"), "");
    fixture_close(&fixture);
}

/* A run with a small map about the first target, bent a little so that the slopes are uncertain, and
 * its point P1 off target in front; CL falls 40 a metre. */
static void add_map(struct night_fixture *fixture, const char *run, const char *configuration,
                    double start, double level, double offset)
{
    static const double bend[] = {0.0003, -0.0002, 0.0004, -0.0005,
                                  0.0001, -0.0003, 0.0002, 0.0001};
    int number = 2;
    fixture_add_run(fixture, &(struct fixture_run){.run = run,
                                                   .kind = "wind_on",
                                                   .configuration = configuration,
                                                   .start = start});
    for (int i = -1; i <= 1; i++)
        for (int k = -1; k <= 1; k++) {
            char name[16];
            struct fixture_point values = {
                .rise = 3000, .front = 0.02 + 0.004 * i, .rear = 0.04 + 0.004 * k};
            int is_first = i == 0 && k == 0;
            values.front += is_first ? offset : 0;
            double downforce = level - 40 * (values.front - 0.02);
            downforce += is_first ? 0 : bend[number - 2];
            (void)snprintf(name, sizeof name, "P%d", is_first ? 1 : number++);
            double drag = 0.9 + (is_first ? 0 : 0.2 * bend[number - 3]);
            fixture_outputs(drag, downforce, 0.45 * downforce, values.output);
            fixture_add_point(fixture, run, name, start + (is_first ? 0 : number), &values);
        }
}

static double mean_added(struct night_fixture *fixture, const char *configuration,
                         const char *column)
{
    char sql[400];
    (void)snprintf(sql, sizeof sql,
                   "SELECT avg(t.%s) FROM target_result AS t JOIN reduction AS d ON d.reduction = "
                   "t.reduction AND d.is_current = 1 JOIN run AS r ON r.run = t.run WHERE "
                   "t.is_used = 1 AND r.configuration = '%s'",
                   column, configuration);
    return fixture_number(fixture, sql);
}

/* Of A-B-A-B-A in even steps, by hand: a parabola with the second difference d of the returns passes the line
 * between two of them by d / 8, of d^2 the noise is 6 s^2, and two mountings share it. */
static double bend_of(struct night_fixture *fixture, const char *quantity, double s)
{
    char sql[400];
    (void)snprintf(sql, sizeof sql,
                   "SELECT sum(CASE WHEN mounting = 2 THEN -2 ELSE 1 END * value) FROM observation "
                   "WHERE configuration = 'base' AND quantity = '%s' AND target = 'low'",
                   quantity);
    double second = fixture_number(fixture, sql);
    return fmax(second * second - 6 * s * s, 0) / 64 / 2;
}

/* All mountings of a configuration are carried along one slope, so no scatter shows its error. */
static void the_error_of_a_shared_slope_reaches_the_interval(void)
{
    static const char *const names[] = {"base", "wing", "base", "wing", "base"};
    static const double level[] = {3, 3.0402, 3.0003, 3.0399, 2.9999};
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture.metrics[1] = (struct metric){"efficiency", "L/D", BETTER_HIGHER, 0, 0.01};
    fixture_add_zero(&fixture, "z1", 0, 0);
    for (int i = 0; i < 5; i++) {
        char run[16];
        (void)snprintf(run, sizeof run, "r%d", i);
        add_map(&fixture, run, names[i], 1000 * (i + 1), level[i], i % 2 == 0 ? 0.0002 : 0.0004);
    }
    reduce(&fixture);
    double own = mean_added(&fixture, "wing", "downforce_coefficient_u");
    double base = mean_added(&fixture, "base", "downforce_coefficient_u");
    double s = fixture_number(&fixture, "SELECT standard_deviation FROM noise WHERE quantity = "
                                        "'CL' AND target = 'low'");
    double scatter = s * s * 0.875 + bend_of(&fixture, "CL", s);
    double whole = scatter + own * own + base * base;
    CHECK(own > 0 && base > 0);
    CHECK_RELATIVE(
        delta_of(&fixture, "CL", "standard_uncertainty"), sqrt(whole), 1e-9,
        "hand calculation: variance factor 0.875 of A-B-A-B-A, bend and both slopes added");
    double wing_freedom = mean_added(&fixture, "wing", "fit_degrees_of_freedom");
    double base_freedom = mean_added(&fixture, "base", "fit_degrees_of_freedom");
    CHECK_RELATIVE(
        delta_of(&fixture, "CL", "degrees_of_freedom"),
        whole * whole /
            (scatter * scatter / 1.8 + pow(own, 4) / wing_freedom + pow(base, 4) / base_freedom),
        1e-9, "Satterthwaite 1946");
    /* CL and CD are fitted apart: their signs are not known, so their parts are added up. */
    double drag_own = mean_added(&fixture, "wing", "drag_coefficient_u");
    double drag_base = mean_added(&fixture, "base", "drag_coefficient_u");
    s = fixture_number(&fixture, "SELECT standard_deviation FROM noise WHERE quantity = 'L/D' AND "
                                 "target = 'low'");
    CHECK(drag_own > 0);
    CHECK_RELATIVE(delta_of(&fixture, "L/D", "standard_uncertainty"),
                   sqrt(s * s * 0.875 + bend_of(&fixture, "L/D", s) +
                        pow(own / 0.9 + 3.04 / 0.81 * drag_own, 2) +
                        pow(base / 0.9 + 3 / 0.81 * drag_base, 2)),
                   2e-3, "hand calculation, CL and CD of the first run");
    CHECK(fixture_number(&fixture, "SELECT count(*) FROM target_result WHERE is_used = 1 AND "
                                   "roll_coefficient_u IS NULL") == 0);
    fixture_close(&fixture);
}

static void add_tapped(struct night_fixture *fixture, const char *run, const char *configuration,
                       double start, double tap)
{
    struct fixture_point values = {.rise = 3000, .front = 0.02, .rear = 0.04, .tap = {tap, -600}};
    fixture_outputs(0.9, 3, 1.35, values.output);
    fixture_add_run(fixture, &(struct fixture_run){.run = run,
                                                   .kind = "wind_on",
                                                   .configuration = configuration,
                                                   .start = start});
    fixture_add_point(fixture, run, "P1", start, &values);
}

static double map_of(struct night_fixture *fixture, const char *column)
{
    char sql[160];
    (void)snprintf(sql, sizeof sql,
                   "SELECT %s FROM map_tap WHERE configuration = 'wing' AND tap = 'T1'", column);
    return fixture_number(fixture, sql);
}

/* The first tap drifts by 1 Pa a second; wing comes early, twice on one mounting. */
static void drift_does_not_enter_the_pressure_map(void)
{
    struct night_fixture fixture;
    double q = 0.7 * 101325 * 5 * (pow(1 + 3000.0 / 101325, 2.0 / 7) - 1);
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    add_tapped(&fixture, "a1", "base", 100, -1500 + 100);
    add_tapped(&fixture, "b1", "wing", 200, -1500 + 200 + 50 + 6);
    add_tapped(&fixture, "b2", "wing", 300, -1500 + 300 + 50 + 6);
    add_tapped(&fixture, "a2", "base", 400, -1500 + 400);
    add_tapped(&fixture, "b3", "wing", 500, -1500 + 500 + 50 - 6);
    add_tapped(&fixture, "a3", "base", 900, -1500 + 900);
    reduce(&fixture);
    CHECK_NEAR(map_of(&fixture, "delta_cp"), 50 / q, 1e-12, "identity: linear drift drops out");
    CHECK_NEAR(map_of(&fixture, "runs"), 3, 0, "runs of the mean");
    /* Mountings b1 b2 at 250 and b3 at 500, about a1 a2 a3 at 100, 400, 900. */
    const double w1[] = {-0.5, 1, -0.5, 0, 0};
    const double w2[] = {0, 0, -0.8, 1, -0.2};
    double length = 0;
    double factor = 0;
    for (int i = 0; i < 5; i++) {
        length += (w1[i] - w2[i]) * (w1[i] - w2[i]) / 4;
        factor += (w1[i] + w2[i]) * (w1[i] + w2[i]) / 4;
    }
    /* two contrasts of +-6 Pa about the mean and one of the returns, which is 0 */
    double s = sqrt(2 * 36 / length / 3) / q;
    CHECK_RELATIVE(map_of(&fixture, "delta_cp_u"), s * sqrt(factor), 1e-9, "hand calculation");
    CHECK(isnan(fixture_number(&fixture, "SELECT delta_cp_u FROM map_tap WHERE configuration = "
                                         "'wing' AND tap = 'T2'"))); /* identical repeats */
    fixture_close(&fixture);
}

static void a_map_without_returns_has_no_delta(void)
{
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    add_tapped(&fixture, "a1", "base", 100, -1500);
    add_tapped(&fixture, "a2", "base", 200, -1501);
    add_tapped(&fixture, "b1", "wing", 300, -1400);
    reduce(&fixture);
    CHECK(isfinite(map_of(&fixture, "cp")));
    CHECK(isnan(map_of(&fixture, "delta_cp")) && isnan(map_of(&fixture, "delta_cp_u")));
    fixture_close(&fixture);
}

CU_TestInfo compare_evidence_tests[] = {
    {"an undefined balance gives no delta", an_undefined_balance_gives_no_delta},
    {"one undefined target leaves no weighted balance",
     one_undefined_target_leaves_no_weighted_balance},
    {"identical repeats give no interval", identical_repeats_give_no_interval},
    {"a mounting of two runs has the ratio of its means",
     a_mounting_of_two_runs_has_the_ratio_of_its_means},
    {"few degrees of freedom are said beside the verdict",
     few_degrees_of_freedom_are_said_beside_the_verdict},
    {"the error of a shared slope reaches the interval",
     the_error_of_a_shared_slope_reaches_the_interval},
    {"drift does not enter the pressure map", drift_does_not_enter_the_pressure_map},
    {"a map without returns has no delta", a_map_without_returns_has_no_delta},
    CU_TEST_INFO_NULL};
