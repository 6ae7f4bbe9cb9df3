/* target_carry.c - local fits about a target; see target_carry.h. */
#include "reduce/target_carry.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

/* Points of one value in the form of the fit. */
struct fit_points {
    double *coordinate;
    double *value;
    int *group;
    size_t n;
};

static void fit_points_end(struct fit_points *points)
{
    free(points->coordinate);
    free(points->value);
    free(points->group);
}

static enum status fit_points_make(size_t n, size_t axes, struct fit_points *points,
                                   struct fault *fault)
{
    void *coordinate = NULL;
    void *value = NULL;
    void *group = NULL;
    enum status status = array_make(&coordinate, n * axes, sizeof(double), fault);
    if (status == OK)
        status = array_make(&value, n, sizeof(double), fault);
    if (status == OK)
        status = array_make(&group, n, sizeof(int), fault);
    *points = (struct fit_points){coordinate, value, group, 0};
    if (status != OK)
        fit_points_end(points);
    return status;
}

/* A coordinate that was not logged at any point is not one of the fit. */
static void choose_axes(const struct attained_list *list, const struct target *target,
                        struct target_fits *fits)
{
    for (int i = 0; i < ATTITUDE_COUNT; i++) {
        int is_logged = 0;
        for (size_t k = 0; k < list->n && !is_logged; k++)
            is_logged = isfinite(list->points[k].attitude[i]);
        if (target->given[i] && is_logged)
            fits->axis[fits->axes++] = i;
    }
}

static void collect(const struct attained_list *list, const struct target_fits *fits, int value,
                    struct fit_points *points)
{
    points->n = 0;
    for (size_t k = 0; k < list->n; k++) {
        const struct attained_point *point = &list->points[k];
        double *row = &points->coordinate[points->n * fits->axes];
        int is_whole = isfinite(point->value[value]);
        for (size_t i = 0; i < fits->axes; i++) {
            row[i] = point->attitude[fits->axis[i]] - fits->target->coordinate[fits->axis[i]];
            is_whole = is_whole && isfinite(row[i]);
        }
        if (!is_whole)
            continue;
        points->value[points->n] = point->value[value];
        points->group[points->n] = point->group;
        points->n++;
    }
}

int target_stall_value(int i)
{
    static const int values[STALL_VALUES] = {COEFFICIENT_CL, COEFFICIENT_CLF, COEFFICIENT_CLR};
    return values[i];
}

int target_axis_may_stall(int axis)
{
    return axis == ATTITUDE_FRONT_RIDE_HEIGHT || axis == ATTITUDE_REAR_RIDE_HEIGHT ||
           axis == ATTITUDE_PITCH;
}

static int stall_index(int value)
{
    for (int i = 0; i < STALL_VALUES; i++)
        if (target_stall_value(i) == value)
            return i;
    return -1;
}

/* Keeps the plainest break of any axis that may stall. */
static enum outcome find_break(const struct local_points *given, struct target_fits *fits, int i)
{
    struct local_break *kept = &fits->broken[i];
    enum outcome outcome = OUTCOME_OK;
    for (size_t a = 0; outcome == OUTCOME_OK && a < fits->axes; a++) {
        struct local_break found;
        if (!target_axis_may_stall(fits->axis[a]))
            continue;
        outcome = local_break_find(given, &fits->gradient[target_stall_value(i)], a, &found);
        if (found.is_found && (!kept->is_found || found.t / found.limit > kept->t / kept->limit))
            *kept = found;
    }
    return outcome;
}

static enum status fit_value(const struct attained_list *list, const double *scale, int value,
                             struct fit_points *points, struct target_fits *fits,
                             struct fault *fault)
{
    collect(list, fits, value, points);
    fits->is_missing[value] = points->n == 0;
    struct local_points given = {points->coordinate, points->value, points->group,
                                 points->n,          fits->axes,    scale};
    fits->outcome[value] = OUTCOME_TOO_FEW;
    if (points->n > 0 && fits->axes > 0)
        fits->outcome[value] = local_gradient_fit(&given, &fits->gradient[value]);
    if (fits->outcome[value] == OUTCOME_OK && stall_index(value) >= 0)
        fits->outcome[value] = find_break(&given, fits, stall_index(value));
    if (fits->outcome[value] == OUTCOME_NO_MEMORY)
        return FAIL(fault, NO_MEMORY, "no memory for a local fit of %zu points", points->n);
    return OK;
}

