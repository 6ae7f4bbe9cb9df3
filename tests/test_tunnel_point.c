/* test_tunnel_point.c - the order of steps, and forward effects undone. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/tunnel_freestream.h"
#include "tests/check.h"
#include "tests/tunnel_backwards.h"

/* tau_two_thirds carries nine digits: 1e-9 of 0.01 in the ratio. */
static void check_free_air(const struct tunnel_result *result)
{
    static const enum coefficient order[6] = {COEFFICIENT_CD,  COEFFICIENT_CY,  COEFFICIENT_CL,
                                              COEFFICIENT_CRM, COEFFICIENT_CPM, COEFFICIENT_CYM};
    for (int i = 0; i < 6; i++)
        CHECK_RELATIVE(result->corrected[order[i]], backwards.free_air[i], 1e-10,
                       "identity: built backwards");
    CHECK_RELATIVE(result->corrected[COEFFICIENT_CLF], 3.05 / 2 - 0.21, 1e-10, "identity");
    CHECK_RELATIVE(result->corrected[COEFFICIENT_CLR], 3.05 / 2 + 0.21, 1e-10, "identity");
    CHECK_RELATIVE(result->derived.balance, 100 * (3.05 / 2 - 0.21) / 3.05, 1e-12, "identity");
    CHECK_RELATIVE(result->q_ratio, backward_q_ratio(), 1e-10, "identity");
}

static void forward_effects_are_undone(void)
{
    struct tunnel_recipe recipe = backward_recipe();
    struct tunnel_inputs inputs = backward_reading(&recipe);
    struct tunnel_result result;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    check_free_air(&result);
    CHECK(result.blockage_beyond_evidence == 0);
}

static void every_source_of_q_tells_the_same(void)
{
    struct tunnel_recipe recipe = backward_recipe();
    struct tunnel_inputs inputs = backward_reading(&recipe);
    struct tunnel_result result;
    double rise = inputs.total_minus_static,
           q = 0.7 * backwards.static_pressure * backwards.mach * backwards.mach;

    inputs.total_pressure = backwards.static_pressure + rise; /* p0 and p, no difference measured */
    inputs.total_minus_static = NAN;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    check_free_air(&result);
    inputs.total_minus_static = rise; /* p0 and p0 - p, no static */
    inputs.static_pressure = NAN;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    check_free_air(&result);
    inputs.static_pressure = backwards.static_pressure;
    recipe.q_source = Q_GIVEN;
    inputs.dynamic_pressure = q;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    check_free_air(&result);
    CHECK_RELATIVE(result.freestream.mach, backwards.mach, 1e-14, "identity");
    recipe.q_source = Q_FROM_DROP;
    recipe.drop_polynomial[0] = 2.0;
    recipe.drop_polynomial[1] = 1.01;
    inputs.drop = (q - 2.0) / 1.01;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    check_free_air(&result);
}

static void temperature_and_humidity(void)
{
    struct tunnel_recipe recipe = backward_recipe();
    struct tunnel_inputs inputs = backward_reading(&recipe);
    struct tunnel_result total, given;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &total) == OUTCOME_OK);
    inputs.total_temperature = NAN;
    inputs.static_temperature =
        backwards.total_temperature / (1.0 + 0.2 * backwards.mach * backwards.mach);
    CHECK(tunnel_point_reduce(&recipe, &inputs, &given) == OUTCOME_OK);
    CHECK_RELATIVE(given.freestream.density, total.freestream.density, 1e-14, "identity");
    recipe.dry_air = 1;
    inputs.relative_humidity = NAN; /* not looked at */
    CHECK(tunnel_point_reduce(&recipe, &inputs, &given) == OUTCOME_OK);
    CHECK(given.freestream.density > total.freestream.density);
    CHECK_RELATIVE(given.corrected[COEFFICIENT_CD], total.corrected[COEFFICIENT_CD], 1e-15,
                   "identity: q does not ask for the density");
}

