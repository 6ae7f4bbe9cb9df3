/* test_tunnel_partial.c - water, drag alone, pressures alone: points that have less than a car's. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/tunnel_freestream.h"
#include "reduce/physics/tunnel_loads.h"
#include "reduce/physics/tunnel_taps.h"
#include "reduce/physics/tunnel_uncertainty.h"
#include "tests/check.h"
#include "tests/tunnel_backwards.h"

/* Bachant, Wosnik, Gunawan, Neary 2016, doi 10.6084/m9.figshare.1373899: the frame alone towed at
 * 1.0 m/s has 46.6432 N; density 1000 kg/m3 as in the data's own reduction, A = 1.075 x 0.807 m2. */
static const double tare_drag = 46.64324118685838, rotor_area = 1.075 * 0.807;

static struct tunnel_recipe tow_tank(void)
{
    return (struct tunnel_recipe){.source = LOADS_READY,
                                  .not_measured = 0x3EU, /* all but Fx */
                                  .axis_sign = {1, 1, 1},
                                  .moment_sign = {1, 1, 1},
                                  .q_source = Q_FROM_SPEED,
                                  .density = 1000.0,
                                  .viscosity = 1.0e-3,
                                  .reference_area = rotor_area,
                                  .wheelbase = 1.075,
                                  .blockage = "none"};
}

static struct tunnel_inputs towed(void)
{
    return (struct tunnel_inputs){.output = {tare_drag},
                                  .speed = 1.0,
                                  .total_pressure = NAN,
                                  .static_pressure = NAN,
                                  .total_minus_static = NAN,
                                  .drop = NAN,
                                  .dynamic_pressure = NAN,
                                  .total_temperature = NAN,
                                  .static_temperature = NAN,
                                  .relative_humidity = NAN};
}

static void drag_alone_in_water(void)
{
    struct tunnel_recipe recipe = tow_tank();
    struct tunnel_inputs inputs = towed();
    struct tunnel_result result;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK_NEAR(result.freestream.dynamic_pressure, 500.0, 1e-12, "worked by hand: 1000 1^2/2");
    CHECK_NEAR(result.freestream.speed, 1.0, 1e-15, "identity");
    CHECK_NEAR(result.freestream.reynolds, 1.075e6, 1e-6, "worked by hand: 1000 1 1.075/0.001");
    CHECK(isnan(result.freestream.mach) && result.freestream.stagnation_cp == 1.0);
    CHECK_NEAR(result.derived.drag_area, 0.0932865, 5e-8, "worked by hand: 46.6432/500");
    CHECK_NEAR(result.corrected[COEFFICIENT_CD], 46.64324118685838 / (500.0 * rotor_area), 1e-15,
               "definition");
    for (int i = COEFFICIENT_CY; i < COEFFICIENTS; i++)
        CHECK(isnan(result.corrected[i]));
    CHECK(isnan(result.derived.balance) && isnan(result.derived.downforce_area));
    CHECK(isnan(result.zero[1]) && isnan(result.transferred[4]));
}

