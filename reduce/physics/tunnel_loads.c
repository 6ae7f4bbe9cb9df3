/* tunnel_loads.c - see tunnel_loads.h. */
#include "reduce/physics/tunnel_loads.h"

#include <math.h>
#include <string.h>

#include "reduce/physics/axes.h"
#include "reduce/physics/finite.h"

enum { LOADS = 6, FORCES = 3 };

static const unsigned force_bits = (1U << FORCES) - 1;

static int is_out(unsigned mask, int load)
{
    return (int)(mask >> load & 1U);
}

/* A copy with NAN, or 0, in the loads that are out. */
static void copy_but(const double *from, unsigned mask, double instead, double *to)
{
    for (int i = 0; i < LOADS; i++)
        to[i] = is_out(mask, i) ? instead : from[i];
}

enum outcome tunnel_take_off_zero(const struct tunnel_recipe *recipe,
                                  const struct tunnel_inputs *inputs, struct tunnel_result *result)
{
    double found[LOADS], measured[LOADS];
    for (int i = 0; i < LOADS; i++) {
        double drift = inputs->zero_after[i] - inputs->zero_before[i];
        found[i] = inputs->output[i] - (inputs->zero_before[i] + inputs->zero_fraction * drift);
    }
    copy_but(found, recipe->not_measured, 0.0, measured);
    if (!all_finite(measured, LOADS))
        return OUTCOME_NOT_FINITE;
    copy_but(found, recipe->not_measured, (double)NAN, result->zero);
    return OUTCOME_OK;
}

enum outcome tunnel_balance_loads(const struct balance_calibration *calibration,
                                  const struct tunnel_inputs *inputs, double load[LOADS])
{
    const double *warm = inputs->balance_zero_temperature;
    struct balance_reading point = {.temperature = inputs->balance_temperature};
    struct balance_reading zero = {.temperature =
                                       warm[0] + inputs->zero_fraction * (warm[1] - warm[0])};
    for (int i = 0; i < LOADS; i++) {
        double drift = inputs->zero_after[i] - inputs->zero_before[i];
        point.output[i] = inputs->output[i];
        zero.output[i] = inputs->zero_before[i] + inputs->zero_fraction * drift;
    }
    return balance_loads_between(calibration, &point, &zero, load);
}

enum outcome tunnel_make_loads(const struct tunnel_recipe *recipe,
                               const struct tunnel_inputs *inputs, struct tunnel_result *result)
{
    if (recipe->source == LOADS_FROM_OUTPUTS)
        return tunnel_balance_loads(&recipe->calibration, inputs, result->balance);
    memcpy(result->balance, result->zero, sizeof result->balance);
    return OUTCOME_OK;
}

enum outcome tunnel_take_off_tare(const struct tunnel_recipe *recipe,
                                  const struct tunnel_inputs *inputs, struct tunnel_result *result)
{
    double tare[LOADS];
    copy_but(inputs->tare, recipe->not_measured, 0.0, tare);
    if (!all_finite(tare, LOADS))
        return OUTCOME_NOT_FINITE;
    for (int i = 0; i < LOADS; i++)
        result->tared[i] = result->balance[i] - tare[i];
    return OUTCOME_OK;
}

enum outcome tunnel_take_off_belt(const struct tunnel_recipe *recipe,
                                  const struct tunnel_inputs *inputs, struct tunnel_result *result)
{
    double belt[LOADS];
    copy_but(inputs->belt_tare, recipe->not_measured, 0.0, belt);
    if (!all_finite(belt, LOADS))
        return OUTCOME_NOT_FINITE;
    for (int i = 0; i < LOADS; i++)
        result->belt_tared[i] = result->tared[i] - belt[i];
    return OUTCOME_OK;
}

/* v + turn x v, of forces and of moments: the angles of an alignment are small. */
static void turn_by(const double turn[3], double load[LOADS])
{
    for (int part = 0; part < LOADS; part += FORCES) {
        const double v[FORCES] = {load[part], load[part + 1], load[part + 2]};
        load[part] += turn[1] * v[2] - turn[2] * v[1];
        load[part + 1] += turn[2] * v[0] - turn[0] * v[2];
        load[part + 2] += turn[0] * v[1] - turn[1] * v[0];
    }
}

/* Balance axes at the balance's reference point to car axes at the car's origin. */
static enum outcome to_origin(const struct tunnel_recipe *recipe, double yaw, const double *turn,
                              const double load[LOADS], double at_origin[LOADS])
{
    double parallel[LOADS];
    enum outcome outcome = axes_to_car(load, recipe->axis_sign, recipe->moment_sign, parallel);
    if (outcome == OUTCOME_OK && turn != NULL)
        turn_by(turn, parallel);
    if (outcome == OUTCOME_OK)
        outcome = axes_transfer(parallel, recipe->origin, at_origin);
    if (outcome == OUTCOME_OK && recipe->stays_with_tunnel)
        outcome = axes_from_wind(at_origin, yaw, at_origin);
    return outcome;
}

unsigned tunnel_loads_unknown(const struct tunnel_recipe *recipe, double yaw)
{
    unsigned unknown = 0;
    for (int i = 0; i < LOADS; i++) {
        double unit[LOADS] = {0.0}, at_origin[LOADS];
        unit[i] = 1.0;
        if (!is_out(recipe->not_measured, i) ||
            to_origin(recipe, yaw, NULL, unit, at_origin) != OUTCOME_OK)
            continue;
        for (int j = 0; j < LOADS; j++)
            if (at_origin[j] != 0.0)
                unknown |= 1U << j;
    }
    return unknown;
}

enum outcome tunnel_transfer(const struct tunnel_recipe *recipe, const struct tunnel_inputs *inputs,
                             struct tunnel_result *result)
{
    double measured[LOADS], at_origin[LOADS];
    copy_but(result->belt_tared, recipe->not_measured, 0.0, measured);
    enum outcome outcome = to_origin(recipe, inputs->yaw, inputs->error.turn, measured, at_origin);
    if (outcome != OUTCOME_OK)
        return outcome;
    unsigned unknown = tunnel_loads_unknown(recipe, inputs->yaw);
    if ((unknown & force_bits) == force_bits)
        return OUTCOME_NOT_FINITE;
    copy_but(at_origin, unknown, (double)NAN, result->transferred);
    return OUTCOME_OK;
}

/* Of one cell: zero and weight tare taken off. */
static double net_cell(const struct tunnel_inputs *inputs, int i)
{
    double drift = inputs->cell_zero_after[i] - inputs->cell_zero_before[i];
    return inputs->cell[i] - (inputs->cell_zero_before[i] + inputs->zero_fraction * drift) -
           inputs->cell_tare[i];
}

enum outcome tunnel_add_cells(const struct tunnel_recipe *recipe,
                              const struct tunnel_inputs *inputs, struct tunnel_result *result)
{
    int any = 0;
    for (int i = 0; i < WHEEL_CELLS; i++) {
        any = any || recipe->cell_added[i];
        if (recipe->cell_added[i])
            result->cell[i] = net_cell(inputs, i);
    }
    if (any)
        return wheel_cells_add(result->transferred, result->cell, recipe->cell_added,
                               &recipe->cells, result->with_cells);
    memcpy(result->with_cells, result->transferred, sizeof result->with_cells);
    return OUTCOME_OK;
}
