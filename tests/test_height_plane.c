/* test_height_plane.c - ride heights from height readings: poses, redundancy, places that fix nothing.
 *
 * The numbers come from tests/oracles/height_pose.py: rotation matrices for the poses, normal equations
 * in exact fractions for the fit. Poses, places and readings are invented.                          */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/constants.h"
#include "reduce/physics/height_plane.h"
#include "tests/check.h"

static const char oracle[] = "tests/oracles/height_pose.py";
static const double wheelbase = 1.45;
static const struct height_place places[] = {
    {-0.60, -0.20}, {-0.55, 0.22}, {0.70, 0.05}, {0.10, -0.31}, {0.68, -0.11}};
static const double posed[] = {0.015695882535512944, 0.022692855587870306, 0.048679062831151504,
                               0.030041571510009867};
static const double readings[] = {0.0251, 0.0249, 0.0412, 0.0338, 0.0405};

static void check_pose(const struct height_plane *plane)
{
    CHECK_NEAR(plane->front, 0.015651683159733514, 1e-12, oracle);
    CHECK_NEAR(plane->rear, 0.048548316840266476, 1e-12, oracle);
    CHECK_NEAR(plane->pitch, 1.3 * PI / 180, 1e-12, oracle);
    CHECK_NEAR(plane->roll, -0.8 * PI / 180, 1e-12, oracle);
}

static void a_known_pose_is_found_again(void)
{
    struct height_plane plane;
    CHECK(height_plane_fit(HEIGHT_PLANE, places, posed, 3, wheelbase, &plane) == OUTCOME_OK);
    check_pose(&plane);
    CHECK(plane.spare == 0);
    CHECK(height_plane_fit(HEIGHT_PLANE, places, posed, 4, wheelbase, &plane) == OUTCOME_OK);
    check_pose(&plane);
    CHECK(plane.spare == 1);
    for (int i = 0; i < 4; i++)
        CHECK_NEAR(plane.residual[i], 0, 1e-12, "identity: the pose has no noise");
}

/* One sensor a corner, 1 mm more or less: the signs that a person can see. */
static void nose_down_and_right_side_down_are_positive(void)
{
    static const struct height_place corners[] = {{-1, -1}, {-1, 1}, {1, -1}, {1, 1}};
    static const double nose_down[] = {0.029, 0.029, 0.031, 0.031};
    static const double right_down[] = {0.031, 0.029, 0.031, 0.029};
    struct height_plane plane;
    CHECK(height_plane_fit(HEIGHT_PLANE, corners, nose_down, 4, 2, &plane) == OUTCOME_OK);
    CHECK_NEAR(plane.pitch, asin(0.001), 1e-15, "schema/campaign.h: pitch positive nose down");
    CHECK_NEAR(plane.roll, 0, 1e-15, "identity");
    CHECK_NEAR(plane.front, 0.029, 1e-15, "identity: the front is at x = -W/2");
    CHECK_NEAR(plane.rear, 0.031, 1e-15, "identity");
    CHECK(height_plane_fit(HEIGHT_PLANE, corners, right_down, 4, 2, &plane) == OUTCOME_OK);
    CHECK_NEAR(plane.roll, asin(0.001), 1e-15, "schema/campaign.h: roll positive right side down");
    CHECK_NEAR(plane.pitch, 0, 1e-15, "identity");
    CHECK_NEAR(plane.front, 0.030, 1e-15, "identity: heights are those of the centreline");
}

