/* tunnel_point.c - see tunnel_point.h. One small function a step; the list at the end is the order. */
#include "reduce/physics/tunnel_point.h"

#include <math.h>

#include "reduce/physics/axes.h"
#include "reduce/physics/blockage.h"
#include "reduce/physics/buoyancy.h"
#include "reduce/physics/finite.h"
#include "reduce/physics/tunnel_freestream.h"

typedef enum outcome tunnel_step(const struct tunnel_recipe *recipe,
                                 const struct tunnel_inputs *inputs, struct tunnel_result *result);

static void copy(const double *from, double *to, size_t n)
{
    for (size_t i = 0; i < n; i++)
        to[i] = from[i];
}

static enum outcome take_off_zero(const struct tunnel_recipe *recipe,
                                  const struct tunnel_inputs *inputs, struct tunnel_result *result)
{
    double found[6];
    (void)recipe;
    for (int i = 0; i < 6; i++) {
        double drift = inputs->zero_after[i] - inputs->zero_before[i];
        found[i] = inputs->output[i] - (inputs->zero_before[i] + inputs->zero_fraction * drift);
    }
    if (!all_finite(found, 6))
        return OUTCOME_NOT_FINITE;
    copy(found, result->zero, 6);
    return OUTCOME_OK;
}

static enum outcome make_loads(const struct tunnel_recipe *recipe,
                               const struct tunnel_inputs *inputs, struct tunnel_result *result)
{
    (void)inputs;
    if (recipe->source == LOADS_FROM_OUTPUTS)
        return balance_loads(&recipe->calibration, result->zero, result->balance);
    copy(result->zero, result->balance, 6);
    return OUTCOME_OK;
}

static enum outcome take_off_tare(const struct tunnel_recipe *recipe,
                                  const struct tunnel_inputs *inputs, struct tunnel_result *result)
{
    (void)recipe;
    if (!all_finite(inputs->tare, 6))
        return OUTCOME_NOT_FINITE;
    for (int i = 0; i < 6; i++)
        result->tared[i] = result->balance[i] - inputs->tare[i];
    return OUTCOME_OK;
}

static enum outcome transfer(const struct tunnel_recipe *recipe, const struct tunnel_inputs *inputs,
                             struct tunnel_result *result)
{
    double parallel[6], at_origin[6];
    enum outcome outcome =
        axes_to_car(result->tared, recipe->axis_sign, recipe->moment_sign, parallel);
    if (outcome == OUTCOME_OK)
        outcome = axes_transfer(parallel, recipe->origin, at_origin);
    if (outcome == OUTCOME_OK && recipe->stays_with_tunnel)
        outcome = axes_from_wind(at_origin, inputs->yaw, at_origin);
    if (outcome == OUTCOME_OK)
        copy(at_origin, result->transferred, 6);
    return outcome;
}

static enum outcome measure_wind(const struct tunnel_recipe *recipe,
                                 const struct tunnel_inputs *inputs, struct tunnel_result *result)
{
    result->wind = tunnel_freestream(recipe, inputs, &result->freestream);
    return result->wind;
}

/* Ready-made coefficients need no freestream: what cannot be told of it stays NAN, and why is kept. */
static enum outcome measure_wind_if_given(const struct tunnel_recipe *recipe,
                                          const struct tunnel_inputs *inputs,
                                          struct tunnel_result *result)
{
    (void)measure_wind(recipe, inputs, result);
    return OUTCOME_OK;
}

static enum outcome make_coefficients(const struct tunnel_recipe *recipe,
                                      const struct tunnel_inputs *inputs,
                                      struct tunnel_result *result)
{
    (void)inputs;
    return coefficients_from_loads(result->transferred, result->freestream.dynamic_pressure,
                                   recipe->reference_area, recipe->wheelbase, result->raw);
}

/* A facility need not report all eight: what the others decide is filled in here, so that their
 * uncertainty reaches it; the rest stays NAN through every step. */
static enum outcome take_coefficients(const struct tunnel_recipe *recipe,
                                      const struct tunnel_inputs *inputs,
                                      struct tunnel_result *result)
{
    double filled[COEFFICIENTS];
    (void)recipe;
    copy(inputs->facility_coefficient, filled, COEFFICIENTS);
    coefficients_fill(filled);
    if (!isfinite(filled[COEFFICIENT_CD]) || !isfinite(filled[COEFFICIENT_CL]))
        return OUTCOME_NOT_FINITE;
    for (int i = 0; i < COEFFICIENTS; i++)
        if (isinf(filled[i]))
            return OUTCOME_NOT_FINITE;
    copy(filled, result->raw, COEFFICIENTS);
    return OUTCOME_OK;
}

