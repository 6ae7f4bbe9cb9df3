/* drift_curvature.h - what a straight line between two returns misses of a drift that bends, and whether
 * two estimates of one delta agree.
 *
 * Drift with the second derivative k passes a line between returns at t1 and t2 by k (t - t1)(t2 - t) / 2.
 * k^2 is found in the mean over all triples of neighbouring returns, less what noise alone gives,
 *
 *   k = 2 d,  d = second divided difference,  var(d) = s^2 (w1^2 + w2^2 + w3^2)
 *
 * With two returns only, half of what the baseline moved between them may be bent: rectangular over that
 * width. Source: divided differences, any text on numerical analysis; the rectangular bound: common
 * practice, no source. */
#ifndef LAPWING_DRIFT_CURVATURE_H
#define LAPWING_DRIFT_CURVATURE_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

struct drift_curvature {
    double mean_square; /* of k, 1/s^4 in the measure's unit squared; at least 0 */
    double span;        /* |A2 - A1| when there are two returns only, else 0 */
};

/* Given: n returns in order of time, times and values finite, and the variance of one (0: none known, all of
 * the bend is taken for drift). OUTCOME_TOO_FEW: n < 2; OUTCOME_NOT_FINITE; OUTCOME_SINGULAR: times do not
 * rise. */
enum outcome drift_curvature_find(const double *times, const double *values, size_t n,
                                  double noise_variance, struct drift_curvature *curvature);

/* Variance to add to a delta bracketed by returns at before and after; 0 at either. NAN when time is not
 * between them. */
double drift_curvature_variance(const struct drift_curvature *curvature, double before, double time,
                                double after);

/* 1 when two estimates of one delta, as the local bracket's and the whole night's, differ by more than two
 * of their combined standard errors. Estimates from the same points differ by less than independent ones, so
 * this speaks up late rather than early. 0 when one is missing. Common practice, no source. */
int estimates_disagree(double one, double one_error, double other, double other_error);

#endif
