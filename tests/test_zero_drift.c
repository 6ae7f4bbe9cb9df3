/* test_zero_drift.c - how far the zeros moved, told in the quantities of the metrics. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stddef.h>

#include "reduce/pipeline.h"
#include "tests/check.h"
#include "schema/point_statistics.h"
#include "tests/night_fixture.h"

static void reduce(struct night_fixture *fixture, struct reduce_summary *summary)
{
    struct fault fault;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, summary, &fault), &fault);
}

static double dynamic_pressure(void)
{
    return (double)(0.7L * 101325.0L * 5.0L *
                    (powl(1.0L + 3000.0L / 101325.0L, 2.0L / 7.0L) - 1.0L));
}

static void a_drifting_zero_is_flagged_in_counts(void)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_add_zero(&fixture, "z2", 100, 0.05);
    fixture_add_wind(&fixture, "r1", "base", 50, 3);
    reduce(&fixture, &summary);
    /* 0.05 of output is 50 N; over q A: 50/(2968.80 * 2) = 8.42 counts of CD against 0.5 * 3. */
    CHECK_TEXT(fixture_text(&fixture, "SELECT subject FROM flag WHERE rule = 'zero-drift'"), "CD");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM flag WHERE rule = 'zero-drift'"),
               -50 / (dynamic_pressure() * 2), 1e-9, "identity: drift over q A");
    CHECK_NEAR(fixture_number(&fixture, "SELECT limit_value FROM flag WHERE rule = 'zero-drift'"),
               0.0015, 1e-12, "identity: 0.5 of 0.003");
    fixture_close(&fixture);
}

/* Metrics of areas and of ratios are watched through the same functions as the result. */
static void a_drifting_zero_is_flagged_for_derived_quantities(void)
{
    struct {
        char quantity[8];
        double worthwhile;
        const char *words;
    } cases[] = {{"CDA", 0.010, " m2, standard"},
                 {"balance", 0.2, "balance would change by"},
                 {"L/D", 0.02, "L/D would change by"}};
    double force = dynamic_pressure() * 2;
    double lift = 3 * force + 50; /* with the zero 0.05 higher, 50 N of upward force less */
    double moment = 0.05 * 3 * force * 2.5;
    double front = lift / 2 - (moment - 50) / 2.5;
    const double want[] = {-50 / dynamic_pressure(), 100 * front / lift - 45,
                           lift / (0.9 * force - 50) - 3 / 0.9};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct night_fixture fixture;
        struct reduce_summary summary;
        fixture_open(&fixture);
        fixture.metrics[0].quantity = cases[i].quantity;
        fixture.metrics[0].worthwhile = cases[i].worthwhile;
        fixture.campaign.n_metrics = 1;
        fixture_add_zero(&fixture, "z1", 0, 0);
        fixture_add_zero(&fixture, "z2", 100, 0.05);
        fixture_add_wind(&fixture, "r1", "base", 50, 3);
        reduce(&fixture, &summary);
        CHECK_TEXT(fixture_text(&fixture, "SELECT subject FROM flag WHERE rule = 'zero-drift'"),
                   cases[i].quantity);
        CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM flag WHERE rule = 'zero-drift'"),
                   want[i], 1e-9, "recomputed from drag, lift and moment less 50 N and 50 N m");
        CHECK_NEAR(
            fixture_number(&fixture, "SELECT limit_value FROM flag WHERE rule = 'zero-drift'"),
            0.5 * cases[i].worthwhile, 1e-12, "identity: half of worthwhile");
        CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'zero-drift'"),
                       cases[i].words);
        fixture_close(&fixture);
    }
}

/* How often a drift of all outputs is flagged when each zero is known to sd / 10. Of the outputs only
 * the first moves CD, by 1000 N a unit. */
static double flagged_at(double drift, double sd, double *effect)
{
    struct night_fixture fixture;
    struct reduce_summary summary;
    fixture_open(&fixture);
    fixture.campaign.main_metric = "drag";
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_add_zero(&fixture, "z2", 100, drift);
    fixture_add_wind(&fixture, "r1", "base", 50, 3);
    for (int channel = 0; channel < 6; channel++) {
        fixture_set_statistic(&fixture, "z1", channel, offsetof(struct channel_statistics, sd), sd);
        fixture_set_statistic(&fixture, "z2", channel, offsetof(struct channel_statistics, sd), sd);
        fixture_set_statistic(&fixture, "z1", channel,
                              offsetof(struct channel_statistics, n_effective), 100);
        fixture_set_statistic(&fixture, "z2", channel,
                              offsetof(struct channel_statistics, n_effective), 100);
    }
    reduce(&fixture, &summary);
    *effect = fixture_number(&fixture, "SELECT effect_counts FROM flag WHERE rule = 'zero-drift'");
    double n = fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = 'zero-drift'");
    fixture_close(&fixture);
    return n;
}

/* A drift is flagged when it may be beyond the limit: its uncertainty counts 2.33 times. */
static void an_uncertain_drift_is_flagged_earlier(void)
{
    double force = dynamic_pressure() * 2;
    double limit = 0.0015 * force / 1000; /* in units of output */
    double effect = 0;
    CHECK(flagged_at(0.9 * limit, 0, &effect) == 0);
    CHECK(flagged_at(1.1 * limit, 0, &effect) == 1);
    CHECK_NEAR(effect, -1.65, 1e-9, "identity: 1.1 of 1.5 counts");
    /* u = sqrt(2) sd/10; 0.9 + 2.33 u/limit > 1 above u = 0.0429 limit */
    CHECK(flagged_at(0.9 * limit, 0.05 * limit * 10 / sqrt(2), &effect) == 1);
    CHECK(flagged_at(0.9 * limit, 0.04 * limit * 10 / sqrt(2), &effect) == 0);
    CHECK(flagged_at(0.2 * limit, 0.163 * limit * 10 / sqrt(2), &effect) == 0);
}

CU_TestInfo zero_drift_tests[] = {
    {"an uncertain drift is flagged earlier", an_uncertain_drift_is_flagged_earlier},
    {"a drifting zero is flagged in counts", a_drifting_zero_is_flagged_in_counts},
    {"a drifting zero is flagged for derived quantities",
     a_drifting_zero_is_flagged_for_derived_quantities},
    CU_TEST_INFO_NULL};