static enum outcome take_off_buoyancy(const struct tunnel_recipe *recipe,
                                      const struct tunnel_inputs *inputs,
                                      struct tunnel_result *result)
{
    double contained = 0.0;
    (void)inputs;
    if (recipe->buoyancy) {
        enum outcome outcome =
            buoyancy_drag(recipe->pressure_gradient, recipe->buoyancy_volume_factor, recipe->volume,
                          recipe->reference_area, &contained);
        if (outcome != OUTCOME_OK)
            return outcome;
    }
    buoyancy_take_off(result->raw, contained, result->buoyancy);
    return OUTCOME_OK;
}

static enum outcome find_blockage(const struct tunnel_recipe *recipe,
                                  const struct tunnel_result *result,
                                  struct blockage_result *blockage)
{
    const struct blockage_family *family = blockage_family(recipe->blockage);
    if (family == NULL)
        return OUTCOME_UNKNOWN_FAMILY;
    struct blockage_input input = {
        .area = recipe->reference_area,
        .length = recipe->length,
        .volume = recipe->volume,
        .section_width = recipe->section_width,
        .section_height = recipe->section_height,
        .shape = recipe->blockage_shape,
        .floor_image = recipe->floor_image,
        .drag_coefficient = result->buoyancy[COEFFICIENT_CD],
    };
    return family->correct(&input, blockage);
}

static enum outcome take_off_blockage(const struct tunnel_recipe *recipe,
                                      const struct tunnel_inputs *inputs,
                                      struct tunnel_result *result)
{
    struct blockage_result blockage;
    (void)inputs;
    enum outcome outcome = find_blockage(recipe, result, &blockage);
    if (outcome != OUTCOME_OK)
        return outcome;
    result->q_ratio = blockage.q_ratio;
    result->solid_blockage = blockage.solid;
    result->wake_blockage = blockage.wake;
    result->blockage_beyond_evidence = blockage.beyond_evidence;
    for (int i = 0; i < COEFFICIENTS; i++)
        result->blocked[i] = result->buoyancy[i] / blockage.q_ratio;
    return OUTCOME_OK;
}

static enum outcome finish(const struct tunnel_recipe *recipe, const struct tunnel_inputs *inputs,
                           struct tunnel_result *result)
{
    (void)inputs;
    copy(result->blocked, result->corrected, COEFFICIENTS);
    result->derived = coefficients_derived(result->corrected, recipe->reference_area);
    return OUTCOME_OK;
}

static tunnel_step *const steps_from_loads[] = {
    take_off_zero,     make_loads,        take_off_tare,     transfer, measure_wind,
    make_coefficients, take_off_buoyancy, take_off_blockage, finish,   NULL};

static tunnel_step *const steps_from_coefficients[] = {
    measure_wind_if_given, take_coefficients, take_off_buoyancy, take_off_blockage, finish, NULL};

static void fill(double *value, size_t n)
{
    for (size_t i = 0; i < n; i++)
        value[i] = NAN;
}

static struct tunnel_result nothing_yet(void)
{
    struct tunnel_result result = {
        .freestream = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, 0},
        .wind = OUTCOME_NOT_FINITE,
        .q_ratio = NAN,
        .solid_blockage = NAN,
        .wake_blockage = NAN,
        .derived = {NAN, NAN, NAN, NAN},
    };
    fill(result.zero, 6);
    fill(result.balance, 6);
    fill(result.tared, 6);
    fill(result.transferred, 6);
    fill(result.raw, COEFFICIENTS);
    fill(result.buoyancy, COEFFICIENTS);
    fill(result.blocked, COEFFICIENTS);
    fill(result.corrected, COEFFICIENTS);
    return result;
}

enum outcome tunnel_point_reduce(const struct tunnel_recipe *recipe,
                                 const struct tunnel_inputs *inputs, struct tunnel_result *result)
{
    *result = nothing_yet();
    tunnel_step *const *step =
        recipe->source == LOADS_AS_COEFFICIENTS ? steps_from_coefficients : steps_from_loads;
    for (; *step != NULL; step++) {
        enum outcome outcome = (*step)(recipe, inputs, result);
        if (outcome != OUTCOME_OK)
            return outcome;
    }
    return OUTCOME_OK;
}
