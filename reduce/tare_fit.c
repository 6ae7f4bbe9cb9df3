/* tare_fit.c - see tare_fit.h. */
#include "reduce/tare_fit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/physics/constants.h"
#include "reduce/physics/convex_weights.h"
#include "reduce/physics/finite.h"
#include "reduce/rows.h"

enum { LOADS = 6 };

/* A centre of gravity is told when it is known better than this: what a car's own is drawn to. */
static const double position_limit = 0.02; /* m; common practice, no source */

static double pitch_of(const struct tare_model *model, const double attitude[ATTITUDE_COUNT])
{
    double rake = attitude[ATTITUDE_REAR_RIDE_HEIGHT] - attitude[ATTITUDE_FRONT_RIDE_HEIGHT];
    double pitch = asin(rake / model->wheelbase);
    if (isfinite(pitch))
        return pitch;
    pitch = attitude[ATTITUDE_PITCH];
    return isnan(pitch) && !(model->setup.follows & FOLLOWS_PITCH) ? 0 : pitch;
}

static struct weight_attitude angles_of(const struct tare_model *model,
                                        const double attitude[ATTITUDE_COUNT])
{
    double roll = attitude[ATTITUDE_ROLL];
    double yaw = attitude[ATTITUDE_YAW];
    return (struct weight_attitude){pitch_of(model, attitude), isnan(roll) ? 0 : roll,
                                    isnan(yaw) ? 0 : yaw};
}

static void set_up(const struct night *night, const struct run_recipe *recipe,
                   struct tare_model *model)
{
    const struct facility *facility = recipe->facility;
    double gravity = facility->gravity > 0 ? facility->gravity : STANDARD_GRAVITY;
    static const struct {
        const char *axis;
        unsigned bit;
    } axes[] = {{"pitch", FOLLOWS_PITCH}, {"roll", FOLLOWS_ROLL}, {"yaw", FOLLOWS_YAW}};
    model->is_wanted = 1;
    model->outcome = OUTCOME_TOO_FEW;
    model->wheelbase = night->campaign->car.wheelbase;
    model->setup.scales_weight = facility->scales_weight * gravity;
    model->setup.position_limit = position_limit * night->campaign->car.model_scale;
    for (size_t i = 0; i < sizeof axes / sizeof axes[0]; i++)
        if (recipe_balance_follows(facility, axes[i].axis))
            model->setup.follows |= axes[i].bit;
    memcpy(model->setup.origin, recipe->tunnel.origin, sizeof model->setup.origin);
    for (int i = 0; i < 3; i++) {
        model->sense[i] = recipe->tunnel.axis_sign[i];
        model->sense[3 + i] = recipe->tunnel.moment_sign[i];
    }
}

/* A point serves when its loads are there, and every axis that is compared. */
static int serves(const struct tare_model *model, const double *tolerance,
                  const struct tare_point *point)
{
    if (!all_finite(point->load, LOADS) || !isfinite(pitch_of(model, point->attitude)))
        return 0;
    for (int i = 0; i < ATTITUDE_COUNT; i++)
        if (tolerance[i] > 0 && !isfinite(point->attitude[i]))
            return 0;
    return 1;
}

static enum status gather(const double *tolerance, struct tare_table *table, struct fault *fault)
{
    struct tare_model *model = &table->model;
    void *points = NULL;
    enum status status = array_make(&points, table->n_points, sizeof *model->point, fault);
    if (status != OK)
        return status;
    model->point = points;
    for (size_t i = 0; i < table->n_points; i++)
        if (serves(model, tolerance, &table->points[i]))
            model->point[model->n++] = table->points[i];
    return OK;
}

/* Which axes the sweep moves on, by more than their tolerance. */
static void find_axes(const double *tolerance, struct tare_model *model)
{
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++) {
        double least = (double)INFINITY;
        double most = (double)-INFINITY;
        double sum = 0;
        for (size_t i = 0; i < model->n; i++) {
            double value = model->point[i].attitude[axis];
            least = fmin(least, value);
            most = fmax(most, value);
            sum += value;
        }
        model->still[axis] = (double)NAN;
        if (!(tolerance[axis] > 0) || model->n == 0)
            continue;
        if (most - least > tolerance[axis])
            model->axis[model->n_axes++] = axis;
        else
            model->still[axis] = sum / (double)model->n;
    }
}

static enum status place_points(const double *tolerance, struct tare_model *model,
                                struct fault *fault)
{
    void *place = NULL;
    void *weight = NULL;
    enum status status = array_make(&place, model->n * model->n_axes, sizeof *model->place, fault);
    if (status == OK)
        status = array_make(&weight, model->n, sizeof *model->weight, fault);
    model->place = place;
    model->weight = weight;
    for (size_t i = 0; status == OK && i < model->n; i++)
        for (size_t k = 0; k < model->n_axes; k++) {
            int axis = model->axis[k];
            model->place[i * model->n_axes + k] = model->point[i].attitude[axis] / tolerance[axis];
        }
    return status;
}

static void turn_senses(const struct tare_model *model, const double load[LOADS],
                        double turned[LOADS])
{
    for (int i = 0; i < LOADS; i++)
        turned[i] = model->sense[i] * load[i];
}

/* The model's part in balance axes; zeros where there is no model. */
static enum outcome model_loads(const struct tare_model *model,
                                const double attitude[ATTITUDE_COUNT], double load[LOADS])
{
    struct weight_attitude angles = angles_of(model, attitude);
    memset(load, 0, LOADS * sizeof *load);
    if (model->outcome != OUTCOME_OK)
        return OUTCOME_OK;
    enum outcome outcome = weight_loads(&model->setup, &model->fit, &angles, load);
    turn_senses(model, load, load);
    return outcome;
}

