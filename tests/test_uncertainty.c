/* test_uncertainty.c - from channels to coefficients and deltas, by steps and by trials.
 *
 * Published: GUM (JCGM 100:2008), annex H.1 (end gauge) and H.2 (resistance and reactance, correlated).
 * H.3 is in test_mixed_model.c. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/statistics/student.h"
#include "reduce/statistics/two_samples.h"
#include "reduce/statistics/uncertainty.h"
#include "reduce/statistics/uncertainty_trials.h"
#include "tests/check.h"

extern CU_TestInfo uncertainty_tests[];

static const char H1[] = "GUM (JCGM 100:2008), H.1";
static const char H2[] = "GUM (JCGM 100:2008), H.2";
static const double known = (double)INFINITY;

/* Length of a gauge against a standard: l = ls + d - ls (da (t + dt) + as dh); the mean temperature of the
 * bed and its cycle are separate. Lengths in nm. */
enum {
    STANDARD,
    READING,
    SYSTEMATIC,
    ALPHA_STANDARD,
    BED,
    CYCLE,
    ALPHA_DIFFERENCE,
    HEAT_DIFFERENCE,
    INPUTS
};

static int find_length(const double *x, double *y, const void *context)
{
    (void)context;
    y[0] = x[STANDARD] + x[READING] + x[SYSTEMATIC] -
           x[STANDARD] *
               (x[ALPHA_DIFFERENCE] * (x[BED] + x[CYCLE]) + x[ALPHA_STANDARD] * x[HEAT_DIFFERENCE]);
    return 1;
}

static const struct measured_point gauge = {find_length, NULL, INPUTS, 1};
static const double gauge_inputs[INPUTS] = {50000623, 215, 0, 11.5e-6, -0.1, 0, 0, 0};

/* Three parts of d's uncertainty (5.8, 3.9, 6.7), then the others; bed and cycle have no first-order part. */
static const struct error_source gauge_sources[] = {
    {STANDARD, 25, 0, 18, REACH_ALWAYS, SHAPE_NORMAL},
    {READING, 5.8, 0, 24, REACH_POINT, SHAPE_NORMAL},
    {SYSTEMATIC, 3.9, 0, 5, REACH_POINT, SHAPE_NORMAL},
    {SYSTEMATIC, 6.7, 0, 8, REACH_ALWAYS, SHAPE_NORMAL},
    {ALPHA_STANDARD, 1.1547005383792515e-6, 0, (double)INFINITY, REACH_ALWAYS, SHAPE_RECTANGULAR},
    {BED, 0.2, 0, (double)INFINITY, REACH_RUN, SHAPE_NORMAL},
    {CYCLE, 0.35355339059327378, 0, (double)INFINITY, REACH_RUN, SHAPE_ARCSINE},
    {ALPHA_DIFFERENCE, 0.57735026918962573e-6, 0, 50, REACH_ALWAYS, SHAPE_RECTANGULAR},
    {HEAT_DIFFERENCE, 0.028867513459481287, 0, 2, REACH_ENTRY, SHAPE_RECTANGULAR},
};
static const struct error_budget gauge_budget = {
    gauge_sources, sizeof gauge_sources / sizeof gauge_sources[0], NULL};

static void the_end_gauge(void)
{
    double contribution[9], bend[9], length = 0;

    CHECK(find_length(gauge_inputs, &length, NULL) == 1);
    CHECK_NEAR(length, 50000838, 0.5, H1);
    CHECK(uncertainty_contributions(&gauge, gauge_inputs, &gauge_budget, contribution, bend) ==
          OUTCOME_OK);
    CHECK_NEAR(fabs(contribution[7]), 2.9, 0.05, H1);
    CHECK_NEAR(fabs(contribution[8]), 16.6, 0.05, H1);
    CHECK_NEAR(contribution[4], 0, 1e-6, H1);
    double d = hypot(hypot(contribution[1], contribution[2]), contribution[3]);
    CHECK_NEAR(d, 9.7, 0.05, H1);
    struct combined combined = uncertainty_absolute(&gauge_budget, contribution, 1, 0);
    CHECK_NEAR(combined.standard, 32, 0.5, H1);
    CHECK_NEAR(combined.standard, 31.6638791110086, 2e-3,
               "computed from the same figures in another language");
    CHECK_NEAR(combined.freedom, 16.75, 0.01, H1);
    CHECK(floor(combined.freedom) == 16);
    CHECK_NEAR(student_multiplier(0.99, floor(combined.freedom)) * combined.standard, 93, 0.6, H1);
    /* the second-order terms of H.1.7 make 34 of it: only trials see them */
    struct trial_request request = {&gauge, &gauge_budget, gauge_inputs, NULL, SHARE_RUN, 0, 200000,
                                    20};
    struct trial_result result;
    CHECK(uncertainty_draw(&request, &result) == OUTCOME_OK && result.failed == 0);
    CHECK_NEAR(result.first.standard, 34, 0.5, H1);
    CHECK_NEAR(result.first.standard, 33.8065454295222, 0.25,
               "second-order terms computed in another language; four standard errors");
    CHECK_NEAR(result.first.mean, 50000838, 0.6, H1);
    CHECK(isnan(result.delta.mean));
    CHECK(!uncertainty_agrees(&result.first, length, 31.66, 1.96));
}

