/* test_undeclared_change.c - a zero or a weight that steps between two runs of one configuration. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>

#include "reduce/pipeline.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

static void reduce(struct night_fixture *fixture, struct reduce_summary *summary)
{
    struct fault fault;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, summary, &fault), &fault);
}

static double flags(struct night_fixture *fixture)
{
    return fixture_number(fixture, "SELECT count(*) FROM flag WHERE rule = 'undeclared-change'");
}

/* q A, N, of the fixture's wind: 2 m2. */
static double force(void)
{
    return (double)(2 * 0.7L * 101325.0L * 5.0L *
                    (powl(1.0L + 3000.0L / 101325.0L, 2.0L / 7.0L) - 1.0L));
}

/* Zeros drift by `drift` within each run and step by `step` between them; outputs are kN. */
static void two_runs(struct night_fixture *fixture, const char *second, double drift, double step)
{
    const double levels[] = {0, drift, drift + step, 2 * drift + step};
    const char *const zeros[] = {"z1", "z2", "z3", "z4"};
    const double times[] = {0, 100, 120, 220};
    fixture_open(fixture);
    for (int i = 0; i < 4; i++)
        fixture_add_zero(fixture, zeros[i], times[i], levels[i]);
    fixture_add_wind(fixture, "r1", "base", 50, 3);
    fixture_add_wind(fixture, "r2", second, 170, 3);
}

static void a_step_of_the_zero_is_told_in_counts(void)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    two_runs(&fixture, "base", 0.001, 0.1);
    reduce(&fixture, &summary);
    CHECK(flags(&fixture) == 1);
    CHECK_TEXT(fixture_text(&fixture, "SELECT run || subject FROM flag WHERE rule = "
                                      "'undeclared-change'"),
               "r2zero");
    /* 100 N more on every zero: CD 100/(q A) less, worthwhile 0.003; CL 100/(q A) more, 0.010; the
     * balance moves by more shares, as the moment does, too. */
    CHECK_NEAR(fixture_number(&fixture, "SELECT effect_counts FROM flag WHERE rule = "
                                        "'undeclared-change'"),
               1000 * 100 / force(), 1e-6, "by hand: 100 N over q A, in counts of 0.001");
    CHECK_CONTAINS(
        fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'undeclared-change'"),
        "zero z3 reads otherwise than zero z2");
    fixture_close(&fixture);
}

static void what_is_declared_or_drift_or_small_is_not_told(void)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    two_runs(&fixture, "wing", 0.001, 0.1); /* another configuration */
    reduce(&fixture, &summary);
    CHECK(flags(&fixture) == 0);
    fixture_close(&fixture);
    two_runs(&fixture, "base", 0.05, 0.1); /* twice the drift within the runs */
    reduce(&fixture, &summary);
    CHECK(flags(&fixture) == 0);
    fixture_close(&fixture);
    two_runs(&fixture, "base", 0.0001, 0.002); /* 2 N */
    reduce(&fixture, &summary);
    CHECK(flags(&fixture) == 0);
    fixture_close(&fixture);
    two_runs(&fixture, "base", 0.001, 0.1);
    fixture_execute(&fixture, "UPDATE run SET mounting = 'second' WHERE run = 'r2'");
    reduce(&fixture, &summary);
    CHECK(flags(&fixture) == 0);
    fixture_close(&fixture);
}

static void add_tare(struct night_fixture *fixture, const char *run, double start, double fz)
{
    struct fixture_point values = {.front = 0.02, .rear = 0.04, .output = {0, 0, fz}};
    fixture_add_run(fixture, &(struct fixture_run){
                                 .run = run, .kind = "weight_tare", .start = start, .zero = "z1"});
    fixture_add_point(fixture, run, "T", start, &values);
}

static void a_step_of_the_weight_tare_is_told(void)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    two_runs(&fixture, "base", 0, 0);
    fixture.facility.weight_tare = TARE_LOOKUP;
    fixture.facility.tare_tolerance[0] = 1e-3;
    add_tare(&fixture, "t1", 40, -0.2);
    add_tare(&fixture, "t2", 180, -0.26); /* 60 N heavier */
    reduce(&fixture, &summary);
    CHECK(flags(&fixture) == 1);
    CHECK_CONTAINS(
        fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'undeclared-change'"),
        "weight tare t2 is another than t1");
    CHECK_NEAR(fabs(fixture_number(&fixture, "SELECT effect_counts FROM flag WHERE rule = "
                                             "'undeclared-change'")),
               1000 * 60 / force(), 1e-6, "by hand: 60 N over q A, in counts of 0.001");
    /* A zero that is measured again changes what the second run is held against. */
    reduce(&fixture, &summary);
    CHECK(summary.runs_up_to_date == 2);
    fixture_execute(&fixture, "UPDATE run SET ingest_key = 'again' WHERE run = 't1'");
    reduce(&fixture, &summary);
    CHECK(summary.runs_reduced == 2);
    fixture_close(&fixture);
}

CU_TestInfo undeclared_change_tests[] = {
    {"a step of the zero is told in counts", a_step_of_the_zero_is_told_in_counts},
    {"what is declared, or drift, or small is not told",
     what_is_declared_or_drift_or_small_is_not_told},
    {"a step of the weight tare is told", a_step_of_the_weight_tare_is_told},
    CU_TEST_INFO_NULL};
