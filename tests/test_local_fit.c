/* test_local_fit.c - slopes about an attitude and the last step to it. Surfaces are invented. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stddef.h>

#include "reduce/statistics/local_fit.h"
#include "tests/check.h"

extern CU_TestInfo local_fit_tests[];

enum { SIDE = 5, GRID = SIDE * SIDE };

struct sample {
    double coordinate[3 * GRID];
    double value[GRID];
    int group[GRID];
    double scale[3];
};

/* A grid of `side` x `side` points about the target; the first axis steps by dx, the second by
 * dy. */
static struct local_points make_grid(struct sample *sample, size_t side, double dx, double dy)
{
    struct local_points points = {sample->coordinate, sample->value, sample->group, side * side, 2,
                                  sample->scale};
    for (size_t i = 0; i < points.n; i++) {
        double middle = 0.5 * (double)(side - 1);
        size_t row = i / side;
        sample->coordinate[2 * i] = dx * ((double)(i % side) - middle);
        sample->coordinate[2 * i + 1] = dy * ((double)row - middle);
        sample->group[i] = 0;
    }
    sample->scale[0] = fabs(dx);
    sample->scale[1] = fabs(dy);
    return points;
}

static void set(double *place, double value)
{
    *place = value;
}

static void set_quadratic(struct sample *sample, size_t n, const double level[2],
                          const double slope[2], const double curvature[2], double product)
{
    for (size_t i = 0; i < n; i++) {
        double x = sample->coordinate[2 * i];
        double y = sample->coordinate[2 * i + 1];
        sample->value[i] = level[sample->group[i]] + slope[0] * x + slope[1] * y +
                           0.5 * curvature[0] * x * x + 0.5 * curvature[1] * y * y +
                           product * x * y;
    }
}

static void recovers_a_plane(void)
{
    static const double level[2] = {3, 0}, slope[2] = {-22, 8}, none[2] = {0, 0};
    struct sample sample;
    struct local_gradient gradient;
    struct local_points points = make_grid(&sample, 3, 0.002, 0.004);

    set_quadratic(&sample, points.n, level, slope, none, 0);
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_OK);
    CHECK_NEAR(gradient.slope[0], -22, 1e-9, "identity: plane");
    CHECK_NEAR(gradient.slope[1], 8, 1e-9, "identity: plane");
    CHECK_NEAR(gradient.curvature[0], 0, 1e-5, "identity: plane");
    CHECK_NEAR(gradient.residual_sd, 0, 1e-12, "identity: plane");
    CHECK(gradient.varies[0] && gradient.varies[1]);
    CHECK(gradient.used == 9);
}

static void recovers_a_quadratic_and_levels(void)
{
    static const double level[2] = {3, 5}, slope[2] = {-0.264, 0.128},
                        curvature[2] = {-0.12, -0.18};
    struct sample sample;
    struct local_gradient gradient;
    struct local_points points = make_grid(&sample, 5, 0.1, 0.1);
    double change = 0;
    double uncertainty = 0;

    for (size_t i = 0; i < points.n; i++)
        sample.group[i] = i % 3 == 0; /* two runs, each with its own level */
    set_quadratic(&sample, points.n, level, slope, curvature, 0);
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_OK);
    CHECK_NEAR(gradient.slope[0], -0.264, 1e-12, "identity: quadratic");
    CHECK_NEAR(gradient.slope[1], 0.128, 1e-12, "identity: quadratic");
    CHECK_NEAR(gradient.curvature[0], -0.12, 1e-10, "identity: quadratic");
    CHECK_NEAR(gradient.curvature[1], -0.18, 1e-10, "identity: quadratic");
    const double step[2] = {0.03, -0.02};
    CHECK(local_gradient_carry(&gradient, step, 2, &change, &uncertainty) == OUTCOME_OK);
    CHECK_NEAR(change, -0.264 * 0.03 - 0.128 * 0.02 - 0.06 * 0.0009 - 0.09 * 0.0004, 1e-12,
               "identity: quadratic");
    CHECK_NEAR(uncertainty, 0, 1e-12, "identity: quadratic");
}

/* y = 3.1 - .22a + .08b - .06a^2 - .09b^2 + .04ab about (0.30, -0.20), carried to (0.25, -0.15). */
static void carries_a_known_step(void)
{
    static const double level[2] = {3.0084, 0}, slope[2] = {-0.264, 0.128};
    static const double curvature[2] = {-0.12, -0.18};
    const double step[2] = {-0.05, 0.05};
    struct sample sample;
    struct local_gradient gradient;
    struct local_points points = make_grid(&sample, 5, 0.1, 0.1);
    double change = 0;
    double uncertainty = 0;

    set_quadratic(&sample, points.n, level, slope, curvature, 0.04);
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_OK);
    CHECK(local_gradient_carry(&gradient, step, 2, &change, &uncertainty) == OUTCOME_OK);
    CHECK_NEAR(gradient.slope[0] * step[0] + gradient.slope[1] * step[1], 0.0196, 1e-12,
               "response surface exercise, gradient only, computed independently");
    /* exact 0.019125; the product of axes, 0.04 step step = -0.0001, is not fitted */
    CHECK_NEAR(change, 0.019125 + 0.0001, 1e-12,
               "response surface exercise, exact surface, computed independently");
    CHECK(uncertainty > 0);
}