/* Five simultaneous observations of voltage, current and phase; R = V/I cos, X = V/I sin, Z = V/I. */
static int find_impedance(const double *x, double *y, const void *context)
{
    (void)context;
    y[0] = x[0] / x[1] * cos(x[2]);
    y[1] = x[0] / x[1] * sin(x[2]);
    y[2] = x[0] / x[1];
    return x[1] != 0;
}

static void resistance_and_reactance(void)
{
    static const double observed[3][5] = {{5.007, 4.994, 5.005, 4.990, 4.999},
                                          {19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3},
                                          {1.0456, 1.0438, 1.0468, 1.0428, 1.0433}};
    static const double values[] = {127.732, 219.847, 254.260};
    static const double uncertainties[] = {0.071, 0.295, 0.236};
    const struct measured_point impedance = {find_impedance, NULL, 3, 3};
    struct sample_summary summary[3];
    struct error_source sources[3];
    double means[3], correlation[9], contribution[9], outputs[3];

    for (size_t i = 0; i < 3; i++) {
        CHECK(sample_summarise(observed[i], 5, &summary[i]) == OUTCOME_OK);
        means[i] = summary[i].mean;
        sources[i] =
            (struct error_source){i, summary[i].sd / sqrt(5), 0, 4, REACH_RUN, SHAPE_NORMAL};
    }
    for (size_t i = 0; i < 3; i++)
        for (size_t j = 0; j < 3; j++) {
            double sum = 0;
            for (size_t k = 0; k < 5; k++)
                sum += (observed[i][k] - means[i]) * (observed[j][k] - means[j]);
            correlation[i * 3 + j] = i == j ? 1 : sum / 4 / summary[i].sd / summary[j].sd;
        }
    CHECK_NEAR(correlation[1], -0.36, 0.006, H2);
    CHECK_NEAR(correlation[2], 0.86, 0.006, H2);
    CHECK_NEAR(correlation[5], -0.65, 0.006, H2);
    const struct error_budget budget = {sources, 3, correlation}, ignored = {sources, 3, NULL};
    CHECK(uncertainty_contributions(&impedance, means, &budget, contribution, NULL) == OUTCOME_OK);
    CHECK(find_impedance(means, outputs, NULL) == 1);
    for (size_t k = 0; k < 3; k++) {
        CHECK_NEAR(outputs[k], values[k], 1e-3, H2);
        struct combined combined = uncertainty_absolute(&budget, contribution, 3, k);
        CHECK_NEAR(combined.standard, uncertainties[k], 6e-4, H2);
        CHECK_NEAR(combined.freedom, 4, 0, "the least: Satterthwaite's is for independent sources");
        /* ignoring the correlations is what the printed answer excludes */
        combined = uncertainty_absolute(&ignored, contribution, 3, k);
        CHECK(fabs(combined.standard - uncertainties[k]) > 0.02);
    }
    static const double pairs[3][3] = {{0, 1, -0.588}, {0, 2, -0.485}, {1, 2, 0.993}};
    for (size_t k = 0; k < 3; k++) {
        size_t a = (size_t)pairs[k][0], b = (size_t)pairs[k][1];
        double r = uncertainty_covariance(&budget, contribution, 3, a, b) /
                   uncertainty_absolute(&budget, contribution, 3, a).standard /
                   uncertainty_absolute(&budget, contribution, 3, b).standard;
        CHECK_NEAR(r, pairs[k][2], 1.5e-3, H2);
    }
    struct trial_request request = {&impedance, &budget, means, NULL, SHARE_RUN, 1, 100000, 5};
    struct trial_result result;
    CHECK(uncertainty_draw(&request, &result) == OUTCOME_OK);
    CHECK_NEAR(result.first.standard, 0.295, 0.004, H2);
    CHECK(uncertainty_agrees(&result.first, outputs[1], 0.2956, 1.96));
}

/* CD = (D - zero) / (q A). Shared: balance slope, q's scale, area; own: scatter and q's noise. */
static int find_drag(const double *x, double *y, const void *context)
{
    (void)context;
    y[0] = x[0] / (x[1] * x[2]);
    return x[1] > 0;
}

