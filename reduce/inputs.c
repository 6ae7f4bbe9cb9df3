/* inputs.c - inputs of a point's reduction; see inputs.h. */
#include "reduce/inputs.h"

#include <math.h>
#include <string.h>

static void set_loads(const struct tunnel_recipe *recipe, const struct run_data *data,
                      const struct point_row *point, struct tunnel_inputs *inputs)
{
    if (recipe->source == LOADS_NONE)
        return;
    int first = (int)recipe_first_role(recipe->source);
    if (recipe->source == LOADS_AS_COEFFICIENTS) {
        for (int i = 0; i < COEFFICIENTS; i++)
            inputs->facility_coefficient[i] = run_data_mean(data, point, (enum role)(first + i));
        return;
    }
    for (int i = 0; i < 6; i++)
        inputs->output[i] = run_data_mean(data, point, (enum role)(first + i));
}

/* The cells that are added, of a point or of a zero. */
static void set_cells(const struct tunnel_recipe *recipe, const struct run_data *data,
                      const struct point_row *point, double cell[WHEEL_CELLS])
{
    for (int i = 0; i < WHEEL_CELLS; i++)
        if (recipe->cell_added[i])
            cell[i] = run_data_mean(data, point, recipe_cell_role((enum wheel_cell)i));
}

static void set_zero(const struct tunnel_recipe *recipe, const struct zero_reading *reading,
                     double zero[6], double cell[WHEEL_CELLS])
{
    int first = (int)recipe_first_role(recipe->source);
    for (int i = 0; i < 6; i++)
        zero[i] = run_data_mean(&reading->data, reading->point, (enum role)(first + i));
    set_cells(recipe, &reading->data, reading->point, cell);
}

static void set_zeros(const struct tunnel_recipe *recipe, const struct point_row *point,
                      const struct zeros *zeros, struct tunnel_inputs *inputs)
{
    if (!recipe_has_loads(recipe) || zeros->choice.kind < ZERO_KIND_CONSTANT)
        return;
    set_zero(recipe, &zeros->before, inputs->zero_before, inputs->cell_zero_before);
    double *temperature = inputs->balance_zero_temperature;
    temperature[0] = temperature[1] =
        run_data_mean(&zeros->before.data, zeros->before.point, ROLE_BALANCE_TEMPERATURE);
    if (zeros->choice.kind == ZERO_KIND_CONSTANT) {
        memcpy(inputs->zero_after, inputs->zero_before, sizeof inputs->zero_after);
        memcpy(inputs->cell_zero_after, inputs->cell_zero_before, sizeof inputs->cell_zero_after);
        return;
    }
    temperature[1] =
        run_data_mean(&zeros->after.data, zeros->after.point, ROLE_BALANCE_TEMPERATURE);
    set_zero(recipe, &zeros->after, inputs->zero_after, inputs->cell_zero_after);
    inputs->zero_fraction = zeros_fraction(zeros, point->time);
}

/* The yaw that the balance's loads are turned by. A run that doesn't log it stands straight: where
 * targets name a yaw, recipe_make() has refused such a run. */
static double yaw_of(const struct run_data *data, const struct point_row *point)
{
    return run_data_channel(data, ROLE_YAW) < 0 ? 0 : run_data_mean(data, point, ROLE_YAW);
}

void inputs_fill(const struct run_recipe *recipe, const struct run_data *data,
                 const struct point_row *point, const struct zeros *zeros,
                 struct tunnel_inputs *inputs)
{
    memset(inputs, 0, sizeof *inputs);
    set_loads(&recipe->tunnel, data, point, inputs);
    set_cells(&recipe->tunnel, data, point, inputs->cell);
    set_zeros(&recipe->tunnel, point, zeros, inputs);
    inputs->balance_temperature = run_data_mean(data, point, ROLE_BALANCE_TEMPERATURE);
    inputs->yaw = yaw_of(data, point);
    inputs->total_pressure = run_data_mean(data, point, ROLE_TOTAL_PRESSURE);
    inputs->static_pressure = run_data_mean(data, point, ROLE_STATIC_PRESSURE);
    inputs->total_minus_static = run_data_mean(data, point, ROLE_TOTAL_MINUS_STATIC);
    inputs->drop = run_data_mean(data, point, recipe->drop_role);
    inputs->dynamic_pressure = run_data_mean(data, point, ROLE_DYNAMIC_PRESSURE);
    inputs->speed = run_data_mean(data, point, ROLE_AIR_SPEED);
    inputs->total_temperature = run_data_mean(data, point, ROLE_TOTAL_TEMPERATURE);
    inputs->static_temperature = run_data_mean(data, point, ROLE_STATIC_TEMPERATURE);
    inputs->base_pressure = (double)NAN;
    inputs->base_cp = (double)NAN;
    inputs->relative_humidity = run_data_mean(data, point, ROLE_RELATIVE_HUMIDITY);
}
