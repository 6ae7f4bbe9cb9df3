/* shrinkage.h - what is left of a delta once it is known how large deltas of parts usually are.
 *
 *   shrunk = delta t^2 / (t^2 + u^2),   its standard error sqrt(t^2 u^2 / (t^2 + u^2))
 *
 * The best of many parts is the luckiest too: its raw delta is too large in the mean. t^2, the
 * variance of true deltas about 0, is found from past ones, delta_i with u_i, as the t^2 for which
 *
 *   sum delta_i^2 / (t^2 + u_i^2) = m
 *
 * and is 0 when they scatter no more than their uncertainties. Shown beside the raw estimate, never
 * instead. Sources: Efron and Morris, "Data analysis using Stein's estimator and its
 * generalizations", J. Am. Stat. Assoc. 70 (1975); Paule and Mandel, "Consensus values and weighting
 * factors", J. Res. NBS 87 (1982), the equation. */
#ifndef LAPWING_SHRINKAGE_H
#define LAPWING_SHRINKAGE_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

struct shrunk {
    double value;
    double standard_error;
    double factor; /* value / delta, 0 .. 1 */
};

/* Given: m past deltas with standard uncertainties > 0. OUTCOME_TOO_FEW: m < 3; OUTCOME_NOT_FINITE. */
enum outcome shrinkage_between(const double *deltas, const double *uncertainties, size_t m,
                               double *between_variance);

/* uncertainty > 0, between_variance >= 0; NAN otherwise. */
struct shrunk shrinkage_apply(double delta, double uncertainty, double between_variance);

#endif
