/* test_target_carry.c - what a carry keeps together, and where it stops. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/target_carry.h"
#include "tests/check.h"

extern CU_TestInfo target_carry_tests[];

enum { POINTS = 7 };

static const double heights[POINTS] = {0.008, 0.009, 0.0104, 0.011, 0.012, 0.013, 0.007};

struct scene {
    struct target target;
    struct attitudes attitudes;
    struct attained_point points[POINTS];
    struct attained_list list;
    struct target_fits fits;
};

/* A facility's own coefficients over the front ride height: three lines that need not add up. */
static void open_scene(struct scene *scene, double shift, double rear_level, double rear_slope)
{
    memset(scene, 0, sizeof *scene);
    scene->target = (struct target){.name = "A", .coordinate = {0.010}, .given = {1}};
    scene->attitudes = (struct attitudes){.tolerance = {1e-4},
                                          .cap = {2e-3},
                                          .capture = {5e-3},
                                          .targets = &scene->target,
                                          .n_targets = 1};
    scene->list = (struct attained_list){scene->points, POINTS};
    for (int i = 0; i < POINTS; i++) {
        double x = heights[i] + shift - 0.010;
        struct attained_point *point = &scene->points[i];
        for (int k = 0; k < ATTITUDE_COUNT; k++)
            point->attitude[k] = k == 0 ? heights[i] + shift : (double)NAN;
        for (int k = 0; k < CARRIED_VALUES; k++)
            point->value[k] = (double)NAN;
        point->value[COEFFICIENT_CD] = 1;
        point->value[COEFFICIENT_CLF] = 1.2 - 4 * x;
        point->value[COEFFICIENT_CLR] = rear_level + rear_slope * x;
        point->value[COEFFICIENT_CL] = 3 - 10 * x;
        point->value[COEFFICIENT_CPM] = 0.3 - 1 * x;
    }
    struct fault fault;
    CHECK_OK(
        target_fits_make(&scene->list, &scene->attitudes, &scene->target, &scene->fits, &fault),
        &fault);
}

static struct carried_value carry(const struct scene *scene, int point)
{
    struct carried_value carried;
    struct attitude_match match = attitude_match(&scene->attitudes, scene->points[point].attitude);
    CHECK(match.target == &scene->target);
    CHECK(target_carry(&scene->fits, &scene->points[point], &match, &carried) == OUTCOME_OK);
    return carried;
}

static void coefficients_that_do_not_add_up_keep_their_own(void)
{
    struct scene scene;
    open_scene(&scene, 0, 1.79, -6);
    struct carried_value carried = carry(&scene, 2);
    CHECK_NEAR(carried.coefficient[COEFFICIENT_CL], 3, 1e-9, "the facility's own line at A");
    CHECK_NEAR(carried.coefficient[COEFFICIENT_CPM], 0.3, 1e-9, "the facility's own line at A");
    CHECK_NEAR(carried.coefficient[COEFFICIENT_CLR], 1.79, 1e-9, "the facility's own line at A");
}

static void coefficients_that_add_up_still_do(void)
{
    struct scene scene;
    open_scene(&scene, 0, 1.8, -6);
    struct carried_value carried = carry(&scene, 2);
    CHECK_NEAR(carried.coefficient[COEFFICIENT_CL],
               carried.coefficient[COEFFICIENT_CLF] + carried.coefficient[COEFFICIENT_CLR], 0,
               "identity: CL = CLF + CLR");
    CHECK_NEAR(carried.coefficient[COEFFICIENT_CPM],
               (carried.coefficient[COEFFICIENT_CLR] - carried.coefficient[COEFFICIENT_CLF]) / 2, 0,
               "identity: CPM = (CLR - CLF)/2");
    CHECK_NEAR(carried.coefficient[COEFFICIENT_CL], 3, 1e-9, "the line at A");
}

static struct carry_beyond beyond(const struct scene *scene, int point)
{
    struct attitude_match match = attitude_match(&scene->attitudes, scene->points[point].attitude);
    return target_carry_beyond(&scene->fits, &scene->points[point], &match);
}

/* Points from 7 to 13 mm about 10 mm, then moved up until 10 mm lies below them all. */
static void a_target_outside_the_points_is_told(void)
{
    struct scene scene;
    open_scene(&scene, 0, 1.8, -6);
    CHECK(beyond(&scene, 2).axis == -1);
    open_scene(&scene, 0.0032, 1.8, -6);
    CHECK_NEAR(scene.fits.gradient[COEFFICIENT_CD].lowest[0], 0.0002, 1e-12, "identity");
    CHECK(beyond(&scene, 0).axis == -1); /* 0.2 mm below a span of 6 mm: the edge of a map */
    open_scene(&scene, 0.0040, 1.8, -6);
    CHECK(beyond(&scene, 6).axis == ATTITUDE_FRONT_RIDE_HEIGHT);
    double span = scene.fits.gradient[COEFFICIENT_CD].highest[0] -
                  scene.fits.gradient[COEFFICIENT_CD].lowest[0];
    CHECK_NEAR(beyond(&scene, 6).share, 0.001 / span, 1e-9, "identity: 1 mm below the lowest");
    scene.attitudes.tolerance[0] = scene.fits.tolerance[0] = 0.0015;
    CHECK(beyond(&scene, 6).axis == -1); /* not carried on this axis, so nothing is extrapolated */
}

CU_TestInfo target_carry_tests[] = {
    {"coefficients that do not add up keep their own",
     coefficients_that_do_not_add_up_keep_their_own},
    {"coefficients that add up still do", coefficients_that_add_up_still_do},
    {"a target outside the points is told", a_target_outside_the_points_is_told},
    CU_TEST_INFO_NULL};
