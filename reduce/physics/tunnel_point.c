/* tunnel_point.c - see tunnel_point.h. One small function a step; the list at the end is the order. */
#include "reduce/physics/tunnel_point.h"

#include <math.h>

#include "reduce/physics/blockage.h"
#include "reduce/physics/buoyancy.h"
#include "reduce/physics/finite.h"
#include "reduce/physics/reynolds.h"
#include "reduce/physics/tunnel_freestream.h"
#include "reduce/physics/tunnel_loads.h"

typedef enum outcome tunnel_step(const struct tunnel_recipe *recipe,
                                 const struct tunnel_inputs *inputs, struct tunnel_result *result);

static void copy(const double *from, double *to, size_t n)
{
    for (size_t i = 0; i < n; i++)
        to[i] = from[i];
}

/* The speed, and what goes with it, follows the root of q. */
static void err_in_wind(double share, struct tunnel_freestream *wind)
{
    double root = sqrt(1.0 + share);
    wind->dynamic_pressure *= 1.0 + share;
    wind->speed *= root;
    wind->mach *= root;
    wind->reynolds *= root;
}

static enum outcome measure_wind(const struct tunnel_recipe *recipe,
                                 const struct tunnel_inputs *inputs, struct tunnel_result *result)
{
    result->wind = tunnel_freestream(recipe, inputs, &result->freestream);
    if (inputs->error.q != 0.0)
        err_in_wind(inputs->error.q, &result->freestream);
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

/* Pressures in Pa need the wind, pressure coefficients of the facility do not. */
static enum outcome measure_wind_of_taps(const struct tunnel_recipe *recipe,
                                         const struct tunnel_inputs *inputs,
                                         struct tunnel_result *result)
{
    if (recipe->taps_are_coefficients)
        return measure_wind_if_given(recipe, inputs, result);
    return measure_wind(recipe, inputs, result);
}

/* The loads that a coefficient is made of; the bits of Fx Fy Fz Mx My Mz. */
static const unsigned loads_of[COEFFICIENTS] = {
    [COEFFICIENT_CD] = 1U << 0,
    [COEFFICIENT_CY] = 1U << 1,
    [COEFFICIENT_CL] = 1U << 2,
    [COEFFICIENT_CLF] = 1U << 2 | 1U << 4,
    [COEFFICIENT_CLR] = 1U << 2 | 1U << 4,
    [COEFFICIENT_CRM] = 1U << 3,
    [COEFFICIENT_CPM] = 1U << 4,
    [COEFFICIENT_CYM] = 1U << 5,
};

/* Coefficients of loads that are not known, or whose lever is not, are NAN. */
static enum outcome make_coefficients(const struct tunnel_recipe *recipe,
                                      const struct tunnel_inputs *inputs,
                                      struct tunnel_result *result)
{
    double load[6], found[COEFFICIENTS];
    unsigned unknown = 0;
    (void)inputs;
    for (int i = 0; i < 6; i++) {
        int is_known = !isnan(result->with_cells[i]);
        load[i] = is_known ? result->with_cells[i] : 0.0;
        unknown |= is_known ? 0U : 1U << i;
    }
    enum outcome outcome =
        coefficients_from_loads(load, result->freestream.dynamic_pressure, recipe->reference_area,
                                recipe->wheelbase, found);
    for (int i = 0; outcome == OUTCOME_OK && i < COEFFICIENTS; i++)
        result->raw[i] = unknown & loads_of[i] ? (double)NAN : found[i];
    return outcome;
}

/* Drag and downforce must be there where the facility has a channel for them. */
static enum outcome check_given(const struct tunnel_recipe *recipe,
                                const double coefficient[COEFFICIENTS])
{
    int any = 0;
    if (!recipe->drag_not_given && !isfinite(coefficient[COEFFICIENT_CD]))
        return OUTCOME_NOT_FINITE;
    if (!recipe->downforce_not_given && !isfinite(coefficient[COEFFICIENT_CL]))
        return OUTCOME_NOT_FINITE;
    for (int i = 0; i < COEFFICIENTS; i++) {
        if (isinf(coefficient[i]))
            return OUTCOME_NOT_FINITE;
        any = any || isfinite(coefficient[i]);
    }
    return any ? OUTCOME_OK : OUTCOME_NOT_FINITE;
}

/* A facility need not report all eight: what the others decide is filled in here, so that their
 * uncertainty reaches it; the rest stays NAN through every step. */
static enum outcome take_coefficients(const struct tunnel_recipe *recipe,
                                      const struct tunnel_inputs *inputs,
                                      struct tunnel_result *result)
{
    double filled[COEFFICIENTS];
    copy(inputs->facility_coefficient, filled, COEFFICIENTS);
    coefficients_fill(filled);
    enum outcome outcome = check_given(recipe, filled);
    if (outcome == OUTCOME_OK)
        copy(filled, result->raw, COEFFICIENTS);
    return outcome;
}

/* What supports and neighbours do, as coefficients of the point's own q. */
static enum outcome take_off_tables(const struct tunnel_recipe *recipe,
                                    const struct tunnel_inputs *inputs,
                                    struct tunnel_result *result)
{
    (void)recipe;
    if (!all_finite(inputs->support, COEFFICIENTS) ||
        !all_finite(inputs->interference, COEFFICIENTS))
        return OUTCOME_NOT_FINITE;
    for (int i = 0; i < COEFFICIENTS; i++) {
        result->unsupported[i] = result->raw[i] - inputs->support[i];
        result->undisturbed[i] = result->unsupported[i] - inputs->interference[i];
    }
    return OUTCOME_OK;
}

static enum outcome take_off_buoyancy(const struct tunnel_recipe *recipe,
                                      const struct tunnel_inputs *inputs,
                                      struct tunnel_result *result)
{
    const double *part = recipe->gradient_part;
    double contained = 0.0;
    (void)inputs;
    if (recipe->two_gradients) {
        if (!all_finite(part, CARRIED))
            return OUTCOME_NOT_FINITE;
        coefficients_change(result->undisturbed, -part[CARRIED_CD], -part[CARRIED_CL],
                            -part[CARRIED_CLF], result->buoyancy);
        return OUTCOME_OK;
    }
    if (recipe->buoyancy) {
        enum outcome outcome =
            buoyancy_drag(recipe->pressure_gradient, recipe->buoyancy_volume_factor, recipe->volume,
                          recipe->reference_area, &contained);
        if (outcome != OUTCOME_OK)
            return outcome;
    }
    buoyancy_take_off(result->undisturbed, contained, result->buoyancy);
    return OUTCOME_OK;
}

/* Measured at the point: as the facility's coefficient, or in Pa. */
static double base_cp_of(const struct tunnel_inputs *inputs, double q)
{
    return isnan(inputs->base_cp) ? inputs->base_pressure / q : inputs->base_cp;
}

static enum outcome find_blockage(const struct tunnel_recipe *recipe,
                                  const struct tunnel_inputs *inputs,
                                  const struct tunnel_result *result,
                                  struct blockage_result *blockage)
{
    const struct blockage_family *family = blockage_family(recipe->blockage);
    double q = result->freestream.dynamic_pressure;
    if (family == NULL)
        return OUTCOME_UNKNOWN_FAMILY;
    struct blockage_input input = {
        .area = recipe->reference_area,
        .length = recipe->length,
        .volume = recipe->volume,
        .section_width = recipe->section_width,
        .section_height = recipe->section_height,
        .shape = recipe->blockage_shape,
        .image_factor = recipe->image_factor,
        .floor_image = recipe->floor_image,
        .is_open = recipe->section_is_open,
        .drag_coefficient = result->buoyancy[COEFFICIENT_CD],
        .downforce_coefficient = result->buoyancy[COEFFICIENT_CL],
        .base_cp = base_cp_of(inputs, q),
        .constants = recipe->constants,
        .wall = inputs->wall,
    };
    if (input.wall.pressure == 0.0)
        input.wall.pressure = q;
    return family->correct(&input, blockage);
}

static enum outcome take_off_blockage(const struct tunnel_recipe *recipe,
                                      const struct tunnel_inputs *inputs,
                                      struct tunnel_result *result)
{
    struct blockage_result blockage;
    enum outcome outcome = find_blockage(recipe, inputs, result, &blockage);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (inputs->error.blockage != 0.0) {
        double increment = (sqrt(blockage.q_ratio) - 1.0) * (1.0 + inputs->error.blockage);
        blockage.q_ratio = (1.0 + increment) * (1.0 + increment);
    }
    result->q_ratio = blockage.q_ratio;
    result->solid_blockage = blockage.solid;
    result->wake_blockage = blockage.wake;
    copy(blockage.piece, result->blockage_piece, BLOCKAGE_PIECES);
    result->blockage_beyond_evidence = blockage.beyond_evidence;
    for (int i = 0; i < COEFFICIENTS; i++)
        result->blocked[i] = result->buoyancy[i] / blockage.q_ratio;
    return OUTCOME_OK;
}

/* A point outside the sweep is left where it is, and that is kept. */
static enum outcome carry_reynolds(const struct tunnel_recipe *recipe,
                                   const struct tunnel_inputs *inputs, struct tunnel_result *result)
{
    const struct reynolds_choice *choice = &recipe->reynolds;
    double change[CARRIED] = {0.0}, u = 0.0;
    (void)inputs;
    for (int i = 0; choice->to != 0.0 && i < CARRIED; i++) {
        if (!choice->has[i])
            continue;
        enum outcome outcome = reynolds_change(&choice->fit[i], result->freestream.reynolds,
                                               choice->to, &change[i], &u);
        if (outcome == OUTCOME_UNMEASURED)
            result->reynolds_unmeasured = 1;
        else if (outcome != OUTCOME_OK)
            return outcome;
    }
    if (result->reynolds_unmeasured)
        copy(result->blocked, result->at_reynolds, COEFFICIENTS);
    else
        coefficients_change(result->blocked, change[CARRIED_CD], change[CARRIED_CL],
                            change[CARRIED_CLF], result->at_reynolds);
    return OUTCOME_OK;
}

static enum outcome finish(const struct tunnel_recipe *recipe, const struct tunnel_inputs *inputs,
                           struct tunnel_result *result)
{
    (void)inputs;
    copy(result->at_reynolds, result->corrected, COEFFICIENTS);
    result->derived = coefficients_derived(result->corrected, recipe->reference_area);
    return OUTCOME_OK;
}

static tunnel_step *const steps_from_loads[] = {tunnel_take_off_zero,
                                                tunnel_make_loads,
                                                tunnel_take_off_tare,
                                                tunnel_take_off_belt,
                                                tunnel_transfer,
                                                tunnel_add_cells,
                                                measure_wind,
                                                make_coefficients,
                                                take_off_tables,
                                                take_off_buoyancy,
                                                take_off_blockage,
                                                carry_reynolds,
                                                finish,
                                                NULL};

static tunnel_step *const steps_from_coefficients[] = {
    measure_wind_if_given, take_coefficients, take_off_tables, take_off_buoyancy,
    take_off_blockage,     carry_reynolds,    finish,          NULL};

static enum outcome keep_blocked(const struct tunnel_recipe *recipe,
                                 const struct tunnel_inputs *inputs, struct tunnel_result *result)
{
    (void)recipe;
    (void)inputs;
    copy(result->blocked, result->at_reynolds, COEFFICIENTS);
    return OUTCOME_OK;
}

/* No drag, so a blockage family that needs one has no answer. */
static tunnel_step *const steps_of_pressures[] = {measure_wind_of_taps, take_off_blockage,
                                                  keep_blocked, finish, NULL};

static tunnel_step *const *steps_of(enum load_source source)
{
    if (source == LOADS_AS_COEFFICIENTS)
        return steps_from_coefficients;
    return source == LOADS_NONE ? steps_of_pressures : steps_from_loads;
}

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
    fill(result.belt_tared, 6);
    fill(result.transferred, 6);
    fill(result.cell, WHEEL_CELLS);
    fill(result.with_cells, 6);
    fill(result.raw, COEFFICIENTS);
    fill(result.unsupported, COEFFICIENTS);
    fill(result.undisturbed, COEFFICIENTS);
    fill(result.buoyancy, COEFFICIENTS);
    fill(result.blockage_piece, BLOCKAGE_PIECES);
    fill(result.blocked, COEFFICIENTS);
    fill(result.at_reynolds, COEFFICIENTS);
    fill(result.corrected, COEFFICIENTS);
    return result;
}

enum outcome tunnel_point_reduce(const struct tunnel_recipe *recipe,
                                 const struct tunnel_inputs *inputs, struct tunnel_result *result)
{
    *result = nothing_yet();
    for (tunnel_step *const *step = steps_of(recipe->source); *step != NULL; step++) {
        enum outcome outcome = (*step)(recipe, inputs, result);
        if (outcome != OUTCOME_OK)
            return outcome;
    }
    return OUTCOME_OK;
}
