/* test_gradient_method.c - what a pressure gradient does, from two measurements. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/buoyancy.h"
#include "reduce/physics/gradient_method.h"
#include "tests/check.h"

static void two_gradients_tell_the_coefficient_without(void)
{
    const struct gradient_pair pair = {{-0.0012, 0.0036}, {0.9124, 0.9004}};
    struct gradient_sensitivity found = {0};
    double part = NAN;
    int beyond = -1;
    CHECK(gradient_sensitivity_of(&pair, 0.0005, &found) == OUTCOME_OK);
    CHECK_RELATIVE(found.slope, -2.5, 1e-12, "worked by hand: -0.0120/0.0048");
    CHECK_RELATIVE(found.slope_u, sqrt(2.0) * 0.0005 / 0.0048, 1e-14, "GUM, equation 10");
    CHECK(gradient_part(&found, -0.0012, &part, &beyond) == OUTCOME_OK && beyond == 0);
    CHECK_NEAR(0.9124 - part, 0.9094, 1e-13, "worked by hand: C1 - s G1");
    CHECK(gradient_part(&found, 0.0036, &part, &beyond) == OUTCOME_OK && beyond == 0);
    CHECK_NEAR(0.9004 - part, 0.9094, 1e-13, "the same from the other");
}

/* Where the gradient acts on the volume alone the method gives the volume's buoyancy. */
static void a_volume_alone(void)
{
    double first = NAN, second = NAN, part = NAN;
    int beyond = -1;
    CHECK(buoyancy_drag(-0.002, 1.2, 0.30, 0.40, &first) == OUTCOME_OK);
    CHECK(buoyancy_drag(0.003, 1.2, 0.30, 0.40, &second) == OUTCOME_OK);
    const struct gradient_pair pair = {{-0.002, 0.003}, {0.8 + first, 0.8 + second}};
    struct gradient_sensitivity found = {0};
    CHECK(gradient_sensitivity_of(&pair, 0.0, &found) == OUTCOME_OK && found.slope_u == 0.0);
    CHECK(gradient_part(&found, -0.002, &part, &beyond) == OUTCOME_OK);
    CHECK_NEAR(part, first, 1e-15, "Glauert, ARC R&M 1566: dD = -(1 + k1) V dp/dx");
}

static void far_from_what_was_measured(void)
{
    const struct gradient_pair near = {{0.004, 0.006}, {1, 2}}, nearer = {{0.002, 0.004}, {1, 2}};
    struct gradient_sensitivity found = {0};
    double part = NAN;
    int beyond = -1;
    CHECK(gradient_sensitivity_of(&near, 0.0, &found) == OUTCOME_OK);
    CHECK(gradient_part(&found, 0.005, &part, &beyond) == OUTCOME_OK && beyond == 1); /* 0 is far */
    CHECK(gradient_sensitivity_of(&nearer, 0.0, &found) == OUTCOME_OK);
    CHECK(gradient_part(&found, 0.003, &part, &beyond) == OUTCOME_OK && beyond == 0);
    CHECK(gradient_part(&found, 0.007, &part, &beyond) == OUTCOME_OK && beyond == 1);
    CHECK(gradient_part(&found, -0.001, &part, &beyond) == OUTCOME_OK && beyond == 1);
}

static void refusals(void)
{
    struct gradient_pair pair = {{0.001, 0.001}, {1, 2}};
    struct gradient_sensitivity found = {.slope = -7};
    double part = -7;
    int beyond = -7;
    CHECK(gradient_sensitivity_of(&pair, 0.0, &found) == OUTCOME_SINGULAR);
    pair.gradient[0] = pair.gradient[1] = 0.0;
    CHECK(gradient_sensitivity_of(&pair, 0.0, &found) == OUTCOME_SINGULAR);
    pair.gradient[0] = NAN;
    CHECK(gradient_sensitivity_of(&pair, 0.0, &found) == OUTCOME_NOT_FINITE);
    pair.gradient[0] = 1.0;
    CHECK(gradient_sensitivity_of(&pair, NAN, &found) == OUTCOME_NOT_FINITE);
    CHECK(gradient_sensitivity_of(&pair, -1.0, &found) == OUTCOME_GEOMETRY);
    pair.coefficient[1] = NAN;
    CHECK(gradient_sensitivity_of(&pair, 0.0, &found) == OUTCOME_NOT_FINITE);
    CHECK(found.slope == -7);
    CHECK(gradient_part(&found, NAN, &part, &beyond) == OUTCOME_NOT_FINITE);
    CHECK(part == -7 && beyond == -7);
}

CU_TestInfo gradient_method_tests[] = {
    {"two gradients tell the coefficient without", two_gradients_tell_the_coefficient_without},
    {"on a volume alone it is buoyancy", a_volume_alone},
    {"far from what was measured", far_from_what_was_measured},
    {"one gradient, no number", refusals},
    CU_TEST_INFO_NULL};
