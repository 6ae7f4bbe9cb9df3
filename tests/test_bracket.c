/* test_bracket.c - deltas between baseline returns, their variances, and the noise. */
#include <CUnit/CUnit.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <string.h>

#include "reduce/statistics/bracket.h"
#include "reduce/statistics/student.h"
#include "tests/check.h"

extern CU_TestInfo bracket_tests[];

static const char GOLDEN[] = "hand calculation, bracketed A-B-A";

static void brackets_one_observation(void)
{
    struct observation night[] = {{0, 0, 1.0000}, {1, 1, 1.0120}, {0, 2, 1.0040}};
    struct bracket_result result;
    double weights[3];
    double baseline = 0;

    CHECK(bracket_baseline(night, 3, 1, &baseline, weights) == OUTCOME_OK);
    CHECK_NEAR(baseline, 1.0020, 1e-15, GOLDEN);
    CHECK(bracket_deltas(night, 3, 2, &result, NULL) == OUTCOME_OK);
    CHECK_NEAR(result.deltas[1].delta, 0.0100, 1e-15, GOLDEN);
    CHECK_NEAR(result.deltas[1].variance_factor, 1.5, 1e-15, GOLDEN);
    CHECK(result.deltas[1].mountings == 1 && result.deltas[1].unbracketed == 0);
    CHECK(result.baseline_mountings == 2);
    /* Nothing repeats: no noise from such a night. */
    CHECK(result.noise.degrees_of_freedom == 0 && isnan(result.noise.standard_deviation));

    night[1].time = 0.5;
    CHECK(bracket_baseline(night, 3, 0.5, &baseline, weights) == OUTCOME_OK);
    CHECK_NEAR(baseline, 1.0010, 1e-15, GOLDEN);
    CHECK_NEAR(weights[0], 0.75, 1e-15, GOLDEN);
    CHECK_NEAR(weights[1], 0, 0, GOLDEN);
    CHECK(bracket_deltas(night, 3, 2, &result, NULL) == OUTCOME_OK);
    CHECK_NEAR(result.deltas[1].variance_factor, 1.625, 1e-15, GOLDEN);
}

static void takes_a_return_at_that_time(void)
{
    const struct observation night[] = {{0, 0, 1}, {0, 5, 3}, {0, 9, 2}};
    double weights[3];
    double baseline = 0;

    CHECK(bracket_baseline(night, 3, 5, &baseline, weights) == OUTCOME_OK);
    CHECK_NEAR(baseline, 3, 0, "identity");
    CHECK_NEAR(weights[1], 1, 0, "identity");
    CHECK(bracket_baseline(night, 3, 9, &baseline, weights) == OUTCOME_OK);
    CHECK(bracket_baseline(night, 3, 9.1, &baseline, weights) == OUTCOME_TOO_FEW);
    CHECK(isnan(baseline));
    CHECK(bracket_baseline(night, 3, -0.1, &baseline, weights) == OUTCOME_TOO_FEW);
    CHECK(bracket_baseline(night, 3, (double)NAN, &baseline, weights) == OUTCOME_NOT_FINITE);
}

/* B and C share both returns: cov = (2/3)(1/3) + (1/3)(2/3) = 4/9, var = 1 + 5/9. */
static void counts_shared_returns(void)
{
    const struct observation night[] = {{0, 3, 5}, {1, 1, 7}, {2, 2, 8}, {0, 0, 5}};
    struct bracket_result result;
    double correlation[9];

    CHECK(bracket_deltas(night, 4, 3, &result, correlation) == OUTCOME_OK);
    CHECK_NEAR(result.deltas[1].delta, 2, 1e-14, "hand calculation");
    CHECK_NEAR(result.deltas[2].delta, 3, 1e-14, "hand calculation");
    CHECK_NEAR(result.deltas[1].variance_factor, 14.0 / 9, 1e-14, "hand calculation");
    CHECK_NEAR(correlation[1 * 3 + 2], 4.0 / 14, 1e-14, "hand calculation");
    CHECK_NEAR(correlation[2 * 3 + 1], 4.0 / 14, 1e-14, "hand calculation");
    CHECK_NEAR(correlation[1 * 3 + 1], 1, 0, "identity");
    CHECK_NEAR(correlation[0], 0, 0, "identity");
}