/* Pairs of points with errors of 0.1 that balance. */
static void states_the_uncertainty_of_a_slope(void)
{
    const double coordinate[] = {-2, -1, 0, 1, 2, -2, -1, 0, 1, 2};
    const double value[] = {-2.1, -0.9, 0.1, 1.1, 1.9, -1.9, -1.1, -0.1, 0.9, 2.1};
    const int group[10] = {0};
    const double scale[] = {100}; /* within a tenth of it: one value, so nothing varies */
    const double finer[] = {1};
    struct local_points points = {coordinate, value, group, 10, 1, scale};
    struct local_gradient gradient;

    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_SINGULAR);
    points.scale = finer;
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_OK);
    CHECK_NEAR(gradient.slope[0], 1, 1e-12, "identity: errors balance");
    /* Six points at -1, 0, 1 are enough, those at -1 and 1 of one weight w: slope's variance over
     * s^2 is 4 w^2/(4 w)^2. The square passes through the pairs' means: s^2 = 2 (0.1)^2, half a
     * degree lost by each point. */
    CHECK(gradient.used == 6);
    /* What is left over is the difference within each of three pairs, of weights w, 1 and w. */
    double w = pow(1 - pow(1 / 1.25, 3), 3);
    CHECK_NEAR(gradient.degrees_of_freedom, (2 * w + 1) * (2 * w + 1) / (2 * w * w + 1), 1e-9,
               "hand calculation: (tr M)^2 / tr(M^2)");
    CHECK_NEAR(gradient.lowest[0], -1, 0, "the points used");
    CHECK_NEAR(gradient.highest[0], 1, 0, "the points used");
    CHECK_NEAR(local_gradient_beyond(&gradient, 0), 0, 0, "the target lies among them");
    gradient.lowest[0] = 0.5;
    CHECK_NEAR(local_gradient_beyond(&gradient, 0), 1, 1e-15, "hand calculation: 0.5 below 0.5");
    gradient.lowest[0] = -3;
    gradient.highest[0] = -1;
    CHECK_NEAR(local_gradient_beyond(&gradient, 0), 0.5, 1e-15, "hand calculation: 1 above 2");
    CHECK_NEAR(gradient.residual_sd, sqrt(0.02), 1e-12, "hand calculation");
    CHECK_NEAR(gradient.covariance[0], 0.02 / 4, 1e-12, "hand calculation");
    /* The square is twice the mean of four at -1 and 1 minus the mean of two at 0. */
    CHECK_NEAR(gradient.covariance[3], 0.02 * 4 * (1.0 / 4 + 1.0 / 2), 1e-12, "hand calculation");
    CHECK_NEAR(gradient.covariance[1], 0, 1e-12, "identity: symmetric points");
    const double step[] = {1};
    double change = 0;
    double uncertainty = 0;
    CHECK(local_gradient_carry(&gradient, step, 1, &change, &uncertainty) == OUTCOME_OK);
    CHECK_NEAR(uncertainty, sqrt(0.02), 1e-12,
               "hand calculation: mean of two points at 1 minus that of two at 0");
}

static void leaves_an_axis_that_does_not_vary(void)
{
    struct sample sample;
    struct local_gradient gradient;
    struct local_points points = make_grid(&sample, 3, 0.002, 0.00001);
    double change = 0;
    double uncertainty = 0;
    const double along[2] = {0.0002, 0}, across[2] = {0.0002, 0.0001};

    sample.scale[1] = 0.001; /* the second axis only jitters */
    for (size_t i = 0; i < points.n; i++)
        set(&sample.value[i], 1 + 40 * sample.coordinate[2 * i]);
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_OK);
    CHECK(gradient.varies[0] == 1 && gradient.varies[1] == 0);
    CHECK_NEAR(gradient.slope[0], 40, 1e-9, "identity: line");
    CHECK_NEAR(gradient.slope[1], 0, 0, "identity: line");
    CHECK(local_gradient_carry(&gradient, along, 2, &change, &uncertainty) == OUTCOME_OK);
    CHECK_NEAR(change, 0.008, 1e-12, "identity: line");
    CHECK(local_gradient_carry(&gradient, across, 2, &change, &uncertainty) == OUTCOME_SINGULAR);
    CHECK(isnan(change) && isnan(uncertainty));
}

