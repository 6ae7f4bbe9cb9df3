/* test_measures.c - weighted averages, packages, equal balance, and drift that bends. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/statistics/drift_curvature.h"
#include "reduce/statistics/equal_balance.h"
#include "reduce/statistics/polarisation.h"
#include "reduce/statistics/weighted_measure.h"
#include "tests/check.h"

extern CU_TestInfo measures_tests[];

static void shared_errors_do_not_average_down(void)
{
    const double weights[] = {0.5, 0.3, 0.2}, values[] = {3, 2, 1};
    /* own variance 1 and 4 in common */
    const double covariance[] = {5, 4, 4, 4, 5, 4, 4, 4, 5};
    struct weighted_measure measure;

    CHECK(weighted_average(weights, values, covariance, 3, &measure) == OUTCOME_OK);
    CHECK_NEAR(measure.value, 2.3, 1e-15, "by hand");
    CHECK_NEAR(measure.standard, sqrt(4 + 0.38), 1e-14, "by hand: 0.25 + 0.09 + 0.04");
    CHECK_NEAR(measure.coverage, 1, 1e-15, "all measured");
    const double missing[] = {3, (double)NAN, 1}, off[] = {0.5, 0.3, 0.3}, less[] = {1.2, -0.2, 0};
    CHECK(weighted_average(weights, missing, covariance, 3, &measure) == OUTCOME_UNMEASURED);
    CHECK_NEAR(measure.coverage, 0.7, 1e-15, "what is there");
    CHECK(isnan(measure.value));
    const double unused[] = {0.5, 0, 0.5};
    CHECK(weighted_average(unused, missing, covariance, 3, &measure) == OUTCOME_OK);
    CHECK(weighted_average(off, values, covariance, 3, &measure) == OUTCOME_GEOMETRY);
    CHECK(weighted_average(less, values, covariance, 3, &measure) == OUTCOME_GEOMETRY);
    CHECK(weighted_average(weights, values, covariance, 0, &measure) == OUTCOME_TOO_FEW);
    const double wild[] = {1, 9, 0, 9, 1, 0, 0, 0, -40}, infinite[] = {3, (double)INFINITY, 1};
    CHECK(weighted_average(weights, values, wild, 3, &measure) == OUTCOME_OK);
    const double negative[] = {1, -9, 0, -9, 1, 0, 0, 0, 1};
    CHECK(weighted_average(weights, values, negative, 3, &measure) == OUTCOME_SINGULAR);
    CHECK(weighted_average(weights, infinite, covariance, 3, &measure) == OUTCOME_NOT_FINITE);
}

/* Balance over a lap: sum of front over sum of all. */
static void a_ratio_of_sums(void)
{
    const double weights[] = {0.5, 0.5}, values[] = {1.2, 2.0, 3.0, 4.0};
    const double covariance[] = {4, 0, 2, 0, 0, 4, 0, 2, 2, 0, 9, 0, 0, 2, 0, 9};
    struct weighted_measure measure;

    CHECK(weighted_ratio(weights, weights, values, covariance, 2, &measure) == OUTCOME_OK);
    CHECK_NEAR(measure.value, 3.2 / 7, 1e-15, "ratio of sums, not 0.45, the mean of ratios");
    double r = 3.2 / 7;
    CHECK_NEAR(measure.standard, sqrt(8 - 2 * r * 4 + r * r * 18) / 7, 1e-14, "by hand");
    const double nothing[] = {1, 2, -3, 3};
    CHECK(weighted_ratio(weights, weights, nothing, covariance, 2, &measure) == OUTCOME_SINGULAR);
    const double missing[] = {1, 2, (double)NAN, 3};
    CHECK(weighted_ratio(weights, weights, missing, covariance, 2, &measure) == OUTCOME_UNMEASURED);
    CHECK_NEAR(measure.coverage, 0.5, 0, "half of the lower sum");
}

