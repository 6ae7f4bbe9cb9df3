/* uncertain_point.c - see uncertain_point.h. */
#include "reduce/uncertain_point.h"

#include <math.h>
#include <string.h>

#include "reduce/point_rows.h"

const enum quantity uncertain_outputs[UNCERTAIN_OUTPUTS] = {
    QUANTITY_CD,      QUANTITY_CY, QUANTITY_CL,  QUANTITY_CLF, QUANTITY_CLR,
    QUANTITY_BALANCE, QUANTITY_LD, QUANTITY_CDA, QUANTITY_CLA};

size_t uncertain_output(enum quantity quantity)
{
    size_t i = 0;
    while (i < UNCERTAIN_OUTPUTS && uncertain_outputs[i] != quantity)
        i++;
    return i;
}

enum { LOADS = 6, RESULTS = UNCERTAIN_CLR - UNCERTAIN_CD + 1 };

/* Members of the inputs that an error is simply added to. */
static const struct {
    enum uncertain_input input;
    size_t offset;
} channels[] = {
    {UNCERTAIN_TOTAL_PRESSURE, offsetof(struct tunnel_inputs, total_pressure)},
    {UNCERTAIN_STATIC_PRESSURE, offsetof(struct tunnel_inputs, static_pressure)},
    {UNCERTAIN_TOTAL_MINUS_STATIC, offsetof(struct tunnel_inputs, total_minus_static)},
    {UNCERTAIN_DROP, offsetof(struct tunnel_inputs, drop)},
    {UNCERTAIN_AIR_SPEED, offsetof(struct tunnel_inputs, speed)},
    {UNCERTAIN_TOTAL_TEMPERATURE, offsetof(struct tunnel_inputs, total_temperature)},
    {UNCERTAIN_STATIC_TEMPERATURE, offsetof(struct tunnel_inputs, static_temperature)},
    {UNCERTAIN_HUMIDITY, offsetof(struct tunnel_inputs, relative_humidity)},
};

/* Members of the recipe that an input is. */
static const struct {
    enum uncertain_input input;
    size_t offset;
} constants[] = {
    {UNCERTAIN_AREA, offsetof(struct tunnel_recipe, reference_area)},
    {UNCERTAIN_WHEELBASE, offsetof(struct tunnel_recipe, wheelbase)},
    {UNCERTAIN_ORIGIN_X, offsetof(struct tunnel_recipe, origin[0])},
    {UNCERTAIN_ORIGIN_Y, offsetof(struct tunnel_recipe, origin[1])},
    {UNCERTAIN_ORIGIN_Z, offsetof(struct tunnel_recipe, origin[2])},
    {UNCERTAIN_GRADIENT, offsetof(struct tunnel_recipe, pressure_gradient)},
    {UNCERTAIN_VOLUME, offsetof(struct tunnel_recipe, volume)},
    {UNCERTAIN_SLOTTED_FACTOR, offsetof(struct tunnel_recipe, constants.facility_factor)},
    {UNCERTAIN_VORTEX_DRAG, offsetof(struct tunnel_recipe, constants.vortex_drag)},
    {UNCERTAIN_REYNOLDS_1, offsetof(struct tunnel_recipe, reynolds.fit[CARRIED_CD].slope)},
    {UNCERTAIN_REYNOLDS_1 + 1, offsetof(struct tunnel_recipe, reynolds.fit[CARRIED_CL].slope)},
    {UNCERTAIN_REYNOLDS_1 + 2, offsetof(struct tunnel_recipe, reynolds.fit[CARRIED_CLF].slope)},
};

enum { CHANNELS = sizeof channels / sizeof channels[0] };
enum { CONSTANTS = sizeof constants / sizeof constants[0] };

static double *member(void *whole, size_t offset)
{
    return (double *)(void *)((char *)whole + offset);
}

static double read_member(const void *whole, size_t offset)
{
    double value = 0;
    memcpy(&value, (const char *)whole + offset, sizeof value);
    return value;
}

static void put(struct uncertain_point *made, int input, double value)
{
    made->is_there[input] = isfinite(value);
    made->nominal[input] = isfinite(value) ? value : 0;
}

static int is_coefficients(const struct uncertain_point *made)
{
    return made->recipe->source == LOADS_AS_COEFFICIENTS;
}

/* Alignment mixes all loads, so it is told only where all are measured. */
static void list_loads(const struct tunnel_result *result, struct uncertain_point *made)
{
    const struct tunnel_recipe *recipe = made->recipe;
    for (int i = 0; i < LOADS; i++) {
        if (recipe->source == LOADS_FROM_OUTPUTS)
            put(made, UNCERTAIN_OUTPUT_1 + i, made->inputs->output[i]);
        put(made, UNCERTAIN_LOAD_1 + i, result->belt_tared[i]);
    }
    for (int i = 0; i < WHEEL_CELLS; i++)
        if (recipe->cell_added[i])
            put(made, UNCERTAIN_CELL_1 + i, result->cell[i]);
    for (int i = 0; recipe->not_measured == 0 && i < 3; i++)
        put(made, UNCERTAIN_TURN_X + i, 0);
}