static void what_is_shared_cancels(void)
{
    const struct measured_point drag = {find_drag, NULL, 3, 1};
    const double before[] = {1400, 1500, 1.4}, after[] = {1421, 1500, 1.4};
    const struct error_source sources[] = {
        {0, 2, 0, known, REACH_ENTRY, SHAPE_NORMAL},      /* zero of the balance, N */
        {1, 0.01, 1, known, REACH_ALWAYS, SHAPE_NORMAL},  /* 1 % scale of q */
        {2, 0.005, 1, known, REACH_ALWAYS, SHAPE_NORMAL}, /* area */
        {0, 0.5, 0, 20, REACH_POINT, SHAPE_NORMAL},       /* scatter of the balance, N */
    };
    const struct error_budget budget = {sources, 4, NULL};
    double first[4], second[4];
    double delta = 0.01, scale = hypot(0.01, 0.005);

    CHECK(uncertainty_contributions(&drag, before, &budget, first, NULL) == OUTCOME_OK);
    CHECK(uncertainty_contributions(&drag, after, &budget, second, NULL) == OUTCOME_OK);
    struct combined absolute = uncertainty_absolute(&budget, second, 1, 0);
    struct combined run = uncertainty_delta(&budget, first, second, 1, 0, SHARE_ENTRY);
    struct combined apart = uncertainty_delta(&budget, first, second, 1, 0, SHARE_NOTHING);
    double scatter = sqrt(2) * 0.5 / 2100, zero = 2.0 / 2100;
    CHECK_RELATIVE(run.standard, hypot(scatter, delta * scale), 2e-4,
                   "by hand: 1 % of q is 1 % of the delta, not of the coefficient");
    CHECK_RELATIVE(apart.standard, hypot(hypot(scatter, delta * scale), sqrt(2) * zero), 2e-4,
                   "by hand: zeros of two entries differ");
    CHECK(absolute.standard > 10 * run.standard);
    CHECK_NEAR(run.freedom, 20 * pow(run.standard / scatter, 4), 0.05, "Satterthwaite by hand");
    CHECK_NEAR(uncertainty_delta(&budget, first, first, 1, 0, SHARE_RUN).standard, scatter, 1e-12,
               "identity: only scatter between like points");

    struct trial_request request = {&drag, &budget, before, after, SHARE_ENTRY, 0, 100000, 9};
    struct trial_result result, again;
    CHECK(uncertainty_draw(&request, &result) == OUTCOME_OK);
    CHECK_RELATIVE(result.delta.standard, run.standard, 0.01, "identity: almost straight");
    CHECK_RELATIVE(result.second.standard, absolute.standard, 0.01, "identity: almost straight");
    CHECK_NEAR(result.delta.mean, delta, 1e-5, "identity");
    CHECK(uncertainty_draw(&request, &again) == OUTCOME_OK);
    CHECK_NEAR(again.delta.standard, result.delta.standard, 0, "same seed, same draws");
    CHECK_NEAR(again.second.upper, result.second.upper, 0, "same seed, same draws");
    request.share = SHARE_NOTHING;
    CHECK(uncertainty_draw(&request, &again) == OUTCOME_OK);
    CHECK_RELATIVE(again.delta.standard, apart.standard, 0.01, "identity: almost straight");
}

/* A ratio whose denominator is near 0: the steps do not see the tails. */
static int find_ratio(const double *x, double *y, const void *context)
{
    (void)context;
    y[0] = x[0] / x[1];
    return x[1] > 0;
}

static void bent_functions_are_known(void)
{
    const struct measured_point ratio = {find_ratio, NULL, 2, 1};
    const double near_zero[] = {3, 1}, far[] = {3, 100};
    const struct error_source sources[] = {{0, 0.1, 0, known, REACH_POINT, SHAPE_NORMAL},
                                           {1, 0.3, 0, known, REACH_POINT, SHAPE_RECTANGULAR}};
    const struct error_budget budget = {sources, 2, NULL};
    double contribution[2], bend[2];

    CHECK(uncertainty_contributions(&ratio, near_zero, &budget, contribution, bend) == OUTCOME_OK);
    CHECK(uncertainty_is_bent(&budget, contribution, bend, 1, 0));
    CHECK(uncertainty_contributions(&ratio, far, &budget, contribution, bend) == OUTCOME_OK);
    CHECK(!uncertainty_is_bent(&budget, contribution, bend, 1, 0));
    struct trial_request request = {&ratio, &budget, near_zero, NULL, SHARE_RUN, 0, 50000, 1};
    struct trial_result result;
    CHECK(uncertainty_draw(&request, &result) == OUTCOME_OK);
    /* x uniform on 1 +- 0.3 sqrt 3: the mean of 1/x is a logarithm */
    double half = 0.3 * sqrt(3);
    CHECK_NEAR(result.first.mean, 3 * log((1 + half) / (1 - half)) / (2 * half), 0.03,
               "exact integral");
}