static void a_package_against_its_parts(void)
{
    const double deltas[] = {0.010, 0.020, 0.024};
    const double covariance[] = {2, 1, 1, 1, 2, 1, 1, 1, 2};
    const size_t parts[] = {0, 1}, twice[] = {0, 0}, itself[] = {0, 2}, outside[] = {0, 3};
    struct weighted_measure interaction;

    CHECK(package_interaction(deltas, covariance, 3, 2, parts, 2, &interaction) == OUTCOME_OK);
    CHECK_NEAR(interaction.value, -0.006, 1e-16, "by hand");
    CHECK_NEAR(interaction.standard, 2, 1e-14, "by hand: 6 + 2 - 2 - 2");
    CHECK(package_interaction(deltas, covariance, 3, 2, twice, 2, &interaction) ==
          OUTCOME_GEOMETRY);
    CHECK(package_interaction(deltas, covariance, 3, 2, itself, 2, &interaction) ==
          OUTCOME_GEOMETRY);
    CHECK(package_interaction(deltas, covariance, 3, 2, outside, 2, &interaction) ==
          OUTCOME_GEOMETRY);
    CHECK(package_interaction(deltas, covariance, 3, 3, parts, 2, &interaction) ==
          OUTCOME_GEOMETRY);
    CHECK(package_interaction(deltas, covariance, 3, 2, parts, 0, &interaction) == OUTCOME_TOO_FEW);
    CHECK(isnan(interaction.value));
}

/* The part brings 60 counts of downforce and 1.2 points of balance; a step of the flap brings 20 and -0.6. */
/* Part and device against one baseline, all three with variance 1 in both numbers and nothing between the
 * numbers; z = measure - 2 balance, and the device goes back by one step. */
static void a_shared_baseline_counts_in_what_is_trimmed(void)
{
    struct trim_pair part = {10, 4, 2, 2, 0}, device = {8, 4, 2, 2, 0};
    struct trim_shared shared = {1, 1, 0};
    struct trimmed trimmed;

    CHECK(equal_balance(&part, &device, &shared, -5, 5, &trimmed) == OUTCOME_OK);
    CHECK_NEAR(trimmed.setting, -1, 1e-14, "by hand: -4 / 4");
    CHECK_NEAR(trimmed.delta, 2, 1e-14, "by hand: 10 - 8");
    /* part - baseline - (device - baseline): the baseline drops out; two times (1 + e^2). */
    CHECK_NEAR(trimmed.standard, sqrt(2 * (1 + 4)), 1e-14, "by hand: the baseline drops out");
    shared.crossed = 0.5; /* enters as -e x 2 crossed = 2 */
    CHECK(equal_balance(&part, &device, &shared, -5, 5, &trimmed) == OUTCOME_OK);
    CHECK_NEAR(trimmed.standard, sqrt(10 + 2), 1e-14, "by hand: 10 + 2 (-1) (-2) 0.5");
    CHECK(equal_balance(&part, &device, NULL, -5, 5, &trimmed) == OUTCOME_OK);
    CHECK_NEAR(trimmed.standard, sqrt(20), 1e-14, "by hand: nothing in common");
    shared.balances = (double)NAN;
    CHECK(equal_balance(&part, &device, &shared, -5, 5, &trimmed) == OUTCOME_NOT_FINITE);
}

static void sum_and_difference_tell_a_covariance(void)
{
    const double nan = (double)NAN;
    /* Variances 4 and 1, covariance 1.5: sum 8, difference 2. */
    CHECK_NEAR(polarised_covariance(4, 1, 8, 2), 1.5, 1e-15, "identity");
    CHECK_NEAR(polarised_covariance(4, 1, 2, 8), -1.5, 1e-15, "identity");
    CHECK_NEAR(polarised_covariance(1, 1, 2, 2), 0, 1e-15, "identity");
    CHECK_NEAR(polarised_covariance(1, 1, 8, 4), 1.0 / 3, 1e-15,
               "by hand: both halved, (8 - 4) / 12");
    CHECK_NEAR(polarised_covariance(4, 1, 10, 0), 2, 1e-15, "no correlation over 1");
    CHECK_NEAR(polarised_covariance(1, 0, 1, 1), 0, 1e-15, "one of them is known");
    CHECK(isnan(polarised_covariance(nan, 1, 1, 1)) && isnan(polarised_covariance(1, nan, 1, 1)));
    CHECK(isnan(polarised_covariance(1, 1, nan, 1)) && isnan(polarised_covariance(1, 1, 1, nan)));
    CHECK(isnan(polarised_covariance(-1, 1, 1, 1)) && isnan(polarised_covariance(1, 1, 0, 0)));
}