/* Two mountings about one shared return: rows (-1/4, 1/2, -1/2, 1/2, -1/4), 0.875 in all. */
static void averages_mountings(void)
{
    const struct observation night[] = {{0, 0, 0}, {1, 1, 2}, {0, 2, 0}, {1, 3, 4}, {0, 4, 1}};
    struct bracket_result result;

    CHECK(bracket_deltas(night, 5, 2, &result, NULL) == OUTCOME_OK);
    CHECK_NEAR(result.deltas[1].delta, 2.75, 1e-14, "hand calculation: (2 + 3.5) / 2");
    CHECK_NEAR(result.deltas[1].variance_factor, 0.875, 1e-14, "hand calculation");
    CHECK(result.deltas[1].mountings == 2);
    /* Contrasts: the mountings' difference twice, d = -1.5 with row length^2 2.5; the second
     * difference of the returns, 1 with 6; product of the unit rows 0. */
    double variance = (2 * 1.5 * 1.5 / 2.5 + 1.0 / 6) / 3;
    CHECK_NEAR(result.noise.standard_deviation, sqrt(variance), 1e-14, "hand calculation");
    CHECK_NEAR(result.noise.degrees_of_freedom, 9.0 / 5, 1e-13, "hand calculation: 3^2/(4 + 1)");
}

static void leaves_out_what_is_not_bracketed(void)
{
    const struct observation night[] = {{1, -1, 9}, {0, 0, 1}, {1, 1, 3}, {0, 2, 1}, {2, 3, 5}};
    struct bracket_result result;
    double correlation[9];

    CHECK(bracket_deltas(night, 5, 3, &result, correlation) == OUTCOME_OK);
    CHECK(result.deltas[1].outcome == OUTCOME_OK && result.deltas[1].unbracketed == 1);
    CHECK_NEAR(result.deltas[1].delta, 2, 1e-15, "hand calculation");
    CHECK(result.deltas[2].outcome == OUTCOME_TOO_FEW && result.deltas[2].unbracketed == 1);
    CHECK(isnan(result.deltas[2].delta));
    CHECK_NEAR(correlation[2 * 3 + 2], 0, 0, "identity");
}

static void refuses_by_name(void)
{
    struct observation night[] = {{0, 0, 1}, {1, 1, 3}, {0, 2, 1}};
    static struct observation long_night[BRACKET_OBSERVATIONS_MAX + 1];
    struct bracket_result result;

    CHECK(bracket_deltas(night, 2, 2, &result, NULL) == OUTCOME_TOO_FEW);
    CHECK(bracket_deltas(night, 0, 2, &result, NULL) == OUTCOME_TOO_FEW);
    CHECK(bracket_deltas(night, 3, 1, &result, NULL) == OUTCOME_SINGULAR);
    CHECK(bracket_deltas(night, 3, BRACKET_CONFIGURATIONS_MAX + 1, &result, NULL) ==
          OUTCOME_SINGULAR);
    CHECK(bracket_deltas(long_night, BRACKET_OBSERVATIONS_MAX + 1, 2, &result, NULL) ==
          OUTCOME_SINGULAR);
    night[1].value = (double)NAN;
    CHECK(bracket_deltas(night, 3, 2, &result, NULL) == OUTCOME_NOT_FINITE);
    CHECK(isnan(result.deltas[1].delta) && result.noise.degrees_of_freedom == 0);
    night[1].value = 1;
    night[2].time = (double)INFINITY;
    CHECK(bracket_deltas(night, 3, 2, &result, NULL) == OUTCOME_NOT_FINITE);
}

/* Deltas drop any straight line; noise drops a parabola with five returns or more. */
static void drops_smooth_drift(void)
{
    const char order[] = "ABACABACABA";
    struct observation night[sizeof order - 1];
    struct bracket_result result;
    size_t n = sizeof order - 1;

    for (size_t i = 0; i < n; i++) {
        double time = (double)(i * i) + (double)i;
        night[i] = (struct observation){(size_t)(order[i] - 'A'), time, 3 + 0.01 * time};
        night[i].value += 0.25 * (double)night[i].configuration;
    }
    CHECK(bracket_deltas(night, n, 3, &result, NULL) == OUTCOME_OK);
    CHECK_NEAR(result.deltas[1].delta, 0.25, 1e-13, "identity: linear drift");
    CHECK_NEAR(result.deltas[2].delta, 0.5, 1e-13, "identity: linear drift");
    CHECK_NEAR(result.noise.standard_deviation, 0, 1e-13, "identity: linear drift");

    for (size_t i = 0; i < n; i++)
        night[i] = (struct observation){i % 2 == 0 ? 0 : 1 + i / 2, (double)(i * i), 0};
    for (size_t i = 0; i < n; i++)
        night[i].value = night[i].time * night[i].time;
    CHECK(bracket_deltas(night, n, 6, &result, NULL) == OUTCOME_OK);
    CHECK_NEAR(result.noise.standard_deviation, 0, 1e-9, "identity: parabola");
    CHECK(result.noise.degrees_of_freedom > 1);
}

