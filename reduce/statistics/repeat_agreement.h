/* repeat_agreement.h - do measurements that were repeated agree within the uncertainty stated for each?
 *
 * Two series measure the same points; a pair has a difference d = b - a and its combined expanded
 * uncertainty U = sqrt(U_a^2 + U_b^2), of coverage c. If what is stated is right, and holds all that is
 * not shared, |d| <= U in the share c of the pairs:
 *
 *   few, many      P(X <= inside), P(X >= inside),  X binomial (pairs, c): exact
 *   sd_about_zero  sqrt(sum d^2 / 2n): of one measurement, shift between series included
 *   sd_about_shift sqrt(sum (d - d_mean)^2 / 2(n - 1)): without it
 *   ratio          k sqrt(mean (d/U)^2), k the normal quantile of c: observed scatter over stated one
 *   shift          d_mean, with its standard error and Student's t
 *
 * Pairs of two series share what moved between these, so that their number tells less than as many
 * independent ones, and the binomial probability is too small where a shift is not stated: it is told
 * beside. Over several groups of pairs each is taken about its own shift, and the shift is tested with
 * groups as units.
 * Source: comparing stated with observed scatter is common practice; the binomial distribution by GSL. */
#ifndef LAPWING_REPEAT_AGREEMENT_H
#define LAPWING_REPEAT_AGREEMENT_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

struct repeat_difference {
    double difference; /* later minus earlier */
    double stated;     /* combined expanded uncertainty, not negative */
};

struct repeat_agreement {
    size_t pairs, inside; /* inside: |difference| <= stated */
    double expected;      /* c pairs */
    double few, many;
    double ratio;          /* NAN where a stated uncertainty is 0 */
    double sd_about_zero;  /* of one measurement */
    double sd_about_shift; /* NAN with one pair a group */
    double shift;          /* mean difference; of groups, mean of their shifts */
    double shift_error;    /* standard; NAN with one unit, or without scatter */
    double shift_freedom;
    double shift_p; /* two-sided; NAN where not tested */
};

/* Pairs of one group, n of them. OUTCOME_TOO_FEW: none; OUTCOME_NOT_FINITE: a number is not finite, a
 * stated uncertainty negative, or coverage not between 0 and 1. Then *agreement has no pair. */
enum outcome repeat_agreement(const struct repeat_difference *pairs, size_t n, double coverage,
                              struct repeat_agreement *agreement);

/* Pairs of n_groups groups, one after the other, group i ending before end[i]; each has one at least. */
enum outcome repeat_agreement_of_groups(const struct repeat_difference *pairs, const size_t *end,
                                        size_t n_groups, double coverage,
                                        struct repeat_agreement *agreement);

#endif
