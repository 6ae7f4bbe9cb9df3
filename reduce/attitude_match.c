/* attitude_match.c - assigning points to targets; see attitude_match.h. */
#include "reduce/attitude_match.h"

#include <math.h>
#include <string.h>

static double cap_of(const struct attitudes *attitudes, int axis)
{
    return attitudes->cap[axis] > 0 ? attitudes->cap[axis] : attitudes->tolerance[axis];
}

static double capture_of(const struct attitudes *attitudes, int axis)
{
    return attitudes->capture[axis] > 0 ? attitudes->capture[axis] : cap_of(attitudes, axis);
}

/* 1 when all targets that name this coordinate name the same value. */
static int targets_agree(const struct attitudes *attitudes, int axis)
{
    const struct target *first = NULL;
    for (size_t i = 0; i < attitudes->n_targets; i++) {
        const struct target *target = &attitudes->targets[i];
        if (!target->given[axis])
            continue;
        if (first != NULL && target->coordinate[axis] != first->coordinate[axis])
            return 0;
        first = target;
    }
    return 1;
}

/* Offsets from one target, and the square sum in units of capture; infinite outside capture. */
static double measure(const struct attitudes *attitudes, const struct target *target,
                      const double *attained, struct attitude_match *match)
{
    double sum = 0;
    memset(match, 0, sizeof *match);
    match->unlogged_axis = -1;
    for (int i = 0; i < ATTITUDE_COUNT; i++) {
        if (!target->given[i])
            continue;
        if (isnan(attained[i])) {
            if (!targets_agree(attitudes, i))
                return (double)INFINITY;
            match->unlogged_axis = i;
            continue;
        }
        double offset = attained[i] - target->coordinate[i];
        double capture = capture_of(attitudes, i);
        if (fabs(offset) > capture)
            return (double)INFINITY;
        match->offset[i] = offset;
        if (capture > 0)
            sum += offset / capture * (offset / capture);
    }
    return sum;
}

static void judge(const struct attitudes *attitudes, struct attitude_match *match)
{
    double worst = -1;
    match->within_tolerance = 1;
    match->within_cap = 1;
    match->worst_axis = -1;
    for (int i = 0; i < ATTITUDE_COUNT; i++) {
        double distance = fabs(match->offset[i]);
        double cap = cap_of(attitudes, i);
        if (!match->target->given[i])
            continue;
        match->within_tolerance &= distance <= attitudes->tolerance[i];
        match->within_cap &= distance <= cap;
        double share = cap > 0 ? distance / cap : 0;
        if (share > worst) {
            worst = share;
            match->worst_axis = i;
        }
    }
}

struct attitude_match attitude_match(const struct attitudes *attitudes,
                                     const double attained[ATTITUDE_COUNT])
{
    struct attitude_match best;
    double nearest = (double)INFINITY;
    memset(&best, 0, sizeof best);
    best.worst_axis = -1;
    best.unlogged_axis = -1;
    for (size_t i = 0; i < attitudes->n_targets; i++) {
        struct attitude_match match;
        double sum = measure(attitudes, &attitudes->targets[i], attained, &match);
        if (!(sum < nearest))
            continue;
        nearest = sum;
        best = match;
        best.target = &attitudes->targets[i];
    }
    if (best.target != NULL)
        judge(attitudes, &best);
    return best;
}
