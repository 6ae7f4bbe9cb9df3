/* sweep.c - see sweep.h. */
#include "report/sweep.h"

#include <math.h>
#include <stdio.h>

#include "report/number_text.h"

struct axis_words {
    const char *name, *unit;
    double factor;
    const char *sense; /* of its sign, "" where none is needed */
};

static const struct axis_words axes[SWEEP_AXES] = {
    {"front ride height", "mm", 1000, ""},
    {"rear ride height", "mm", 1000, ""},
    {"yaw", "deg", 57.29577951308232, "air from the right +"},
    {"roll", "deg", 57.29577951308232, "right side down +"},
    {"pitch", "deg", 57.29577951308232, "nose down +"},
    {"steer", "deg", 57.29577951308232, ""},
};

const char *sweep_axis_name(size_t axis)
{
    return axes[axis].name;
}

struct sweep_text sweep_axis_label(size_t axis)
{
    const struct axis_words *words = &axes[axis];
    struct sweep_text out;

    (void)snprintf(out.text, sizeof out.text, "%s, %s%s%s", words->name, words->unit,
                   words->sense[0] != '\0' ? ", " : "", words->sense);
    return out;
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

/* The series along the first axis on which the target has one long enough; n 0 for none. */
static struct sweep series_through(const struct sweep_target *targets, size_t n, size_t through)
{
    struct sweep none = {0};

    for (size_t axis = 0; through < n && axis < SWEEP_AXES; axis++) {
        struct sweep found = {.axis = axis};
        insert(&found, targets, through); /* itself, not another target at its place */
        for (size_t i = 0; i < n; i++)
            if (is_neighbour(&targets[through], &targets[i], axis))
                insert(&found, targets, i);
        if (found.n >= SWEEP_LEAST)
            return found;
    }
    return none;
}

struct sweep sweep_find(const struct sweep_target *targets, size_t n, size_t through)
{
    struct sweep best = series_through(targets, n, through);

    for (size_t axis = 0; axis < SWEEP_AXES && best.n < SWEEP_LEAST; axis++)
        best = longest_along(targets, n, axis);
    if (best.n < SWEEP_LEAST)
        best.n = 0;
    return best;
}

struct sweep_text sweep_held(const struct sweep *sweep, const struct sweep_target *targets)
{
    struct sweep_text out = {""};
    size_t length = 0;

    for (size_t axis = 0; sweep->n > 0 && axis < SWEEP_AXES; axis++) {
        double at = targets[sweep->member[0]].coordinate[axis];
        if (axis == sweep->axis || !isfinite(at))
            continue;
        int added = snprintf(out.text + length, sizeof out.text - length, "%s%s %.24s %s",
                             length > 0 ? ", " : "", axes[axis].name,
                             number_text_declared(axes[axis].factor * at).text, axes[axis].unit);
        if (added < 0 || (size_t)added >= sizeof out.text - length)
            break;
        length += (size_t)added;
    }
    return out;
}
