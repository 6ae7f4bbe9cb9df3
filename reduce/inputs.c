/* inputs.c - inputs of a point's reduction; see inputs.h. */
#include "reduce/inputs.h"

#include <math.h>
#include <string.h>

void inputs_fill_coefficients(double c[COEFFICIENTS])
{
    double *total = &c[COEFFICIENT_CL];
    double *front = &c[COEFFICIENT_CLF];
    double *rear = &c[COEFFICIENT_CLR];
    double *pitch = &c[COEFFICIENT_CPM];
    if (isnan(*total))
        *total = *front + *rear;
    if (isnan(*front))
        *front = isnan(*rear) ? *total / 2 - *pitch : *total - *rear;
    if (isnan(*rear))
        *rear = *total - *front;
    if (isnan(*pitch))
        *pitch = (*rear - *front) / 2;
}

static void set_loads(const struct tunnel_recipe *recipe, const struct run_data *data,
                      const struct point_row *point, struct tunnel_inputs *inputs)
{
    int first = (int)recipe_first_role(recipe->source);
    if (recipe->source == LOADS_AS_COEFFICIENTS) {
        for (int i = 0; i < COEFFICIENTS; i++)
            inputs->facility_coefficient[i] = run_data_mean(data, point, (enum role)(first + i));
        inputs_fill_coefficients(inputs->facility_coefficient);
        return;
    }
    for (int i = 0; i < 6; i++)
        inputs->output[i] = run_data_mean(data, point, (enum role)(first + i));
}

static void set_zero(const struct tunnel_recipe *recipe, const struct zero_reading *reading,
                     double zero[6])
{
    int first = (int)recipe_first_role(recipe->source);
    for (int i = 0; i < 6; i++)
        zero[i] = run_data_mean(&reading->data, reading->point, (enum role)(first + i));
}

static void set_zeros(const struct tunnel_recipe *recipe, const struct point_row *point,
                      const struct zeros *zeros, struct tunnel_inputs *inputs)
{
    if (recipe->source == LOADS_AS_COEFFICIENTS || zeros->choice.kind < ZERO_KIND_CONSTANT)
        return;
    set_zero(recipe, &zeros->before, inputs->zero_before);
    if (zeros->choice.kind == ZERO_KIND_CONSTANT) {
        memcpy(inputs->zero_after, inputs->zero_before, sizeof inputs->zero_after);
        return;
    }
    set_zero(recipe, &zeros->after, inputs->zero_after);
    inputs->zero_fraction = zeros_fraction(zeros, point->time);
}

void inputs_fill(const struct tunnel_recipe *recipe, const struct run_data *data,
                 const struct point_row *point, const struct zeros *zeros,
                 struct tunnel_inputs *inputs)
{
    memset(inputs, 0, sizeof *inputs);
    set_loads(recipe, data, point, inputs);
    set_zeros(recipe, point, zeros, inputs);
    inputs->total_pressure = run_data_mean(data, point, ROLE_TOTAL_PRESSURE);
    inputs->static_pressure = run_data_mean(data, point, ROLE_STATIC_PRESSURE);
    inputs->total_minus_static = run_data_mean(data, point, ROLE_TOTAL_MINUS_STATIC);
    inputs->contraction_drop = run_data_mean(data, point, ROLE_CONTRACTION_DROP);
    inputs->dynamic_pressure = run_data_mean(data, point, ROLE_DYNAMIC_PRESSURE);
    inputs->total_temperature = run_data_mean(data, point, ROLE_TOTAL_TEMPERATURE);
    inputs->static_temperature = run_data_mean(data, point, ROLE_STATIC_TEMPERATURE);
    inputs->relative_humidity = run_data_mean(data, point, ROLE_RELATIVE_HUMIDITY);
}
