/* test_tunnel_uncertainty.c - propagation against closed forms, and shared scatter that cancels. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/tunnel_uncertainty.h"
#include "tests/check.h"

static const char *const gum = "JCGM 100:2008 (GUM), equation 13, closed form";

/* Loads given at the origin, q given, no corrections: CD = Fx/(qA), everything in closed form. */
static const struct tunnel_recipe plain = {.source = LOADS_READY,
                                           .axis_sign = {1, 1, 1},
                                           .moment_sign = {1, 1, 1},
                                           .q_source = Q_GIVEN,
                                           .dry_air = 1,
                                           .reference_area = 1.5,
                                           .wheelbase = 3.0,
                                           .blockage = "none"};

static const struct tunnel_inputs reading = {.output = {1500, 30, -4500, 20, 600, -10},
                                             .static_pressure = 100000,
                                             .total_pressure = NAN,
                                             .total_minus_static = NAN,
                                             .total_temperature = NAN,
                                             .static_temperature = 293.15,
                                             .dynamic_pressure = 1500};

static void independent_scatter_adds_in_squares(void)
{
    const enum tunnel_varied varied[] = {VARIED_OUTPUT_1, VARIED_DYNAMIC_PRESSURE};
    const double covariance[] = {9.0, 0.0, 0.0, 9.0}; /* 3 N, 3 Pa: 0.2 % each */
    struct tunnel_uncertainty u = {{0}, 0, 0};
    CHECK(tunnel_uncertainty(&plain, &reading, varied, 2, covariance, &u) == OUTCOME_OK);
    double drag = 1500.0 / (1500 * 1.5), downforce = 4500.0 / (1500 * 1.5);
    CHECK_RELATIVE(u.coefficient[COEFFICIENT_CD], drag * sqrt(2.0) * 0.002, 1e-5, gum);
    CHECK_RELATIVE(u.coefficient[COEFFICIENT_CL], downforce * 0.002, 1e-5, gum);
    CHECK_NEAR(u.balance, 0.0, 1e-12, "identity: balance knows neither Fx nor q here");
    CHECK_RELATIVE(u.lift_to_drag, 3.0 * 0.002, 1e-5, gum);
}

/* Gusts: load and q rise together, the coefficient hardly moves. */
static void shared_scatter_cancels(void)
{
    const enum tunnel_varied varied[] = {VARIED_OUTPUT_1, VARIED_DYNAMIC_PRESSURE};
    const double covariance[] = {9.0, 9.0, 9.0, 9.0};
    struct tunnel_uncertainty u = {{0}, 0, 0};
    CHECK(tunnel_uncertainty(&plain, &reading, varied, 2, covariance, &u) == OUTCOME_OK);
    CHECK_NEAR(u.coefficient[COEFFICIENT_CD], 0.0, 1e-8, gum);
    CHECK_RELATIVE(u.coefficient[COEFFICIENT_CL], 2.0 * 0.002, 1e-5, gum);
}

/* %F = 100 (1/2 + My/(W Fz)), Fz = -L: d/dMy = 100/(W Fz), d/dFz = -100 My/(W Fz^2). */
static void balance_in_percent(void)
{
    const enum tunnel_varied varied[] = {VARIED_OUTPUT_5, VARIED_OUTPUT_3};
    const double covariance[] = {16.0, 6.0, 6.0, 25.0};
    struct tunnel_uncertainty u = {{0}, 0, 0};
    CHECK(tunnel_uncertainty(&plain, &reading, varied, 2, covariance, &u) == OUTCOME_OK);
    double by_moment = 100.0 / (3.0 * -4500), by_force = -100.0 * 600 / (3.0 * 4500.0 * 4500.0);
    double variance =
        by_moment * by_moment * 16 + 2 * by_moment * by_force * 6 + by_force * by_force * 25;
    CHECK_RELATIVE(u.balance, sqrt(variance), 1e-5, gum);
}

/* The end-to-end case: u(D) 3 N and u(q)/q 0.2 % give u(CD) 0.00230717, buoyancy (in q A, so it does
 * not scale with q) left out of that closed form: within 0.3 %, its share of the drag. */
