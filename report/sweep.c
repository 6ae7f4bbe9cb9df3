/* sweep.c - see sweep.h. */
#include "report/sweep.h"

#include <math.h>

struct axis_words {
    const char *name, *unit;
    double factor;
};

static const struct axis_words axes[SWEEP_AXES] = {
    {"front ride height", "mm", 1000},   {"rear ride height", "mm", 1000},
    {"yaw", "deg", 57.29577951308232},   {"roll", "deg", 57.29577951308232},
    {"pitch", "deg", 57.29577951308232}, {"steer", "deg", 57.29577951308232},
};

const char *sweep_axis_name(size_t axis)
{
    return axes[axis].name;
}

const char *sweep_axis_unit(size_t axis)
{
    return axes[axis].unit;
}

double sweep_axis_factor(size_t axis)
{
    return axes[axis].factor;
}

static int is_same(double a, double b)
{
    const double near = 1e-6;

    return (isnan(a) && isnan(b)) || fabs(a - b) <= near;
}

/* Same in every axis but this one, where both are named. */
static int is_neighbour(const struct sweep_target *a, const struct sweep_target *b, size_t axis)
{
    if (isnan(a->coordinate[axis]) || isnan(b->coordinate[axis]))
        return 0;
    for (size_t k = 0; k < SWEEP_AXES; k++)
        if (k != axis && !is_same(a->coordinate[k], b->coordinate[k]))
            return 0;
    return 1;
}

static int holds(const struct sweep *sweep, const struct sweep_target *targets, double coordinate)
{
    for (size_t i = 0; i < sweep->n; i++)
        if (is_same(targets[sweep->member[i]].coordinate[sweep->axis], coordinate))
            return 1;
    return 0;
}

/* Puts target i in its place by coordinate. */
static void insert(struct sweep *sweep, const struct sweep_target *targets, size_t i)
{
    double coordinate = targets[i].coordinate[sweep->axis];
    size_t place = sweep->n;

    if (sweep->n == SWEEP_TARGETS_MAX || holds(sweep, targets, coordinate))
        return;
    for (; place > 0; place--) {
        if (targets[sweep->member[place - 1]].coordinate[sweep->axis] <= coordinate)
            break;
        sweep->member[place] = sweep->member[place - 1];
    }
    sweep->member[place] = i;
    sweep->n++;
}

static struct sweep series_of(const struct sweep_target *targets, size_t n, size_t axis,
                              size_t first)
{
    struct sweep sweep = {.axis = axis};

    for (size_t i = first; i < n; i++)
        if (is_neighbour(&targets[first], &targets[i], axis))
            insert(&sweep, targets, i);
    return sweep;
}

/* The longest series along one axis; of equals the one that begins with the earliest target. */
static struct sweep longest_along(const struct sweep_target *targets, size_t n, size_t axis)
{
    struct sweep best = {.axis = axis};

    for (size_t first = 0; first < n; first++) {
        struct sweep found = series_of(targets, n, axis, first);
        if (found.n >= 2 && found.n > best.n)
            best = found;
    }
    return best;
}

struct sweep sweep_find(const struct sweep_target *targets, size_t n)
{
    const size_t enough = 3;
    struct sweep best = longest_along(targets, n, 0);

    for (size_t axis = 1; axis < SWEEP_AXES && best.n < enough; axis++) {
        struct sweep found = longest_along(targets, n, axis);
        if (found.n > best.n)
            best = found;
    }
    return best;
}