static void draws_have_their_shapes(void)
{
    static const double limit[] = {5.5, 1.7320508075688774, 2.449489742783178, 1.4142135623730951};
    const struct measured_point ratio = {find_ratio, NULL, 2, 1};
    const double at[] = {10, 1};
    for (int shape = 0; shape < 4; shape++) {
        const struct error_source source = {0, 1, 0, known, REACH_POINT, (enum error_shape)shape};
        const struct error_budget budget = {&source, 1, NULL};
        struct trial_request request = {&ratio, &budget, at, NULL, SHARE_RUN, 0, 40000, 3};
        struct trial_result result;
        CHECK(uncertainty_draw(&request, &result) == OUTCOME_OK);
        CHECK_NEAR(result.first.mean, 10, 0.02, "identity");
        CHECK_NEAR(result.first.standard, 1, 0.015, "identity");
        CHECK(result.first.upper - 10 < limit[shape] && 10 - result.first.lower < limit[shape]);
    }
}

static void refuses_by_name(void)
{
    const struct measured_point ratio = {find_ratio, NULL, 2, 1};
    const double at[] = {3, 1}, odd[] = {3, (double)NAN}, below[] = {3, 0.1};
    struct error_source sources[] = {{0, 0.1, 0, known, REACH_POINT, SHAPE_NORMAL},
                                     {1, 0.3, 0, known, REACH_RUN, SHAPE_NORMAL}};
    double correlation[] = {1, 0.5, 0.5, 1}, contribution[2];
    struct error_budget budget = {sources, 2, NULL};
    struct trial_request request = {&ratio, &budget, at, NULL, SHARE_RUN, 0, 1000, 1};
    struct trial_result result;

    CHECK(uncertainty_contributions(&ratio, odd, &budget, contribution, NULL) ==
          OUTCOME_NOT_FINITE);
    CHECK(uncertainty_contributions(&ratio, below, &budget, contribution, NULL) ==
          OUTCOME_UNMEASURED);
    budget.correlation = correlation;
    CHECK(uncertainty_contributions(&ratio, at, &budget, contribution, NULL) == OUTCOME_SINGULAR);
    sources[0].reach = REACH_RUN;
    CHECK(uncertainty_contributions(&ratio, at, &budget, contribution, NULL) == OUTCOME_OK);
    /* cppcheck-suppress unreadVariable; read through a pointer */
    sources[1].shape = SHAPE_RECTANGULAR;
    CHECK(uncertainty_draw(&request, &result) == OUTCOME_SINGULAR);
    /* cppcheck-suppress unreadVariable; read through a pointer */
    correlation[1] = 0.4;
    CHECK(uncertainty_contributions(&ratio, at, &budget, contribution, NULL) == OUTCOME_SINGULAR);
    budget.correlation = NULL;
    sources[1].input = 2;
    CHECK(uncertainty_contributions(&ratio, at, &budget, contribution, NULL) == OUTCOME_SINGULAR);
    /* cppcheck-suppress [redundantAssignment,unreadVariable]; read through a pointer */
    sources[1].input = 1;
    sources[1].standard = 0;
    CHECK(uncertainty_contributions(&ratio, at, &budget, contribution, NULL) == OUTCOME_NOT_FINITE);
    /* cppcheck-suppress unreadVariable; read through a pointer */
    sources[1].standard = 0.3;
    request.trials = 99;
    CHECK(uncertainty_draw(&request, &result) == OUTCOME_TOO_FEW);
    request.trials = 1000;
    request.output = 1;
    CHECK(uncertainty_draw(&request, &result) == OUTCOME_SINGULAR);
    request.output = 0;
    request.first = below; /* a third of the trials divide by less than nothing */
    CHECK(uncertainty_draw(&request, &result) == OUTCOME_TOO_FEW);
    CHECK(result.failed > 100 && isnan(result.first.mean));
}

CU_TestInfo uncertainty_tests[] = {
    {"the end gauge of GUM H.1", the_end_gauge},
    {"resistance and reactance of GUM H.2", resistance_and_reactance},
    {"what two points share cancels, but for its scale", what_is_shared_cancels},
    {"bent functions are known and drawn", bent_functions_are_known},
    {"draws have their shapes", draws_have_their_shapes},
    {"refuses by name", refuses_by_name},
    CU_TEST_INFO_NULL,
};
