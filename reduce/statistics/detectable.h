/* detectable.h - the smallest difference a number of repeats can be trusted to find, and the reverse.
 *
 *   difference = (t(1 - a/2, v) + t(power, v)) s sqrt(factor)
 *
 * with the variance factor of the difference (2 / n for n pairs, or run_order.h), s and its degrees of
 * freedom v, two-sided significance a and the power wanted, 5 % and 80 % by common practice. The sum of
 * quantiles stands for the non-central t: within 2 % from v = 10 on, on the safe side below.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.2.2, sample sizes. */
#ifndef LAPWING_DETECTABLE_H
#define LAPWING_DETECTABLE_H

#include <stddef.h>

#include "reduce/statistics/variance_levels.h"

struct assurance {
    double significance; /* two-sided, 0 .. 1 */
    double power;        /* 0.5 .. 1 */
};

/* NAN when the noise is not known or a number is out of range. Freedom may be infinite. */
double detectable_difference(struct variance_estimate noise, double factor,
                             struct assurance assurance);

enum { PAIRS_MAX = 10000 };

/* Fewest pairs that find the difference. With noise from the pairs alone (own_noise) v is their own,
 * n - 1, else that of the estimate. 0 when none up to PAIRS_MAX do, or nothing is known. */
size_t detectable_pairs(struct variance_estimate noise, double difference, int own_noise,
                        struct assurance assurance);

/* Pairs of mountings still needed where it can't be told yet: the fewest, at least one, after which the
 * delta's own variance, falling as 1 / mountings + 1 / baseline_mountings does, finds worthwhile. delta is
 * the estimate's variance, drift and all, with its degrees of freedom, which are taken as they are. 0 when
 * no number up to PAIRS_MAX would do, or nothing is known. */
size_t detectable_pairs_needed(struct variance_estimate delta, size_t mountings,
                               size_t baseline_mountings, double worthwhile,
                               struct assurance assurance);

#endif