static void end_to_end_case(void)
{
    const enum tunnel_varied varied[] = {VARIED_OUTPUT_1, VARIED_DYNAMIC_PRESSURE};
    struct tunnel_recipe recipe = plain;
    struct tunnel_inputs inputs = reading;
    double q = 1551.45301228067;
    const double covariance[] = {9.0, 0.0, 0.0, 0.002 * 0.002 * q * q};
    struct tunnel_uncertainty u = {{0}, 0, 0};
    recipe.reference_area = 1.55;
    recipe.wheelbase = 3.05;
    recipe.buoyancy = 1;
    recipe.volume = 3.1;
    recipe.pressure_gradient = -0.0012;
    recipe.buoyancy_volume_factor = 1.0;
    recipe.blockage = "quarter rule";
    recipe.section_width = 6.0;
    recipe.section_height = 4.0;
    inputs.output[0] = 2446.0;
    inputs.dynamic_pressure = q;
    CHECK(tunnel_uncertainty(&recipe, &inputs, varied, 2, covariance, &u) == OUTCOME_OK);
    CHECK_RELATIVE(u.coefficient[COEFFICIENT_CD], 0.00230716871914924, 3e-3,
                   "end-to-end case computed in 40 digits, GUM");
}

static void coefficients_of_the_facility(void)
{
    const enum tunnel_varied varied[] = {VARIED_COEFFICIENT_1, VARIED_COEFFICIENT_3,
                                         VARIED_COEFFICIENT_4, VARIED_COEFFICIENT_5};
    double covariance[16] = {0};
    for (size_t i = 0; i < 4; i++)
        covariance[5 * i] = 1e-6 * (double)((i + 1) * (i + 1));
    struct tunnel_recipe recipe = plain;
    struct tunnel_inputs inputs = {.facility_coefficient = {0.8, NAN, 3.0, 1.3, 1.7, NAN, NAN, NAN},
                                   .dynamic_pressure = NAN};
    struct tunnel_uncertainty u = {{0}, 0, 0};
    recipe.source = LOADS_AS_COEFFICIENTS;
    CHECK(tunnel_uncertainty(&recipe, &inputs, varied, 4, covariance, &u) == OUTCOME_OK);
    CHECK_RELATIVE(u.coefficient[COEFFICIENT_CD], 0.001, 1e-9, gum);
    CHECK_RELATIVE(u.coefficient[COEFFICIENT_CLR], 0.004, 1e-9, gum);
    CHECK_RELATIVE(u.balance, 100 / 3.0 * sqrt(0.003 * 0.003 + pow(1.3 / 3.0 * 0.002, 2)), 1e-5,
                   gum);
    CHECK(isnan(u.coefficient[COEFFICIENT_CY]));
}

/* Saturated air: humidity cannot be raised; the coefficients do not depend on it either way. */
static void a_limit_of_the_physics(void)
{
    const enum tunnel_varied varied[] = {VARIED_HUMIDITY, VARIED_OUTPUT_1};
    const double covariance[] = {1e-4, 0.0, 0.0, 9.0};
    struct tunnel_recipe recipe = plain;
    struct tunnel_inputs inputs = reading;
    struct tunnel_uncertainty u = {{0}, 0, 0};
    recipe.dry_air = 0;
    inputs.relative_humidity = 1.0;
    CHECK(tunnel_uncertainty(&recipe, &inputs, varied, 2, covariance, &u) == OUTCOME_OK);
    CHECK_RELATIVE(u.coefficient[COEFFICIENT_CD], 3.0 / 2250.0, 1e-9, gum);
    inputs.relative_humidity = 0.0;
    CHECK(tunnel_uncertainty(&recipe, &inputs, varied, 2, covariance, &u) == OUTCOME_OK);
    CHECK_RELATIVE(u.coefficient[COEFFICIENT_CD], 3.0 / 2250.0, 1e-9, gum);
}

/* M 0.6 is 25 200 Pa here: q can be lowered by its 5 Pa, not raised. */
static void the_fastest_wind(void)
{
    const enum tunnel_varied varied = VARIED_DYNAMIC_PRESSURE;
    const double variance = 25.0, q = 25199.0;
    struct tunnel_inputs inputs = reading;
    struct tunnel_uncertainty u = {{0}, 0, 0};
    inputs.dynamic_pressure = q;
    CHECK(tunnel_uncertainty(&plain, &inputs, &varied, 1, &variance, &u) == OUTCOME_OK);
    CHECK_RELATIVE(u.coefficient[COEFFICIENT_CD], 1500.0 / (1.5 * q) * 5.0 / q, 1e-3, gum);
}

