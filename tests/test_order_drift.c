/* test_order_drift.c - what a drift that nobody takes out does to the intervals of an order.
 *
 * Mean of B less mean of A, noise known, 95 %: the difference is normal about its bias, so coverage has a
 * closed form, and a simulation has to agree with it. Figures that are quoted elsewhere for a straight drift,
 * A B 0.891 and A A B B 0.620, do not belong to one definition: a drift of exactly one standard deviation a run
 * gives 0.891 and 0.484, a slope drawn anew each night, normal with that standard deviation, 0.890 and 0.619.
 * Both are here. Those of the walk (0.940, 0.935, 0.905 for A B A, A B, A A B B) and of no drift are one. */
#include <CUnit/CUnit.h>
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

#include "reduce/statistics/run_order.h"
#include "reduce/statistics/student.h"
#include "tests/check.h"
#include "tests/noise.h"

extern CU_TestInfo order_drift_tests[];

static const char CLOSED[] = "closed form in R, tests/oracles/run_orders.R";

enum { LONGEST = 8 };
enum drift { STEADY, STRAIGHT, DRAWN, WALK, DRIFTS };

static const struct {
    const char *letters;
    double coverage[DRIFTS];
} rows[] = {
    {"ABA", {0.95, 0.95, 0.95, 0.9403094547}},
    {"AB", {0.95, 0.8910453824, 0.8904688161, 0.9353791041}},
    {"AABB", {0.95, 0.4839947260, 0.6192539719, 0.9053697196}},
    {"ABBA", {0.95, 0.95, 0.95, 0.9353791041}},
};

enum { ROWS = sizeof rows / sizeof rows[0] };

/* Weights of the runs in the difference of the means. */
static size_t weigh(const char *letters, double *weight)
{
    size_t n = strlen(letters), count[2] = {0, 0};

    for (size_t i = 0; i < n; i++)
        count[letters[i] == 'B']++;
    for (size_t i = 0; i < n; i++)
        weight[i] = letters[i] == 'B' ? 1 / (double)count[1] : -1 / (double)count[0];
    return n;
}

/* Without drift in the model the worth of an order is the variance of that difference. */
static double half_width(const char *letters)
{
    size_t order[LONGEST], n = strlen(letters);
    struct order_worth worth;

    for (size_t i = 0; i < n; i++)
        order[i] = letters[i] == 'B';
    CHECK(order_worth(order, n, 1, 0, &worth) == OUTCOME_OK);
    return student_multiplier(0.95, INFINITY) * sqrt(worth.factor);
}

static double held(double bias, double variance, double half)
{
    double sd = sqrt(variance);
    return gsl_cdf_ugaussian_P((half - bias) / sd) - gsl_cdf_ugaussian_P((-half - bias) / sd);
}

static double coverage_of(const char *letters, enum drift drift)
{
    double weight[LONGEST], half = half_width(letters);
    size_t n = weigh(letters, weight);
    double noise = 0, slope = 0, walk = 0;

    for (size_t i = 0; i < n; i++) {
        noise += weight[i] * weight[i];
        slope += weight[i] * (double)i;
        for (size_t j = 0; j < n; j++)
            walk += 0.25 * weight[i] * weight[j] * fmin((double)i, (double)j);
    }
    const double bias[] = {0, slope, 0, 0};
    const double added[] = {0, 0, slope * slope, walk};
    return held(bias[drift], noise + added[drift], half);
}

static void coverage_has_a_closed_form(void)
{
    for (size_t k = 0; k < ROWS; k++)
        for (int drift = 0; drift < DRIFTS; drift++)
            CHECK_NEAR(coverage_of(rows[k].letters, (enum drift)drift), rows[k].coverage[drift],
                       1e-9, CLOSED);
}

static double simulated_difference(const double *weight, size_t n, enum drift drift,
                                   uint64_t *random)
{
    double slope = drift == STRAIGHT ? 1 : drift == DRAWN ? noise_normal(random) : 0;
    double walked = 0, difference = 0;

    for (size_t i = 0; i < n; i++) {
        if (drift == WALK && i > 0)
            walked += 0.5 * noise_normal(random);
        difference += weight[i] * (noise_normal(random) + slope * (double)i + walked);
    }
    return difference;
}

/* Four standard errors of this many nights. */
static void simulated_nights_agree(void)
{
    enum { NIGHTS = 20000 };
    uint64_t random = 11;

    for (size_t k = 0; k < ROWS; k++)
        for (int drift = 0; drift < DRIFTS; drift++) {
            double weight[LONGEST], half = half_width(rows[k].letters);
            double want = rows[k].coverage[drift];
            size_t n = weigh(rows[k].letters, weight), inside = 0;
            for (size_t night = 0; night < NIGHTS; night++)
                inside += fabs(simulated_difference(weight, n, (enum drift)drift, &random)) <= half;
            CHECK_NEAR((double)inside / NIGHTS, want, 4 * sqrt(want * (1 - want) / NIGHTS), CLOSED);
        }
}

/* With the drift in the model the estimate has no bias and its variance is the order's worth: 0.95 again,
 * wherever the difference can be told from the drift at all. */
static void a_drift_in_the_model_does_no_harm(void)
{
    static const size_t aabb[] = {0, 0, 1, 1}, ab[] = {0, 1};
    struct order_worth worth;

    CHECK(order_worth(ab, 2, 1, 1, &worth) == OUTCOME_SINGULAR);
    CHECK(order_worth(aabb, 4, 1, 1, &worth) == OUTCOME_OK);
    /* b2 - b1 and a2 - a1 tell the slope: difference of the means less twice their mean */
    static const double weight[] = {-0.5 + 1, -0.5 - 1, 0.5 + 1, 0.5 - 1};
    double variance = 0, sum = 0, slope = 0;
    for (size_t i = 0; i < 4; i++) {
        variance += weight[i] * weight[i];
        sum += weight[i];
        slope += weight[i] * (double)i;
    }
    CHECK_NEAR(sum, 0, 0, "identity");
    CHECK_NEAR(slope, 0, 0, "by hand: a straight drift cancels");
    CHECK_NEAR(worth.factor, variance, 1e-12, "by hand: weights of the estimate");
}

CU_TestInfo order_drift_tests[] = {
    {"coverage with a drift left in has a closed form", coverage_has_a_closed_form},
    {"simulated nights agree with it", simulated_nights_agree},
    {"a drift in the model does no harm", a_drift_in_the_model_does_no_harm},
    CU_TEST_INFO_NULL,
};
