/* local_break.c - see local_break.h.
 *
 * The step is one more axis of a local fit: 0 on the target's side, 1 beyond. Its scale makes the
 * distance between the sides just more than a neighbourhood takes for one value (neighbours.h), so
 * that it hardly counts as distance. */
#include "reduce/statistics/local_break.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/statistics/break_screen.h"
#include "reduce/statistics/student.h"

static const double SIDE_SCALE = 8;  /* 1/8 of a scale lies between the sides */
static const double WORTH_A_FIT = 3; /* t of the screen: no limit is below it */
static const double BY_CHANCE = 0.001;

/* Points looked at, with one axis more. */
struct sides {
    double *coordinate; /* n x (axes + 1) */
    double *value;
    int *group;
    double scale[LOCAL_AXES_MAX];
    struct local_points points;
};

static void sides_free(struct sides *sides)
{
    free(sides->coordinate);
    free(sides->value);
    free(sides->group);
}

static enum outcome sides_allocate(const struct local_points *points, struct sides *sides)
{
    memset(sides, 0, sizeof *sides);
    sides->coordinate = calloc(points->n * (points->axes + 1), sizeof *sides->coordinate);
    sides->value = calloc(points->n, sizeof *sides->value);
    sides->group = calloc(points->n, sizeof *sides->group);
    return sides->coordinate != NULL && sides->value != NULL && sides->group != NULL
               ? OUTCOME_OK
               : OUTCOME_NO_MEMORY;
}

static int is_in_box(const struct local_points *points, const struct local_gradient *gradient,
                     size_t point)
{
    for (size_t a = 0; a < points->axes; a++) {
        double x = points->coordinate[point * points->axes + a];
        if (x < fmin(gradient->lowest[a], -points->scale[a]) ||
            x > fmax(gradient->highest[a], points->scale[a]))
            return 0;
    }
    return 1;
}

static void take_box(const struct local_points *points, const struct local_gradient *gradient,
                     struct sides *sides)
{
    size_t axes = points->axes;
    size_t n = 0;

    for (size_t i = 0; i < points->n; i++) {
        if (!is_in_box(points, gradient, i))
            continue;
        memcpy(&sides->coordinate[n * (axes + 1)], &points->coordinate[i * axes],
               axes * sizeof *sides->coordinate);
        sides->value[n] = points->value[i];
        sides->group[n] = points->group[i];
        n++;
    }
    memcpy(sides->scale, points->scale, axes * sizeof *sides->scale);
    sides->scale[axes] = SIDE_SCALE;
    sides->points = (struct local_points){
        sides->coordinate, sides->value, sides->group, n, axes + 1, sides->scale,
    };
}

/* A fit that had to give a square up would show the curve as a step. */
static int has_same_squares(const struct local_gradient *plain, const struct local_gradient *with,
                            size_t axes)
{
    size_t wider = axes + 1;

    for (size_t a = 0; a < axes; a++)
        if (plain->covariance[(axes + a) * 2 * axes + axes + a] != 0 &&
            with->covariance[(wider + a) * 2 * wider + wider + a] == 0)
            return 0;
    return 1;
}

static enum outcome judge_place(const struct sides *sides, const struct local_gradient *plain,
                                const struct break_screen *screen, struct local_break *found)
{
    size_t axes = sides->points.axes - 1;
    struct local_gradient with;

    for (size_t i = 0; i < sides->points.n; i++) {
        double *row = &sides->coordinate[i * (axes + 1)];
        row[axes] = break_side(row[found->axis], screen->place);
    }
    enum outcome outcome = local_gradient_fit(&sides->points, &with);
    if (outcome != OUTCOME_OK || !with.varies[axes] || !has_same_squares(plain, &with, axes))
        return outcome == OUTCOME_NO_MEMORY ? outcome : OUTCOME_OK;
    double error = sqrt(with.covariance[axes * 2 * (axes + 1) + axes]);
    double t = fabs(with.slope[axes]) / error;
    double limit =
        student_multiplier(1 - BY_CHANCE / (double)screen->places, with.degrees_of_freedom);
    if (t > limit)
        *found =
            (struct local_break){1, found->axis, screen->place, with.slope[axes], t, limit, with};
    return OUTCOME_OK;
}

enum outcome local_break_find(const struct local_points *points,
                              const struct local_gradient *gradient, size_t axis,
                              struct local_break *found)
{
    struct sides sides;
    struct break_screen screen;

    *found = (struct local_break){.axis = axis};
    if (points->axes >= LOCAL_AXES_MAX)
        return OUTCOME_SINGULAR;
    enum outcome outcome = sides_allocate(points, &sides);
    if (outcome == OUTCOME_OK) {
        take_box(points, gradient, &sides);
        outcome = break_screen_find(&sides.points, axis, &screen);
    }
    if (outcome == OUTCOME_OK && screen.t > WORTH_A_FIT)
        outcome = judge_place(&sides, gradient, &screen, found);
    sides_free(&sides);
    return outcome;
}

double local_break_change(const struct local_break *broken, const double *step, size_t axes)
{
    double with_side[LOCAL_AXES_MAX] = {0};
    double change = NAN;
    double uncertainty = NAN;

    if (axes >= LOCAL_AXES_MAX)
        return NAN;
    memcpy(with_side, step, axes * sizeof *step);
    with_side[axes] = break_side(step[broken->axis], broken->place);
    (void)local_gradient_carry(&broken->gradient, with_side, axes + 1, &change, &uncertainty);
    return change;
}