static void refuses_axes_that_move_together(void)
{
    struct sample sample;
    struct local_gradient gradient;
    struct local_points points = make_grid(&sample, 3, 1, 1);

    for (size_t i = 0; i < points.n; i++) {
        sample.coordinate[2 * i + 1] = 2 * sample.coordinate[2 * i];
        sample.value[i] = (double)i;
    }
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_SINGULAR);
    CHECK(!gradient.varies[0] && isnan(gradient.residual_sd));
}

/* Each run at one height only: a slope could not be told from the runs' levels. */
static void does_not_compare_runs(void)
{
    struct sample sample;
    struct local_gradient gradient;
    struct local_points points = make_grid(&sample, 3, 1, 1);

    points.axes = 1;
    for (size_t i = 0; i < points.n; i++) {
        sample.coordinate[i] = (double)(i % 3) - 1;
        sample.group[i] = (int)(i % 3);
        sample.value[i] = sample.coordinate[i];
    }
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_SINGULAR);
}

static void needs_more_points_than_terms(void)
{
    const double coordinate[] = {-1, 0.5, 1, 2};
    const double value[] = {-1, 0.5, 1, 2};
    const int group[] = {0, 0, 0, 0};
    const double scale[] = {1};
    struct local_points points = {coordinate, value, group, 4, 1, scale};
    struct local_gradient gradient;

    /* one level and one slope leave two to spare; a square would leave one */
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_OK);
    CHECK_NEAR(gradient.slope[0], 1, 1e-12, "identity: line");
    CHECK_NEAR(gradient.curvature[0], 0, 0, "identity: not fitted");
    points.n = 3;
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_TOO_FEW);
    points.n = 0;
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_TOO_FEW);
}

/* The far points bend the other way; near ones decide, on both sides of the target. */
static void rests_on_the_nearest(void)
{
    double coordinate[41];
    double value[41];
    int group[41] = {0};
    const double scale[] = {1};
    struct local_points points = {coordinate, value, group, 41, 1, scale};
    struct local_gradient gradient;

    for (size_t i = 0; i < 41; i++) {
        coordinate[i] = (double)i - 10;
        value[i] = fabs(coordinate[i]) < 4 ? 2 * coordinate[i] : -100;
    }
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_OK);
    CHECK_NEAR(gradient.slope[0], 2, 1e-12, "identity: line near the target");
    CHECK(gradient.used < 8);
    /* from the edge of the points there is only one side */
    for (size_t i = 0; i < 41; i++) {
        coordinate[i] = (double)i;
        set(&value[i], i < 7 ? 2 * coordinate[i] : -100);
    }
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_OK);
    CHECK_NEAR(gradient.slope[0], 2, 1e-12, "identity: line near the target");
}

static void refuses_what_is_not_finite(void)
{
    struct sample sample;
    struct local_gradient gradient = {.varies = {1, 1}};
    struct local_points points = make_grid(&sample, 3, 1, 1);
    const double step[2] = {(double)NAN, 0};
    double change = 0;
    double uncertainty = 0;

    CHECK(local_gradient_carry(&gradient, step, 2, &change, &uncertainty) == OUTCOME_NOT_FINITE);
    for (size_t i = 0; i < points.n; i++)
        sample.value[i] = (double)i;
    set(&sample.value[4], (double)NAN);
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_NOT_FINITE);
    set(&sample.value[4], 4);
    set(&sample.coordinate[3], (double)INFINITY);
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_NOT_FINITE);
    set(&sample.coordinate[3], 0);
    sample.scale[1] = 0;
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_NOT_FINITE);
    set(&sample.scale[1], 1);
    points.axes = 0;
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_SINGULAR);
    points.axes = LOCAL_AXES_MAX + 1;
    CHECK(local_gradient_fit(&points, &gradient) == OUTCOME_SINGULAR);
}

CU_TestInfo local_fit_tests[] = {
    {"recovers a plane", recovers_a_plane},
    {"recovers a quadratic with a level for each run", recovers_a_quadratic_and_levels},
    {"carries a known step", carries_a_known_step},
    {"states the uncertainty of a slope", states_the_uncertainty_of_a_slope},
    {"leaves out an axis that does not vary", leaves_an_axis_that_does_not_vary},
    {"refuses axes that move together", refuses_axes_that_move_together},
    {"does not compare runs", does_not_compare_runs},
    {"needs two points more than levels and terms", needs_more_points_than_terms},
    {"rests on the nearest points, on both sides", rests_on_the_nearest},
    {"refuses what is not finite", refuses_what_is_not_finite},
    CU_TEST_INFO_NULL,
};
