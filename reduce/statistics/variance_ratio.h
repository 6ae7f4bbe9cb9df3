/* variance_ratio.h - are two variances one? The F test, both ways.
 *
 *   F = v1 / v2  with df1 and df2,  unlike where F is below F(chance) or above F(1 - chance)
 *
 * The values are taken to be normal; scatter with long tails is called unlike more often.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.9, F-test for equality of two
 * variances. */
#ifndef LAPWING_VARIANCE_RATIO_H
#define LAPWING_VARIANCE_RATIO_H

#include "reduce/statistics/variance_levels.h"

struct variance_ratio {
    double ratio;        /* of the variances, first over second; NAN where nothing can be said */
    double lower, upper; /* limits of a ratio of equal variances */
    int is_unlike;       /* 1: outside them */
};

/* chance: of a ratio beyond either limit though the variances are equal, 0 .. 0.5. Nothing can be said,
 * and everything is NAN, when either is not known or is 0. */
struct variance_ratio variance_ratio(struct variance_estimate first,
                                     struct variance_estimate second, double chance);

#endif