enum status target_fits_make(const struct attained_list *list, const struct attitudes *attitudes,
                             const struct target *target, struct target_fits *fits,
                             struct fault *fault)
{
    struct fit_points points;
    double scale[LOCAL_AXES_MAX];
    memset(fits, 0, sizeof *fits);
    fits->target = target;
    choose_axes(list, target, fits);
    for (size_t i = 0; i < fits->axes; i++) {
        double capture = attitudes->capture[fits->axis[i]];
        scale[i] = capture > 0 ? capture : 1;
        fits->tolerance[i] = attitudes->tolerance[fits->axis[i]];
    }
    enum status status = fit_points_make(list->n, fits->axes, &points, fault);
    if (status != OK)
        return status;
    for (int value = 0; status == OK && value < CARRIED_VALUES; value++)
        status = fit_value(list, scale, value, &points, fits, fault);
    fit_points_end(&points);
    return status;
}

/* More than what is left of rounding in loads that were divided and added. */
static const double SAME_SUM = 1e-9;

/* A target farther outside the span of the points than this share of it is beyond them. */
static const double BEYOND = 0.1;

static int is_same(double value, double formed, double scale)
{
    return fabs(value - formed) <= SAME_SUM * scale;
}

/* CL and CPM from the carried axles, each where it is so at the attained attitude; a NAN never is. */
static void rebuild_total(const double *attained, double coefficient[COEFFICIENTS])
{
    double front = attained[COEFFICIENT_CLF];
    double rear = attained[COEFFICIENT_CLR];
    double scale = fabs(front) + fabs(rear);
    double carried_front = coefficient[COEFFICIENT_CLF];
    double carried_rear = coefficient[COEFFICIENT_CLR];
    if (is_same(attained[COEFFICIENT_CL], front + rear, scale))
        coefficient[COEFFICIENT_CL] = carried_front + carried_rear;
    if (is_same(attained[COEFFICIENT_CPM], (rear - front) / 2, scale))
        coefficient[COEFFICIENT_CPM] = (carried_rear - carried_front) / 2;
}

void target_carry_steps(const struct target_fits *fits, const struct attitude_match *match,
                        double step[LOCAL_AXES_MAX])
{
    for (size_t i = 0; i < fits->axes; i++) {
        double offset = match->offset[fits->axis[i]];
        step[i] = fabs(offset) > fits->tolerance[i] ? offset : 0;
    }
}

struct carry_beyond target_carry_beyond(const struct target_fits *fits,
                                        const struct attained_point *point,
                                        const struct attitude_match *match)
{
    struct carry_beyond worst = {-1, BEYOND};
    double step[LOCAL_AXES_MAX] = {0};
    target_carry_steps(fits, match, step);
    for (int value = 0; value < CARRIED_VALUES; value++) {
        if (isnan(point->value[value]) || fits->outcome[value] != OUTCOME_OK)
            continue;
        for (size_t i = 0; i < fits->axes; i++) {
            double share = local_gradient_beyond(&fits->gradient[value], i);
            if (step[i] != 0 && share > worst.share)
                worst = (struct carry_beyond){fits->axis[i], share};
        }
    }
    return worst;
}

enum outcome target_carry(const struct target_fits *fits, const struct attained_point *point,
                          const struct attitude_match *match, struct carried_value *carried)
{
    double step[LOCAL_AXES_MAX] = {0};
    target_carry_steps(fits, match, step);
    carried->degrees_of_freedom = (double)NAN;
    for (int value = 0; value < CARRIED_VALUES; value++) {
        double change = (double)NAN;
        double uncertainty = (double)NAN;
        if (isfinite(point->value[value]) && !fits->is_missing[value]) {
            enum outcome outcome = fits->outcome[value];
            if (outcome == OUTCOME_OK)
                outcome = local_gradient_carry(&fits->gradient[value], step, fits->axes, &change,
                                               &uncertainty);
            if (outcome != OUTCOME_OK)
                return outcome;
            carried->degrees_of_freedom =
                fmin(carried->degrees_of_freedom, fits->gradient[value].degrees_of_freedom);
        }
        carried->uncertainty[value] = uncertainty;
        if (value < COEFFICIENTS)
            carried->coefficient[value] = point->value[value] - change;
    }
    rebuild_total(point->value, carried->coefficient);
    return OUTCOME_OK;
}