static void every_input_has_its_place(void)
{
    struct tunnel_recipe recipe = plain;
    struct tunnel_inputs inputs = reading;
    recipe.q_source = Q_FROM_TOTAL_AND_STATIC;
    inputs.total_pressure = 101500;
    struct tunnel_uncertainty by_total = {{0}, 0, 0}, by_static = {{0}, 0, 0}, none = {{0}, 0, 0};
    const double variance = 25.0;
    enum tunnel_varied one = VARIED_TOTAL_PRESSURE;
    CHECK(tunnel_uncertainty(&recipe, &inputs, &one, 1, &variance, &by_total) == OUTCOME_OK);
    one = VARIED_STATIC_PRESSURE;
    CHECK(tunnel_uncertainty(&recipe, &inputs, &one, 1, &variance, &by_static) == OUTCOME_OK);
    one = VARIED_DROP;
    CHECK(tunnel_uncertainty(&recipe, &inputs, &one, 1, &variance, &none) == OUTCOME_OK);
    double drag = 1500 / (1.5 * 1492.0); /* q is 0.5 % below p0 - p */
    CHECK_NEAR(by_total.coefficient[COEFFICIENT_CD], drag * 5.0 / 1500.0, 3e-5, gum);
    CHECK_NEAR(by_static.coefficient[COEFFICIENT_CD], drag * 5.0 / 1500.0, 3e-5, gum);
    CHECK_NEAR(none.coefficient[COEFFICIENT_CD], 0.0, 0.0, "identity: not used");
}

static enum outcome outcome_of(const double *covariance, size_t n)
{
    const enum tunnel_varied varied[] = {VARIED_OUTPUT_1, VARIED_DYNAMIC_PRESSURE};
    struct tunnel_uncertainty u = {{0}, -1.0, 0};
    enum outcome outcome = tunnel_uncertainty(&plain, &reading, varied, n, covariance, &u);
    CHECK(outcome == OUTCOME_OK || u.balance == -1.0);
    return outcome;
}

static void refusals(void)
{
    const double nan_in_it[] = {1, NAN, NAN, 1}, negative[] = {-1, 0, 0, 1};
    const double impossible[] = {1, 5, 5, 1}, good[] = {1, 0, 0, 1};
    static const double large[(VARIED_COUNT + 1) * (VARIED_COUNT + 1)] = {0};
    CHECK(outcome_of(good, 2) == OUTCOME_OK);
    CHECK(outcome_of(good, 0) == OUTCOME_OK);
    CHECK(outcome_of(nan_in_it, 2) == OUTCOME_NOT_FINITE);
    CHECK(outcome_of(negative, 2) == OUTCOME_SINGULAR);
    CHECK(outcome_of(impossible, 2) == OUTCOME_SINGULAR);
    CHECK(outcome_of(large, VARIED_COUNT + 1) == OUTCOME_TOO_FEW);
    struct tunnel_inputs bad = reading;
    bad.output[2] = NAN;
    const enum tunnel_varied varied = VARIED_OUTPUT_1;
    struct tunnel_uncertainty u;
    CHECK(tunnel_uncertainty(&plain, &bad, &varied, 1, good, &u) == OUTCOME_NOT_FINITE);
}

static void the_whole_width_is_no_wind(void)
{
    const enum tunnel_varied varied = VARIED_TOTAL_MINUS_STATIC;
    const double huge = 4e9; /* either way there is no number */
    struct tunnel_recipe recipe = plain;
    struct tunnel_inputs inputs = reading;
    struct tunnel_uncertainty u;
    recipe.q_source = Q_FROM_TOTAL_AND_STATIC;
    inputs.total_minus_static = 1500;
    CHECK(tunnel_uncertainty(&recipe, &inputs, &varied, 1, &huge, &u) == OUTCOME_TOO_FAST);
}

CU_TestInfo tunnel_uncertainty_tests[] = {
    {"independent scatter adds in squares", independent_scatter_adds_in_squares},
    {"scatter that load and q share cancels", shared_scatter_cancels},
    {"uncertainty of the balance in per cent", balance_in_percent},
    {"uncertainty of the end-to-end case", end_to_end_case},
    {"coefficients of a facility", coefficients_of_the_facility},
    {"a one-sided difference where the physics ends", a_limit_of_the_physics},
    {"a one-sided difference just below M 0.6", the_fastest_wind},
    {"every input has its place", every_input_has_its_place},
    {"what is no covariance is refused", refusals},
    {"scatter wider than the wind is refused", the_whole_width_is_no_wind},
    CU_TEST_INFO_NULL};