/* Each step recomputed from the one before it, as the ledger shows them. */
static void every_step_follows_from_the_one_before(void)
{
    struct tunnel_recipe recipe = backward_recipe();
    struct tunnel_inputs inputs = backward_reading(&recipe);
    struct tunnel_result r;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &r) == OUTCOME_OK);
    for (int i = 0; i < 6; i++) {
        double zero =
            backwards.zero_before[i] +
            backwards.zero_fraction * (backwards.zero_after[i] - backwards.zero_before[i]);
        CHECK_NEAR(r.zero[i], inputs.output[i] - zero, 1e-15, "identity");
        CHECK_NEAR(r.tared[i], r.balance[i] - backwards.tare[i], 1e-15, "identity");
    }
    CHECK_NEAR(r.transferred[2], -r.tared[2], 0.0, "identity: balance z is down");
    for (int i = 0; i < COEFFICIENTS; i++) {
        double drag = i == COEFFICIENT_CD ? 0.0012 * 1.2 * 0.30 / 0.40 : 0.0;
        CHECK_NEAR(r.buoyancy[i], r.raw[i] - drag, 1e-15, "identity");
        CHECK_NEAR(r.blocked[i], r.buoyancy[i] / r.q_ratio, 1e-15, "identity");
        CHECK_NEAR(r.corrected[i], r.blocked[i], 0.0, "identity");
    }
    CHECK_NEAR(r.q_ratio, pow(1.0 + r.solid_blockage + r.wake_blockage, 2.0), 1e-15, "identity");
    CHECK_NEAR(r.wake_blockage, r.buoyancy[COEFFICIENT_CD] * 0.40 / (4 * 3.2 * 2.4), 1e-16,
               "identity");
}

static void corrections_can_be_left_off(void)
{
    struct tunnel_recipe recipe = backward_recipe();
    struct tunnel_inputs inputs = backward_reading(&recipe);
    struct tunnel_result result;
    recipe.buoyancy = 0;
    recipe.blockage = "none";
    recipe.volume = 0.0; /* not needed then */
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    for (int i = 0; i < COEFFICIENTS; i++)
        CHECK_NEAR(result.corrected[i], result.raw[i], 0.0, "identity");
    CHECK_NEAR(result.q_ratio, 1.0, 0.0, "definition");
    CHECK(result.solid_blockage == 0.0 && result.wake_blockage == 0.0);
}

/* The loads of a car at yaw, read by a balance that stays where it is: along the wind and across. */
static void a_balance_that_stays_is_turned(void)
{
    struct tunnel_recipe recipe = backward_recipe();
    const double yaw = 0.052, c = cos(yaw), s = sin(yaw);
    struct tunnel_inputs inputs = backward_reading(&recipe);
    struct tunnel_result follows, stays;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &follows) == OUTCOME_OK);
    recipe.stays_with_tunnel = 1;
    inputs.yaw = yaw;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &stays) == OUTCOME_OK);
    for (int i = 0; i < 6; i += 3) {
        double x = follows.transferred[i], y = follows.transferred[i + 1];
        CHECK_RELATIVE(stays.transferred[i], x * c + y * s, 1e-13, "rotation, worked by hand");
        CHECK_RELATIVE(stays.transferred[i + 1], y * c - x * s, 1e-13, "rotation, worked by hand");
        CHECK_NEAR(stays.transferred[i + 2], follows.transferred[i + 2], 0.0, "identity");
    }
    inputs.yaw = NAN;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &stays) == OUTCOME_NOT_FINITE);
    CHECK(isfinite(stays.tared[0]) && isnan(stays.transferred[0]));
    recipe.stays_with_tunnel = 0; /* not looked at */
    CHECK(tunnel_point_reduce(&recipe, &inputs, &follows) == OUTCOME_OK);
}

static void pressures_that_disagree_are_measured(void)
{
    struct tunnel_inputs inputs = {
        .total_pressure = 103000, .static_pressure = 100000, .total_minus_static = 1500};
    CHECK_NEAR(tunnel_pressure_disagreement(&inputs), 1.0, 1e-15, "identity: 3000 against 1500");
    inputs.total_minus_static = -1500;
    CHECK_NEAR(tunnel_pressure_disagreement(&inputs), 3.0, 1e-15, "identity: 4500 over 1500");
    inputs.total_minus_static = 0;
    CHECK(isnan(tunnel_pressure_disagreement(&inputs)));
    double *const each[] = {&inputs.total_pressure, &inputs.static_pressure,
                            &inputs.total_minus_static};
    for (int i = 0; i < 3; i++) {
        inputs = (struct tunnel_inputs){
            .total_pressure = 103000, .static_pressure = 100000, .total_minus_static = 1500};
        *each[i] = NAN;
        CHECK(isnan(tunnel_pressure_disagreement(&inputs)));
    }
}

CU_TestInfo tunnel_point_tests[] = {
    {"a tunnel built backwards from free air is undone", forward_effects_are_undone},
    {"every source of q tells the same", every_source_of_q_tells_the_same},
    {"static or total temperature, damp or dry", temperature_and_humidity},
    {"every step follows from the one before", every_step_follows_from_the_one_before},
    {"corrections can be left off", corrections_can_be_left_off},
    {"a balance that stays is turned", a_balance_that_stays_is_turned},
    {"pressures that disagree are measured", pressures_that_disagree_are_measured},
    CU_TEST_INFO_NULL};