/* Two returns at one time leave no contrast between them and do no harm. */
static void survives_returns_at_one_time(void)
{
    const struct observation night[] = {{0, 0, 1}, {0, 0, 2}, {1, 1, 3}, {0, 2, 1}, {0, 2, 3}};
    struct bracket_result result;

    CHECK(bracket_deltas(night, 5, 2, &result, NULL) == OUTCOME_OK);
    CHECK_NEAR(result.deltas[1].delta, 2, 1e-15, "hand calculation: the first listed count");
    CHECK(result.noise.degrees_of_freedom == 0);
}

enum drift { DRIFT_NONE, DRIFT_LINEAR, DRIFT_WAVE, DRIFTS };

static double drift_at(enum drift drift, double share)
{
    if (drift == DRIFT_LINEAR)
        return 3 * share;
    return drift == DRIFT_WAVE ? sin(2 * acos(-1) * share) : 0;
}

enum { NIGHTS = 4000 };

/* Share of intervals that hold the true delta, over nights of unit noise; also the mean of s^2. */
static double coverage_of(const char *order, const double *interval, enum drift drift,
                          gsl_rng *random, double *mean_variance)
{
    struct observation night[32];
    size_t n = strlen(order);
    double end = 0;
    double covered = 0;
    double intervals = 0;

    *mean_variance = 0;
    for (size_t i = 0; i < n; i++) {
        night[i] = (struct observation){(size_t)(order[i] - 'A'), end, 0};
        end += i + 1 < n ? interval[i % 5] : 0;
    }
    for (int k = 0; k < NIGHTS; k++) {
        struct bracket_result result;
        for (size_t i = 0; i < n; i++)
            night[i].value = (double)night[i].configuration + drift_at(drift, night[i].time / end) +
                             gsl_ran_gaussian(random, 1);
        if (bracket_deltas(night, n, 4, &result, NULL) != OUTCOME_OK)
            return (double)NAN;
        double multiplier = student_multiplier(0.95, result.noise.degrees_of_freedom);
        for (size_t c = 1; c < 4; c++) {
            double half = multiplier * result.noise.standard_deviation *
                          sqrt(result.deltas[c].variance_factor);
            covered += fabs(result.deltas[c].delta - (double)c) <= half;
            intervals++;
        }
        *mean_variance += result.noise.standard_deviation * result.noise.standard_deviation;
    }
    *mean_variance /= NIGHTS;
    return covered / intervals;
}

static void covers_the_truth(void)
{
    static const char *const orders[] = {"ABACADACADABA", "ABACADABACADABA", "ABACADACADABADACABA"};
    static const double uneven[] = {1, 0.8, 1.4, 0.9, 1.7};
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);

    CHECK(random != NULL);
    if (random == NULL)
        return;
    gsl_rng_set(random, 20);
    for (size_t i = 0; i < sizeof orders / sizeof orders[0]; i++)
        for (int drift = 0; drift < DRIFTS; drift++) {
            double variance = 0;
            double coverage = coverage_of(orders[i], uneven, (enum drift)drift, random, &variance);
            CHECK_NEAR(coverage, 0.95, 0.01, "identity: 95 % intervals");
            if (drift != DRIFT_WAVE)
                CHECK_NEAR(variance, 1, 0.03, "identity: unit noise");
        }
    gsl_rng_free(random);
}

CU_TestInfo bracket_tests[] = {
    {"one observation between two returns", brackets_one_observation},
    {"a return at exactly that time is the baseline", takes_a_return_at_that_time},
    {"shared returns correlate deltas", counts_shared_returns},
    {"mountings are averaged and their scatter is noise", averages_mountings},
    {"what is not bracketed is left out and counted", leaves_out_what_is_not_bracketed},
    {"refuses by name", refuses_by_name},
    {"smooth drift drops out of deltas and of noise", drops_smooth_drift},
    {"returns at one time do no harm", survives_returns_at_one_time},
    {"95 % intervals hold the truth in 94 to 96 % of nights", covers_the_truth},
    CU_TEST_INFO_NULL,
};
