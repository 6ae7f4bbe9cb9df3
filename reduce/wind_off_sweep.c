/* wind_off_sweep.c - see wind_off_sweep.h. */
#include "reduce/wind_off_sweep.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/physics/finite.h"
#include "reduce/point_rows.h"
#include "reduce/rows.h"
#include "reduce/sensed_heights.h"

enum { LOADS = 6 };

static void take_tare(const struct run_work *work, struct wind_off_sweep *sweep)
{
    for (size_t i = 0; i < sweep->n; i++) {
        const struct tare_point *point = &work->tare.points[i];
        struct sweep_point *made = &sweep->points[i];
        made->point = point->point;
        memcpy(made->attitude, point->attitude, sizeof made->attitude);
        memcpy(made->load, point->load, sizeof made->load);
    }
}

static void reduce_reading(const struct run_work *work, const struct point_row *point,
                           double load[])
{
    const struct zero_reading *zero = &work->zeros.before;
    const struct tunnel_recipe *recipe = &work->recipe.tunnel;
    struct balance_reading here = {.temperature =
                                       run_data_mean(&zero->data, point, ROLE_BALANCE_TEMPERATURE)};
    struct balance_reading first = {
        .temperature = run_data_mean(&zero->data, zero->point, ROLE_BALANCE_TEMPERATURE)};
    for (int i = 0; i < LOADS; i++) {
        enum role role = (enum role)((int)recipe_first_role(recipe->source) + i);
        here.output[i] = run_data_mean(&zero->data, point, role);
        first.output[i] = run_data_mean(&zero->data, zero->point, role);
        load[i] = recipe->source == LOADS_READY ? here.output[i] - first.output[i] : (double)NAN;
    }
    if (recipe->source == LOADS_FROM_OUTPUTS)
        (void)balance_loads_between(&recipe->calibration, &here, &first, load);
}

static void take_zero(const struct run_work *work, struct wind_off_sweep *sweep)
{
    const struct run_data *data = &work->zeros.before.data;
    for (size_t i = 0; i < sweep->n; i++) {
        struct sweep_point *made = &sweep->points[i];
        made->point = data->points[i].point;
        attained_attitude(work->night->campaign, work->recipe.facility, data, &data->points[i],
                          made->attitude);
        reduce_reading(work, &data->points[i], made->load);
    }
}

enum status wind_off_sweep_make(const struct run_work *work, struct wind_off_sweep *sweep,
                                struct fault *fault)
{
    void *points = NULL;
    memset(sweep, 0, sizeof *sweep);
    if (!recipe_has_loads(&work->recipe.tunnel))
        return OK;
    int is_tare = work->tare.choice.kind == TARE_KIND_LOOKUP;
    if (!is_tare && work->zeros.choice.kind < ZERO_KIND_CONSTANT)
        return OK;
    size_t n = is_tare ? work->tare.n_points : work->zeros.before.data.n_points;
    enum status status = array_make(&points, n, sizeof *sweep->points, fault);
    if (status != OK)
        return status;
    *sweep = (struct wind_off_sweep){
        is_tare ? work->tare.choice.run : work->zeros.choice.before.run, is_tare, points, n};
    if (is_tare)
        take_tare(work, sweep);
    else
        take_zero(work, sweep);
    return OK;
}

void wind_off_sweep_end(struct wind_off_sweep *sweep)
{
    free(sweep->points);
    memset(sweep, 0, sizeof *sweep);
}

static double tolerance_of(const struct run_work *work, int axis)
{
    double own = work->recipe.facility->tare_tolerance[axis];
    return own > 0 ? own : work->night->campaign->attitudes.tolerance[axis];
}

/* 1 when two points differ in their yaw alone; what neither of them logs is the same. */
static int differ_in_yaw(const struct run_work *work, const struct sweep_point *a,
                         const struct sweep_point *b)
{
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++) {
        double apart = fabs(a->attitude[axis] - b->attitude[axis]);
        if (isnan(a->attitude[axis]) && isnan(b->attitude[axis]) && axis != ATTITUDE_YAW)
            continue;
        if (axis == ATTITUDE_YAW ? !(apart > tolerance_of(work, axis))
                                 : !(apart <= tolerance_of(work, axis)))
            return 0;
    }
    return 1;
}

