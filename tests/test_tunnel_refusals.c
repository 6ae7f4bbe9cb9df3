/* test_tunnel_refusals.c - what the reduction of a point refuses, and what it keeps then. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "tests/check.h"
#include "tests/tunnel_backwards.h"

static void expect(enum outcome want, const struct tunnel_recipe *recipe,
                   const struct tunnel_inputs *inputs)
{
    struct tunnel_result result;
    memset(&result, 0, sizeof result);
    CHECK(tunnel_point_reduce(recipe, inputs, &result) == want);
    CHECK(isnan(result.corrected[COEFFICIENT_CD]) && isnan(result.derived.balance));
}

static void one_refusal_per_outcome(void)
{
    const struct tunnel_recipe recipe = backward_recipe();
    const struct tunnel_inputs inputs = backward_reading(&recipe);
    struct tunnel_recipe bad = recipe;
    bad.blockage = "wishful thinking";
    expect(OUTCOME_UNKNOWN_FAMILY, &bad, &inputs);
    bad = recipe;
    bad.section_width = 0.35;
    expect(OUTCOME_BLOCKAGE_RANGE, &bad, &inputs);
    bad = recipe;
    bad.volume = 0.0;
    expect(OUTCOME_GEOMETRY, &bad, &inputs);
    bad = recipe;
    bad.axis_sign[1] = 0.0;
    expect(OUTCOME_GEOMETRY, &bad, &inputs);
    bad = recipe;
    bad.wheelbase = 0.0;
    expect(OUTCOME_GEOMETRY, &bad, &inputs);

    struct tunnel_inputs wrong = inputs;
    wrong.total_minus_static = 0.0;
    expect(OUTCOME_NO_WIND, &recipe, &wrong);
    wrong.total_minus_static = 40000.0;
    expect(OUTCOME_TOO_FAST, &recipe, &wrong);
    wrong = inputs;
    wrong.relative_humidity = 40.0;
    expect(OUTCOME_AIR_RANGE, &recipe, &wrong);
}

static void nan_in_each_input_is_refused(void)
{
    const struct tunnel_recipe recipe = backward_recipe();
    struct tunnel_inputs bad = backward_reading(&recipe);
    for (int i = 0; i < 6; i++) {
        double *const each[] = {&bad.output[i], &bad.zero_before[i], &bad.zero_after[i],
                                &bad.tare[i]};
        for (int k = 0; k < 4; k++) {
            bad = backward_reading(&recipe);
            *each[k] = NAN;
            expect(OUTCOME_NOT_FINITE, &recipe, &bad);
        }
    }
    double *const scalars[] = {&bad.zero_fraction, &bad.static_pressure, &bad.total_minus_static,
                               &bad.total_temperature, &bad.relative_humidity};
    for (size_t k = 0; k < sizeof scalars / sizeof *scalars; k++) {
        bad = backward_reading(&recipe);
        *scalars[k] = NAN;
        expect(OUTCOME_NOT_FINITE, &recipe, &bad);
    }
}

static void nan_in_each_number_of_the_recipe_is_refused(void)
{
    struct tunnel_recipe bad = backward_recipe();
    double *const numbers[] = {&bad.calibration.linear[3][2],
                               &bad.origin[0],
                               &bad.axis_sign[2],
                               &bad.moment_sign[1],
                               &bad.reference_area,
                               &bad.wheelbase,
                               &bad.length,
                               &bad.volume,
                               &bad.section_width,
                               &bad.section_height,
                               &bad.pressure_gradient,
                               &bad.buoyancy_volume_factor,
                               &bad.blockage_shape};
    for (size_t k = 0; k < sizeof numbers / sizeof *numbers; k++) {
        bad = backward_recipe();
        struct tunnel_inputs inputs = backward_reading(&bad);
        *numbers[k] = NAN;
        expect(OUTCOME_NOT_FINITE, &bad, &inputs);
    }
}

static void steps_before_a_refusal_are_kept(void)
{
    struct tunnel_recipe recipe = backward_recipe();
    struct tunnel_inputs inputs = backward_reading(&recipe);
    struct tunnel_result result;
    recipe.blockage = "wishful thinking";
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_UNKNOWN_FAMILY);
    CHECK(isfinite(result.raw[COEFFICIENT_CD]) && isfinite(result.buoyancy[COEFFICIENT_CL]));
    CHECK(isnan(result.q_ratio) && isnan(result.blocked[COEFFICIENT_CD]));
    inputs.tare[2] = NAN;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_NOT_FINITE);
    CHECK(isfinite(result.balance[2]) && isnan(result.tared[0]) && isnan(result.freestream.mach));
}

CU_TestInfo tunnel_refusals_tests[] = {
    {"one refusal per outcome", one_refusal_per_outcome},
    {"NAN in each input is refused", nan_in_each_input_is_refused},
    {"NAN in each number of the recipe is refused", nan_in_each_number_of_the_recipe_is_refused},
    {"steps before a refusal are kept", steps_before_a_refusal_are_kept},
    CU_TEST_INFO_NULL};