static void spare_sensors_leave_residuals(void)
{
    static const double residual[] = {0.0001519994298913475, -0.00013881643838167289,
                                      0.0003349192154987286, -2.9511494381883771e-05,
                                      -0.00031859071262651942};
    struct height_plane plane;
    double variance = 0;
    CHECK(height_plane_fit(HEIGHT_PLANE, places, readings, 5, wheelbase, &plane) == OUTCOME_OK);
    CHECK_NEAR(plane.a, 0.032186844351538915, 1e-12, oracle);
    CHECK_NEAR(plane.b, 0.012488228159281434, 1e-12, oracle);
    CHECK_NEAR(plane.c, -0.0012704655706929793, 1e-12, oracle);
    CHECK_NEAR(plane.front, 0.023132878936059878, 1e-12, oracle);
    CHECK_NEAR(plane.rear, 0.041240809767017959, 1e-12, oracle);
    for (int i = 0; i < 5; i++) {
        double again = 0;
        for (int j = 0; j < 5; j++)
            again += plane.residual_of[i][j] * readings[j];
        CHECK_NEAR(plane.residual[i], residual[i], 1e-12, oracle);
        CHECK_NEAR(again, residual[i], 1e-12, oracle);
        variance += plane.front_of[i] * plane.front_of[i];
    }
    CHECK_NEAR(sqrt(variance), 0.77620663463391437, 1e-12, oracle);
}

/* Each linear form against a difference of two fits; linear ones exactly, angles to their curvature. */
static void forms_are_the_derivatives(void)
{
    struct height_plane plane, above, below;
    double moved[5];
    const double step = 1e-5;
    CHECK(height_plane_fit(HEIGHT_PLANE, places, posed, 4, wheelbase, &plane) == OUTCOME_OK);
    for (int i = 0; i < 4; i++) {
        for (int k = 0; k < 4; k++)
            moved[k] = posed[k];
        moved[i] = posed[i] + step;
        CHECK(height_plane_fit(HEIGHT_PLANE, places, moved, 4, wheelbase, &above) == OUTCOME_OK);
        moved[i] = posed[i] - step;
        CHECK(height_plane_fit(HEIGHT_PLANE, places, moved, 4, wheelbase, &below) == OUTCOME_OK);
        CHECK_NEAR((above.front - below.front) / (2 * step), plane.front_of[i], 1e-10, "identity");
        CHECK_NEAR((above.rear - below.rear) / (2 * step), plane.rear_of[i], 1e-10, "identity");
        CHECK_NEAR((above.pitch - below.pitch) / (2 * step), plane.pitch_of[i], 1e-8,
                   "identity: central difference");
        CHECK_NEAR((above.roll - below.roll) / (2 * step), plane.roll_of[i], 1e-8,
                   "identity: central difference");
    }
}

static void two_on_the_centreline_make_a_line(void)
{
    static const struct height_place line[] = {{-0.5, 0}, {0.75, 0}, {0.1, 0}};
    static const double height[] = {0.020, 0.045, 0.032};
    struct height_plane plane;
    CHECK(height_plane_fit(HEIGHT_LINE, line, height, 2, 1.5, &plane) == OUTCOME_OK);
    CHECK_NEAR(plane.b, 0.02, 1e-15, "by hand: 25 mm over 1.25 m");
    CHECK_NEAR(plane.front, 0.015, 1e-15, "by hand: 20 mm - 0.25 m * 0.02");
    CHECK_NEAR(plane.rear, 0.045, 1e-15, "by hand: the sensor at the axle");
    CHECK_NEAR(plane.pitch, asin(0.02), 1e-15, "identity");
    CHECK(isnan(plane.roll) && isnan(plane.roll_of[0]) && plane.c == 0);
    CHECK(height_plane_fit(HEIGHT_LINE, line, height, 3, 1.5, &plane) == OUTCOME_OK);
    CHECK(plane.spare == 1);
    CHECK_NEAR(height_rank(HEIGHT_PLANE, line, 3, NULL), 2, 0, "three on one line");
}