/* What a wind-off reading is worth in loads at the car's origin, and in coefficients. */
struct reading_worth {
    double load[LOADS];
    double quantity[QUANTITY_COUNT];
    int is_known;
};

static void weigh(const struct run_work *work, const struct load_probe *probe,
                  const struct sweep_point *point, struct reading_worth *worth)
{
    const struct tunnel_recipe *recipe = &work->recipe.tunnel;
    struct tunnel_inputs inputs = probe->made.inputs;
    struct tunnel_result with;
    struct tunnel_result without;
    double quantity[QUANTITY_COUNT];
    memset(worth, 0, sizeof *worth);
    if (!all_finite(point->load, LOADS) || !isfinite(point->attitude[ATTITUDE_YAW]))
        return;
    inputs.yaw = point->attitude[ATTITUDE_YAW];
    memset(inputs.tare, 0, sizeof inputs.tare);
    if (tunnel_point_reduce(recipe, &inputs, &with) != OUTCOME_OK)
        return;
    memcpy(inputs.tare, point->load, sizeof inputs.tare);
    if (tunnel_point_reduce(recipe, &inputs, &without) != OUTCOME_OK)
        return;
    quantities_from_coefficients(with.corrected, recipe->reference_area, worth->quantity);
    quantities_from_coefficients(without.corrected, recipe->reference_area, quantity);
    for (int i = 0; i < QUANTITY_COUNT; i++)
        worth->quantity[i] -= quantity[i];
    for (int i = 0; i < LOADS; i++)
        worth->load[i] = with.transferred[i] - without.transferred[i];
    worth->is_known = 1;
}

/* The coefficient that differs most between two readings, and by how much. */
static double largest_change(const struct reading_worth *a, const struct reading_worth *b,
                             enum quantity *which)
{
    double largest = 0;
    *which = QUANTITY_COUNT;
    for (int i = 0; i < QUANTITY_COUNT; i++) {
        double change = fabs(b->quantity[i] - a->quantity[i]);
        if (!quantity_row((enum quantity)i)->in_counts || !(change > largest))
            continue;
        largest = change;
        *which = (enum quantity)i;
    }
    return largest;
}

static void compare(const struct run_work *work, const struct wind_off_sweep *sweep,
                    const struct reading_worth *worth, struct yaw_change *change)
{
    double largest = 0;
    for (size_t i = 0; i < sweep->n; i++)
        for (size_t k = i + 1; k < sweep->n; k++) {
            enum quantity which = QUANTITY_COUNT;
            if (!worth[i].is_known || !worth[k].is_known ||
                !differ_in_yaw(work, &sweep->points[i], &sweep->points[k]))
                continue;
            double found = largest_change(&worth[i], &worth[k], &which);
            if (!(found > largest))
                continue;
            largest = found;
            int is_turned =
                sweep->points[i].attitude[ATTITUDE_YAW] > sweep->points[k].attitude[ATTITUDE_YAW];
            size_t from = is_turned ? k : i;
            size_t to = is_turned ? i : k;
            change->from = &sweep->points[from];
            change->to = &sweep->points[to];
            change->largest = which;
            for (int q = 0; q < QUANTITY_COUNT; q++)
                change->coefficient[q] = worth[to].quantity[q] - worth[from].quantity[q];
            for (int j = 0; j < LOADS; j++)
                change->load[j] = worth[to].load[j] - worth[from].load[j];
        }
}

enum status wind_off_sweep_yaw(const struct run_work *work, const struct load_probe *probe,
                               const struct wind_off_sweep *sweep, struct yaw_change *change,
                               struct fault *fault)
{
    void *array = NULL;
    memset(change, 0, sizeof *change);
    if (probe->made.point == NULL || sweep->n < 2)
        return OK;
    enum status status = array_make(&array, sweep->n, sizeof(struct reading_worth), fault);
    struct reading_worth *worth = array;
    for (size_t i = 0; status == OK && i < sweep->n; i++)
        weigh(work, probe, &sweep->points[i], &worth[i]);
    if (status == OK)
        compare(work, sweep, worth, change);
    free(array);
    return status;
}