static void trimmed_to_equal_balance(void)
{
    struct trim_pair part = {60, 1.2, 9, 0.04, 0.3}, flap = {20, -0.6, 1, 0.0009, 0.01};
    struct trimmed trimmed;
    double exchange = 20 / -0.6;

    CHECK(equal_balance(&part, &flap, NULL, -3, 3, &trimmed) == OUTCOME_OK);
    CHECK_NEAR(trimmed.setting, 2, 1e-14, "by hand: two steps take 1.2 points back");
    CHECK_NEAR(trimmed.delta, 100, 1e-12, "by hand: 60 + 2 * 20");
    double variance = 9 - 2 * exchange * 0.3 + exchange * exchange * 0.04 +
                      4 * (1 - 2 * exchange * 0.01 + exchange * exchange * 0.0009);
    CHECK_NEAR(trimmed.standard, sqrt(variance), 1e-12, "GUM equation 13 by hand");
    CHECK(equal_balance(&part, &flap, NULL, -3, 1.9, &trimmed) == OUTCOME_UNMEASURED);
    CHECK_NEAR(trimmed.setting, 2, 1e-14, "said how far it would take");
    CHECK(isnan(trimmed.delta));
    flap.variance_balance = 0.1;
    CHECK(equal_balance(&part, &flap, NULL, -3, 3, &trimmed) == OUTCOME_SINGULAR);
    flap.variance_balance = -1;
    CHECK(equal_balance(&part, &flap, NULL, -3, 3, &trimmed) == OUTCOME_NOT_FINITE);
}

static void drift_that_bends(void)
{
    const double times[] = {0, 1, 3, 4};
    double values[4];
    struct drift_curvature curvature;

    for (size_t i = 0; i < 4; i++)
        values[i] = 5 - 2 * times[i] + 1.5 * times[i] * times[i];
    CHECK(drift_curvature_find(times, values, 4, 0, &curvature) == OUTCOME_OK);
    CHECK_NEAR(curvature.mean_square, 9, 1e-12, "identity: second derivative 3");
    /* what the line from 1 to 3 misses at 1.5 of the parabola: 1.5 (0.5) (1.5) */
    CHECK_NEAR(drift_curvature_variance(&curvature, 1, 1.5, 3), pow(1.5 * 0.75, 2), 1e-12,
               "identity: parabola");
    CHECK_NEAR(drift_curvature_variance(&curvature, 1, 3, 3), 0, 0, "at a return");
    CHECK(isnan(drift_curvature_variance(&curvature, 1, 3.1, 3)));
    CHECK(drift_curvature_find(times, values, 4, 100, &curvature) == OUTCOME_OK);
    CHECK_NEAR(curvature.mean_square, 0, 0, "noise explains it");
    CHECK(drift_curvature_find(times, values, 2, 0, &curvature) == OUTCOME_OK);
    CHECK_NEAR(drift_curvature_variance(&curvature, 0, 0.5, 1), 0.25 / 12, 1e-15,
               "rectangular over what the baseline moved: 0.5");
    CHECK(drift_curvature_find(times, values, 1, 0, &curvature) == OUTCOME_TOO_FEW);
    CHECK(drift_curvature_find(values, times, 4, 0, &curvature) == OUTCOME_SINGULAR);
    CHECK(drift_curvature_find(times, values, 4, -1, &curvature) == OUTCOME_NOT_FINITE);
    values[1] = (double)NAN;
    CHECK(drift_curvature_find(times, values, 4, 0, &curvature) == OUTCOME_NOT_FINITE);
}

static void estimates_that_disagree(void)
{
    CHECK(estimates_disagree(10, 3, 0, 3.9));
    CHECK(!estimates_disagree(9.8, 3, 0, 4));
    CHECK(!estimates_disagree(1, 1, (double)NAN, 1));
}

CU_TestInfo measures_tests[] = {
    {"shared errors do not average down over attitudes", shared_errors_do_not_average_down},
    {"a ratio of sums", a_ratio_of_sums},
    {"a package against its parts", a_package_against_its_parts},
    {"trimmed to equal balance", trimmed_to_equal_balance},
    {"a shared baseline counts in what is trimmed", a_shared_baseline_counts_in_what_is_trimmed},
    {"sum and difference tell a covariance", sum_and_difference_tell_a_covariance},
    {"drift that bends between returns", drift_that_bends},
    {"estimates that disagree", estimates_that_disagree},
    CU_TEST_INFO_NULL,
};