static void every_source_of_q_of_a_declared_density(void)
{
    struct tunnel_recipe recipe = tow_tank();
    struct tunnel_inputs inputs = towed();
    struct tunnel_freestream wind;
    recipe.q_source = Q_GIVEN;
    CHECK(tunnel_freestream(&recipe, &inputs, &wind) == OUTCOME_NOT_FINITE);
    CHECK(wind.stagnation_cp == 1.0 && wind.density == 1000.0 && isnan(wind.speed));
    inputs.dynamic_pressure = 0.0;
    CHECK(tunnel_freestream(&recipe, &inputs, &wind) == OUTCOME_NO_WIND);
    inputs.dynamic_pressure = 2000.0;
    CHECK(tunnel_freestream(&recipe, &inputs, &wind) == OUTCOME_OK);
    CHECK_NEAR(wind.speed, 2.0, 1e-15, "worked by hand");
    recipe.q_source = Q_FROM_TOTAL_AND_STATIC;
    inputs.total_pressure = 102000.0;
    inputs.static_pressure = 101500.0;
    CHECK(tunnel_freestream(&recipe, &inputs, &wind) == OUTCOME_OK);
    CHECK_NEAR(wind.dynamic_pressure, 500.0, 1e-9, "Bernoulli: q = p0 - p at constant density");
    inputs.total_minus_static = 4500.0; /* measured as a difference: believed */
    CHECK(tunnel_freestream(&recipe, &inputs, &wind) == OUTCOME_OK);
    CHECK_NEAR(wind.speed, 3.0, 1e-15, "worked by hand");
    recipe.q_source = Q_FROM_DROP;
    recipe.drop_polynomial[1] = 2.0;
    inputs.drop = 4000.0;
    CHECK(tunnel_freestream(&recipe, &inputs, &wind) == OUTCOME_OK);
    CHECK_NEAR(wind.speed, 4.0, 1e-15, "worked by hand");
    recipe.viscosity = 0.0; /* not declared */
    CHECK(tunnel_freestream(&recipe, &inputs, &wind) == OUTCOME_OK);
    CHECK(isnan(wind.reynolds));
    recipe.density = 0.0; /* air: its speed makes no q */
    recipe.q_source = Q_FROM_SPEED;
    CHECK(tunnel_freestream(&recipe, &inputs, &wind) == OUTCOME_NOT_FINITE);
}

static void the_speed_moves_q_twice(void)
{
    struct tunnel_recipe recipe = tow_tank();
    struct tunnel_inputs inputs = towed();
    const enum tunnel_varied varied = VARIED_SPEED;
    const double variance = 1e-6; /* 0.1 % of 1 m/s */
    struct tunnel_uncertainty u;
    struct tunnel_result result;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK(tunnel_uncertainty(&recipe, &inputs, &varied, 1, &variance, &u) == OUTCOME_OK);
    CHECK_RELATIVE(u.coefficient[COEFFICIENT_CD], 0.002 * result.corrected[COEFFICIENT_CD], 1e-5,
                   "dCD/CD = 2 dV/V");
    CHECK(isnan(u.coefficient[COEFFICIENT_CL]));
}

/* Drag, lift and pitch of a balance 0.5 m above the ground, 0.2 m behind mid-wheelbase. */
static void three_loads_give_what_they_decide(void)
{
    struct tunnel_recipe recipe = tow_tank();
    struct tunnel_inputs inputs = towed();
    struct tunnel_result result;
    recipe.not_measured = 1U << 1 | 1U << 3 | 1U << 5;
    recipe.origin[0] = 0.2;
    recipe.origin[2] = 0.5;
    inputs.output[2] = -300.0;
    inputs.output[4] = 10.0;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK_NEAR(result.transferred[4], 10.0 + 0.5 * tare_drag + 0.2 * 300.0, 1e-12,
               "statics: My + z Fx - x Fz");
    CHECK(isnan(result.transferred[1]) && isnan(result.transferred[3]) &&
          isnan(result.transferred[5]));
    CHECK_NEAR(result.corrected[COEFFICIENT_CL], 300.0 / (500.0 * rotor_area), 1e-14, "definition");
    CHECK(isfinite(result.derived.balance) && isnan(result.corrected[COEFFICIENT_CY]));
    /* Without yaw a balance that stays behind mixes nothing; with it, drag needs the side force. */
    recipe.stays_with_tunnel = 1;
    CHECK(tunnel_loads_unknown(&recipe, 0.0) == (1U << 1 | 1U << 3 | 1U << 5));
    CHECK(tunnel_loads_unknown(&recipe, 0.1) == (1U << 0 | 1U << 1 | 1U << 3 | 1U << 4 | 1U << 5));
    inputs.yaw = 0.1;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK(isnan(result.corrected[COEFFICIENT_CD]) && isfinite(result.corrected[COEFFICIENT_CL]));
    recipe.not_measured |= 1U << 2;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_NOT_FINITE);
    recipe = tow_tank();
    inputs = towed();
    inputs.output[0] = NAN; /* measured, and missing at this point */
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_NOT_FINITE);
    inputs.output[0] = 1.0;
    inputs.tare[0] = NAN;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_NOT_FINITE);
}

