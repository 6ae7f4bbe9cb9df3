/* visit_variances.h - scatter of points within and between visits to an attitude.
 *
 * A visit is points that follow each other with nothing touched. Visits of one group differ by no more
 * than that the attitude was left and returned to, or the wind stopped:
 *
 *   within    sum over visits of squares about their means, over points - visits
 *   returned  a single point's variance about its group: what visits add, and within in full
 *
 *   B = sum n_v (m_v - M_g)^2,  df = sum (visits - 1),  K = sum (N_g - sum n_v^2 / N_g)
 *   whole = B / K = added + within df / K
 *
 * Source: analysis of variance of unequal groups, Searle, Casella, McCulloch, "Variance Components"
 * (1992), chapter 3 (from memory). */
#ifndef LAPWING_VISIT_VARIANCES_H
#define LAPWING_VISIT_VARIANCES_H

#include <stddef.h>

#include "reduce/statistics/variance_levels.h"

struct visit_point {
    size_t group; /* any numbers, equal for points that may be compared */
    size_t visit; /* equal within a visit, any numbers; belongs to one group */
    double value;
};

/* Freedom 0 where nothing repeats; measurements: the points that do. */
struct visit_estimate {
    struct variance_estimate estimate;
    size_t measurements;
};

/* Sorts the n points by group and visit. Freedom 0 in both when a value is not finite. */
void visit_variances(struct visit_point *points, size_t n, struct visit_estimate *within,
                     struct visit_estimate *returned);

#endif