static void places_that_fix_nothing_are_told(void)
{
    static const struct height_place aft[] = {{-0.5, 0.2}, {0.5, 0.2}, {0.1, 0.2}};
    static const struct height_place across[] = {{0.3, -0.5}, {0.3, 0.5}, {0.3, 0.1}};
    static const struct height_place slanted[] = {{-1, -1}, {0, 0}, {1, 1}};
    static const struct height_place one[] = {{0.3, 0.2}, {0.3, 0.2}, {0.3002, 0.2}};
    static const double height[] = {0.02, 0.03, 0.04};
    struct height_place missing;
    struct height_plane plane = {.n = 77};
    CHECK(height_rank(HEIGHT_PLANE, aft, 3, &missing) == 2);
    CHECK_NEAR(fabs(missing.y), 1, 1e-12, "by hand: nothing lies off the line in y");
    CHECK(height_rank(HEIGHT_PLANE, across, 3, &missing) == 2);
    CHECK_NEAR(fabs(missing.x), 1, 1e-12, "by hand");
    CHECK(height_rank(HEIGHT_PLANE, slanted, 3, &missing) == 2);
    CHECK_NEAR(missing.x * missing.y, -0.5, 1e-12, "by hand: across the diagonal");
    CHECK(height_rank(HEIGHT_PLANE, one, 3, &missing) == 1);
    CHECK(missing.x == 0 && missing.y == 0);
    CHECK(height_rank(HEIGHT_LINE, across, 3, &missing) == 1);
    CHECK_NEAR(missing.x, 1, 0, "a line needs two x");
    CHECK(height_rank(HEIGHT_PLANE, places, 5, &missing) == 3);
    CHECK(height_rank(HEIGHT_PLANE, places, 0, &missing) == 0);
    CHECK(height_plane_fit(HEIGHT_PLANE, slanted, height, 3, 1, &plane) == OUTCOME_SINGULAR);
    CHECK(height_plane_fit(HEIGHT_LINE, across, height, 3, 1, &plane) == OUTCOME_SINGULAR);
    CHECK(plane.n == 77);
}

static void what_cannot_be_fitted_is_refused(void)
{
    struct height_place nine[9] = {{0, 0}};
    double height[9] = {0.02, 0.03, 0.04};
    struct height_plane plane = {.n = 77};
    CHECK(height_plane_fit(HEIGHT_PLANE, places, height, 2, 1, &plane) == OUTCOME_TOO_FEW);
    CHECK(height_plane_fit(HEIGHT_LINE, places, height, 1, 1, &plane) == OUTCOME_TOO_FEW);
    CHECK(height_plane_fit(HEIGHT_PLANE, nine, height, 9, 1, &plane) == OUTCOME_TOO_FEW);
    CHECK(height_plane_fit(HEIGHT_PLANE, places, height, 3, 0, &plane) == OUTCOME_GEOMETRY);
    CHECK(height_plane_fit(HEIGHT_PLANE, places, height, 3, (double)NAN, &plane) ==
          OUTCOME_NOT_FINITE);
    height[1] = (double)NAN;
    CHECK(height_plane_fit(HEIGHT_PLANE, places, height, 3, 1, &plane) == OUTCOME_NOT_FINITE);
    height[1] = 30; /* mm taken for m: steeper than upright */
    CHECK(height_plane_fit(HEIGHT_PLANE, places, height, 3, 1, &plane) == OUTCOME_GEOMETRY);
    nine[0].x = (double)INFINITY;
    height[1] = 0.03;
    CHECK(height_plane_fit(HEIGHT_PLANE, nine, height, 3, 1, &plane) == OUTCOME_NOT_FINITE);
    CHECK(plane.n == 77);
}

CU_TestInfo height_plane_tests[] = {
    {"a known pose is found again", a_known_pose_is_found_again},
    {"nose down and right side down are positive", nose_down_and_right_side_down_are_positive},
    {"spare sensors leave residuals", spare_sensors_leave_residuals},
    {"forms are the derivatives", forms_are_the_derivatives},
    {"two on the centreline make a line", two_on_the_centreline_make_a_line},
    {"places that fix nothing are told", places_that_fix_nothing_are_told},
    {"what cannot be fitted is refused", what_cannot_be_fitted_is_refused},
    CU_TEST_INFO_NULL};