static void list_rest(const struct tunnel_result *result, struct uncertain_point *made)
{
    const struct tunnel_recipe *recipe = made->recipe;
    for (size_t i = 0; i < CHANNELS; i++)
        put(made, (int)channels[i].input, read_member(made->inputs, channels[i].offset));
    for (size_t i = 0; i < CONSTANTS; i++)
        put(made, (int)constants[i].input, read_member(recipe, constants[i].offset));
    put(made, UNCERTAIN_DYNAMIC_PRESSURE, result->freestream.dynamic_pressure);
    if (is_coefficients(made) && !made->is_there[UNCERTAIN_DYNAMIC_PRESSURE])
        put(made, UNCERTAIN_DYNAMIC_PRESSURE, 1);
    put(made, UNCERTAIN_BLOCKAGE, 1);
    made->is_there[UNCERTAIN_GRADIENT] &= recipe->buoyancy;
    for (int i = 0; i < RESULTS; i++)
        put(made, UNCERTAIN_CD + i, result->corrected[i]);
}

/* A coordinate whose error is felt has a slope in every value that the target is carried in. */
static int has_slope(const struct target_fits *fits, const double *coefficient, size_t axis)
{
    static const int needed[] = {COEFFICIENT_CD, COEFFICIENT_CL, COEFFICIENT_CLF, COEFFICIENT_CLR};
    for (size_t i = 0; i < sizeof needed / sizeof needed[0]; i++)
        if (isfinite(coefficient[needed[i]]) &&
            (fits->outcome[needed[i]] != OUTCOME_OK || !fits->gradient[needed[i]].varies[axis]))
            return 0;
    return 1;
}

static void list_attitude(const double attitude[ATTITUDE_COUNT], const struct tunnel_result *result,
                          struct uncertain_point *made)
{
    for (size_t i = 0; made->fits != NULL && i < made->fits->axes; i++) {
        int axis = made->fits->axis[i];
        if (!has_slope(made->fits, result->corrected, i))
            continue;
        put(made, UNCERTAIN_ATTITUDE_1 + axis, attitude[axis]);
        made->has_slope[axis] = 1;
        made->fit_axis[axis] = i;
    }
    if (made->recipe->stays_with_tunnel && !is_coefficients(made))
        put(made, UNCERTAIN_ATTITUDE_1 + ATTITUDE_YAW, made->inputs->yaw);
}

/* Coefficients of a facility hold its area and its q. */
static void err_in_coefficients(const struct uncertain_point *made, const double *x, double q_share,
                                struct tunnel_inputs *inputs)
{
    double scale = made->nominal[UNCERTAIN_AREA] / x[UNCERTAIN_AREA] / (1 + q_share);
    for (int i = 0; i < COEFFICIENTS; i++)
        inputs->facility_coefficient[i] *= scale;
    for (int i = 0; i < RESULTS; i++)
        if (isfinite(inputs->facility_coefficient[i]))
            inputs->facility_coefficient[i] +=
                x[UNCERTAIN_CD + i] - made->nominal[UNCERTAIN_CD + i];
}

static void move_inputs(const struct uncertain_point *made, const double *x,
                        struct tunnel_inputs *inputs)
{
    double q_share =
        made->is_there[UNCERTAIN_DYNAMIC_PRESSURE]
            ? x[UNCERTAIN_DYNAMIC_PRESSURE] / made->nominal[UNCERTAIN_DYNAMIC_PRESSURE] - 1
            : 0;
    for (int i = 0; i < LOADS; i++) {
        inputs->output[i] += x[UNCERTAIN_OUTPUT_1 + i] - made->nominal[UNCERTAIN_OUTPUT_1 + i];
        inputs->tare[i] -= x[UNCERTAIN_LOAD_1 + i] - made->nominal[UNCERTAIN_LOAD_1 + i];
    }
    for (int i = 0; i < WHEEL_CELLS; i++)
        inputs->cell[i] += x[UNCERTAIN_CELL_1 + i] - made->nominal[UNCERTAIN_CELL_1 + i];
    for (size_t i = 0; i < CHANNELS; i++)
        if (made->is_there[channels[i].input])
            *member(inputs, channels[i].offset) = x[channels[i].input];
    if (made->is_there[UNCERTAIN_HUMIDITY]) /* air is not more than wet */
        inputs->relative_humidity = fmin(fmax(inputs->relative_humidity, 0), 1);
    inputs->yaw +=
        x[UNCERTAIN_ATTITUDE_1 + ATTITUDE_YAW] - made->nominal[UNCERTAIN_ATTITUDE_1 + ATTITUDE_YAW];
    for (int i = 0; i < 3; i++)
        inputs->error.turn[i] = x[UNCERTAIN_TURN_X + i];
    inputs->error.blockage = x[UNCERTAIN_BLOCKAGE] - made->nominal[UNCERTAIN_BLOCKAGE];
    if (is_coefficients(made))
        err_in_coefficients(made, x, q_share, inputs);
    else
        inputs->error.q = q_share;
}

