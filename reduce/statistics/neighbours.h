/* neighbours.h - which points a local fit rests on, what they bear, and how much each one counts.
 *
 * Distance is sqrt(sum (coordinate/scale)^2) from the target. Points are taken nearest first until
 *   every axis that varies among all points varies among those taken, on both sides of the target
 *   where there are points on both sides, and
 *   there are twice as many points as terms (or no more to take).
 * Then they weigh (1 - (d/R)^3)^3 with R a quarter more than the farthest distance taken, so that
 * the farthest still counts a ninth, and equally distant points count equally.
 * Values of an axis within a tenth of its scale are one value. An axis varies when some run holds
 * two values of it; it bears a square when there are three.
 * Source: tricube weights and growing neighbourhoods as in Cleveland, "Robust Locally Weighted
 * Regression and Smoothing Scatterplots" (1979); the counts are common practice. */
#ifndef LAPWING_NEIGHBOURS_H
#define LAPWING_NEIGHBOURS_H

#include <stddef.h>

#include "reduce/physics/outcome.h"
#include "reduce/statistics/local_fit.h"

struct neighbours {
    size_t *order;  /* points, nearest first; the first `used` are in the fit */
    double *weight; /* of order[i], 0 .. 1 */
    size_t *run;    /* of order[i]: 0 .. groups of all points - 1, in the order of their numbers */
    size_t groups;  /* of all points */
    size_t used;
    size_t runs;  /* groups among them */
    size_t terms; /* slopes and squares */
    int varies[LOCAL_AXES_MAX];
    int bears_square[LOCAL_AXES_MAX];
};

/* squares: 0 leaves the squares out. Ended with neighbours_free(), also after a refusal.
 * OUTCOME_TOO_FEW: fewer points than runs + terms + 2; OUTCOME_SINGULAR: no axis varies;
 * OUTCOME_NO_MEMORY. Points are finite, scales positive: the caller has looked. */
enum outcome neighbours_choose(const struct local_points *points, int squares,
                               struct neighbours *neighbours);
void neighbours_free(struct neighbours *neighbours);

#endif