static enum status fit_points(struct tare_model *model, struct fault *fault)
{
    void *samples = NULL;
    void *residuals = NULL;
    enum status status = array_make(&samples, model->n, sizeof(struct weight_sample), fault);
    if (status == OK)
        status = array_make(&residuals, model->n, sizeof *model->residual, fault);
    model->residual = residuals;
    struct weight_sample *sample = samples;
    for (size_t i = 0; status == OK && i < model->n; i++) {
        sample[i].attitude = angles_of(model, model->point[i].attitude);
        turn_senses(model, model->point[i].load, sample[i].load);
    }
    if (status == OK)
        model->outcome = weight_fit_make(&model->setup, sample, model->n, &model->fit);
    if (model->outcome == OUTCOME_NO_MEMORY)
        status = FAIL(fault, NO_MEMORY, "no memory for the fit of the weight tare");
    for (size_t i = 0; status == OK && i < model->n; i++) {
        double load[LOADS];
        (void)model_loads(model, model->point[i].attitude, load);
        for (int k = 0; k < LOADS; k++)
            model->residual[i][k] = model->point[i].load[k] - load[k];
    }
    free(samples);
    return status;
}

enum status tare_model_make(const struct night *night, const struct run_recipe *recipe,
                            struct tare_table *table, struct fault *fault)
{
    const double *tolerance = recipe->facility->tare_tolerance;
    set_up(night, recipe, &table->model);
    enum status status = gather(tolerance, table, fault);
    if (status != OK)
        return status;
    find_axes(tolerance, &table->model);
    status = place_points(tolerance, &table->model, fault);
    return status == OK ? fit_points(&table->model, fault) : status;
}

void tare_model_end(struct tare_model *model)
{
    free(model->point);
    free(model->residual);
    free(model->place);
    free(model->weight);
    memset(model, 0, sizeof *model);
}

static int meets_still_axes(const struct tare_model *model, const double *tolerance,
                            const double attitude[ATTITUDE_COUNT])
{
    for (int i = 0; i < ATTITUDE_COUNT; i++)
        if (!isnan(model->still[i]) && !(fabs(attitude[i] - model->still[i]) <= tolerance[i]))
            return 0;
    return 1;
}

/* Weights of the sweep's points about an attitude. */
static enum outcome weigh_points(const struct tare_model *model, const double *tolerance,
                                 const double attitude[ATTITUDE_COUNT])
{
    double at[ATTITUDE_COUNT];
    if (!meets_still_axes(model, tolerance, attitude))
        return OUTCOME_OUTSIDE;
    for (size_t k = 0; k < model->n_axes; k++)
        at[k] = attitude[model->axis[k]] / tolerance[model->axis[k]];
    enum outcome outcome = convex_weights(model->place, model->n, model->n_axes, at, model->weight);
    return outcome == OUTCOME_OK || outcome == OUTCOME_NO_MEMORY ? outcome : OUTCOME_OUTSIDE;
}

static void weigh_only(const struct tare_model *model, const struct tare_point *point)
{
    for (size_t i = 0; i < model->n; i++)
        model->weight[i] = model->point[i].point == point->point ? 1 : 0;
}

static enum outcome add_up(const struct tare_model *model, const double attitude[ATTITUDE_COUNT],
                           struct tare_found *found)
{
    enum outcome outcome = model_loads(model, attitude, found->model);
    memcpy(found->load, found->model, sizeof found->load);
    memset(found->cell, 0, sizeof found->cell);
    for (size_t i = 0; i < model->n; i++) {
        for (int k = 0; k < LOADS; k++)
            found->load[k] += model->weight[i] * model->residual[i][k];
        for (int k = 0; k < WHEEL_CELLS; k++)
            found->cell[k] += model->weight[i] * model->point[i].cell[k];
    }
    return outcome == OUTCOME_OK ? OUTCOME_OK : OUTCOME_OUTSIDE;
}

static void take_point(const struct tare_point *point, struct tare_found *found)
{
    memcpy(found->load, point->load, sizeof found->load);
    memcpy(found->cell, point->cell, sizeof found->cell);
    for (int i = 0; i < LOADS; i++)
        found->model[i] = (double)NAN;
}

enum outcome tare_at(const struct tare_table *table, const double *tolerance,
                     const double attitude[ATTITUDE_COUNT], struct tare_found *found,
                     int *worst_axis, double *worst)
{
    const struct tare_point *nearest = tare_lookup(table, tolerance, attitude, worst_axis, worst);
    const struct tare_model *model = &table->model;
    memset(found, 0, sizeof *found);
    if (model->is_wanted) {
        enum outcome outcome = weigh_points(model, tolerance, attitude);
        found->way = TARE_BY_INTERPOLATION;
        if (outcome == OUTCOME_OK)
            return add_up(model, attitude, found);
        if (outcome != OUTCOME_OUTSIDE)
            return outcome;
    }
    if (nearest == NULL)
        return OUTCOME_OUTSIDE;
    found->way = TARE_BY_POINT;
    found->point = nearest->point;
    if (!model->is_wanted) {
        take_point(nearest, found);
        return OUTCOME_OK;
    }
    weigh_only(model, nearest);
    return add_up(model, attitude, found);
}

void tare_apply(const struct tare_found *found, struct tunnel_inputs *inputs)
{
    memcpy(inputs->tare, found->load, sizeof inputs->tare);
    memcpy(inputs->cell_tare, found->cell, sizeof inputs->cell_tare);
}
