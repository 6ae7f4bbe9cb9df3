/* local_bend.h - is a carry more curve than slope?
 *
 * Over a step s along one axis a local fit changes by  b s + c s^2/2.  Near a stall the second part
 * overtakes the first, and what lies beyond the next point is no longer told by a quadratic. */
#ifndef LAPWING_LOCAL_BEND_H
#define LAPWING_LOCAL_BEND_H

#include "reduce/statistics/local_fit.h"

struct local_bend {
    double linear, square; /* b s and c s^2/2, of the value */
    double limit;          /* of |square|: the larger of the first two below */
    int is_turned;         /* 1: the slope at the far end, b + c s, has the other sign */
};

/* 1 when the carry bends, all three of:
 *
 *   |c s^2/2| > |b s| / 3                      a slope that changes sign within s is always so
 *   |c s^2/2| > matters / 2                    matters: the smallest worthwhile delta of the value
 *   |c s^2/2| > k u(c) s^2/2                   k Student's two-sided 0.99 multiplier
 *
 * The last two keep a curvature that is small, or only noise, from refusing anything: its uncertainty is
 * in the carry already. Given: axes of the fit, axis below it, step from the target to the attained
 * attitude, matters > 0. *bend is filled either way. An axis without a square never bends.
 * Source: a third is common practice, no source; a half is the share of the worthwhile delta that the
 * zero's drift may reach too. */
int local_gradient_bends(const struct local_gradient *gradient, size_t axes, size_t axis,
                         double step, double matters, struct local_bend *bend);

#endif