static void a_facility_may_give_one_coefficient(void)
{
    struct tunnel_recipe recipe = tow_tank();
    struct tunnel_inputs inputs = towed();
    struct tunnel_result result;
    recipe.source = LOADS_AS_COEFFICIENTS;
    for (int i = 0; i < COEFFICIENTS; i++)
        inputs.facility_coefficient[i] = (double)NAN;
    inputs.facility_coefficient[COEFFICIENT_CD] = 0.846;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) ==
          OUTCOME_NOT_FINITE); /* CL is promised */
    recipe.downforce_not_given = 1;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK_NEAR(result.corrected[COEFFICIENT_CD], 0.846, 0.0, "identity");
    CHECK(isnan(result.corrected[COEFFICIENT_CL]) && isnan(result.derived.lift_to_drag));
    inputs.facility_coefficient[COEFFICIENT_CD] = NAN;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_NOT_FINITE);
    recipe.drag_not_given = 1;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) ==
          OUTCOME_NOT_FINITE); /* nothing at all */
    inputs.facility_coefficient[COEFFICIENT_CL] = 1.0;
    recipe.downforce_not_given = 0;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK(isnan(result.corrected[COEFFICIENT_CD]));
}

static void pressures_alone(void)
{
    struct tunnel_recipe recipe = tow_tank();
    struct tunnel_inputs inputs = towed();
    struct tunnel_result result;
    recipe.source = LOADS_NONE;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK(result.q_ratio == 1.0 && result.freestream.dynamic_pressure == 500.0);
    for (int i = 0; i < COEFFICIENTS; i++)
        CHECK(isnan(result.corrected[i]));
    inputs.speed = NAN;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_NOT_FINITE);
    recipe.taps_are_coefficients = 1;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK(result.wind == OUTCOME_NOT_FINITE && result.q_ratio == 1.0);
    recipe.blockage = "image sum";
    recipe.volume = recipe.length = recipe.section_width = recipe.section_height = 3.0;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_NOT_FINITE);
}

static void a_pressure_coefficient_is_taken_as_it_is(void)
{
    struct tunnel_freestream unknown = {.stagnation_cp = NAN, .dynamic_pressure = NAN};
    struct tap_reading reading = {.pressure = -1.059, .zero = 7.0, .measure = TAP_AS_COEFFICIENT};
    struct tap_coefficient tap = {0};
    CHECK(tunnel_tap_reduce(&reading, &unknown, 1.0, &tap) == OUTCOME_OK);
    CHECK_NEAR(tap.raw, -1.059, 0.0, "identity: no zero, no q");
    CHECK_NEAR(tap.corrected, -1.059, 0.0, "identity");
    CHECK(tunnel_tap_reduce(&reading, &unknown, 1.1, &tap) == OUTCOME_NOT_FINITE);
    unknown.stagnation_cp = 1.0;
    CHECK(tunnel_tap_reduce(&reading, &unknown, 1.1, &tap) == OUTCOME_OK);
    CHECK_NEAR(tap.corrected, 1.0 - 2.059 / 1.1, 1e-15, "stagnation value kept, worked by hand");
    reading.pressure = NAN;
    CHECK(tunnel_tap_reduce(&reading, &unknown, 1.0, &tap) == OUTCOME_NOT_FINITE);
}

CU_TestInfo tunnel_partial_tests[] = {
    {"drag alone in water", drag_alone_in_water},
    {"every source of q of a declared density", every_source_of_q_of_a_declared_density},
    {"the speed moves q twice", the_speed_moves_q_twice},
    {"three loads give what they decide", three_loads_give_what_they_decide},
    {"a facility may give one coefficient", a_facility_may_give_one_coefficient},
    {"pressures alone", pressures_alone},
    {"a pressure coefficient is taken as it is", a_pressure_coefficient_is_taken_as_it_is},
    CU_TEST_INFO_NULL};