/* Errors of the result itself: of the downforce at the balance that it has, of an axle in both. */
static void err_in_result(const struct uncertain_point *made, const double *x,
                          double coefficient[COEFFICIENTS])
{
    double error[RESULTS];
    for (int i = 0; i < RESULTS; i++)
        error[i] = x[UNCERTAIN_CD + i] - made->nominal[UNCERTAIN_CD + i];
    double front = error[COEFFICIENT_CLF], rear = error[COEFFICIENT_CLR];
    double scale =
        error[COEFFICIENT_CL] == 0 ? 0 : error[COEFFICIENT_CL] / coefficient[COEFFICIENT_CL];
    coefficient[COEFFICIENT_CD] += error[COEFFICIENT_CD];
    coefficient[COEFFICIENT_CY] += error[COEFFICIENT_CY];
    coefficient[COEFFICIENT_CLF] += front + scale * coefficient[COEFFICIENT_CLF];
    coefficient[COEFFICIENT_CLR] += rear + scale * coefficient[COEFFICIENT_CLR];
    coefficient[COEFFICIENT_CL] += front + rear + error[COEFFICIENT_CL];
}

/* To the target from an attitude that is in error. A coefficient without a fit is not carried. */
static enum outcome carry(const struct uncertain_point *made, const double *x,
                          double coefficient[COEFFICIENTS])
{
    double step[LOCAL_AXES_MAX] = {0};
    if (made->fits == NULL)
        return OUTCOME_OK;
    memcpy(step, made->step, sizeof step);
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++)
        if (made->has_slope[axis])
            step[made->fit_axis[axis]] +=
                x[UNCERTAIN_ATTITUDE_1 + axis] - made->nominal[UNCERTAIN_ATTITUDE_1 + axis];
    for (int i = 0; i < COEFFICIENTS; i++) {
        double change = 0, u = 0;
        if (made->fits->outcome[i] != OUTCOME_OK)
            continue;
        enum outcome outcome =
            local_gradient_carry(&made->fits->gradient[i], step, made->fits->axes, &change, &u);
        if (outcome == OUTCOME_SINGULAR && i > COEFFICIENT_CLR)
            continue; /* a moment that does not go with this axis enters none of the outputs */
        if (outcome != OUTCOME_OK)
            return outcome;
        coefficient[i] -= change;
    }
    return OUTCOME_OK;
}

static enum outcome evaluate(const struct uncertain_point *made, const double *x,
                             double value[UNCERTAIN_OUTPUTS])
{
    struct tunnel_recipe recipe = *made->recipe;
    struct tunnel_inputs inputs = *made->inputs;
    struct tunnel_result result;
    double quantity[QUANTITY_COUNT];
    for (size_t i = 0; i < CONSTANTS; i++)
        if (made->is_there[constants[i].input])
            *member(&recipe, constants[i].offset) = x[constants[i].input];
    move_inputs(made, x, &inputs);
    enum outcome outcome = tunnel_point_reduce(&recipe, &inputs, &result);
    if (outcome == OUTCOME_OK && !is_coefficients(made))
        err_in_result(made, x, result.corrected);
    if (outcome == OUTCOME_OK)
        outcome = carry(made, x, result.corrected);
    if (outcome != OUTCOME_OK)
        return outcome;
    quantities_from_coefficients(result.corrected, recipe.reference_area, quantity);
    for (int i = 0; i < UNCERTAIN_OUTPUTS; i++)
        value[i] = quantity[uncertain_outputs[i]];
    return OUTCOME_OK;
}

enum outcome uncertain_point_make(const struct tunnel_recipe *recipe,
                                  const struct tunnel_inputs *inputs,
                                  const double attitude[ATTITUDE_COUNT],
                                  const struct target_fits *fits,
                                  const struct attitude_match *match, int is_carried,
                                  struct uncertain_point *made)
{
    struct tunnel_result result;
    memset(made, 0, sizeof *made);
    made->recipe = recipe;
    made->inputs = inputs;
    made->fits = fits;
    enum outcome outcome = tunnel_point_reduce(recipe, inputs, &result);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (recipe->source != LOADS_AS_COEFFICIENTS && recipe->source != LOADS_NONE)
        list_loads(&result, made);
    list_rest(&result, made);
    list_attitude(attitude, &result, made);
    if (fits != NULL && is_carried)
        target_carry_steps(fits, match, made->step);
    outcome = evaluate(made, made->nominal, made->value);
    for (int i = 0; i < UNCERTAIN_OUTPUTS; i++) {
        made->is_missing[i] = !isfinite(made->value[i]);
        if (made->is_missing[i])
            made->value[i] = 0;
    }
    return outcome;
}

int uncertain_point_find(const double *inputs, double *outputs, const void *context)
{
    const struct uncertain_point *made = context;
    if (evaluate(made, inputs, outputs) != OUTCOME_OK)
        return 0;
    for (int i = 0; i < UNCERTAIN_OUTPUTS; i++)
        if (made->is_missing[i])
            outputs[i] = 0;
    return 1;
}
