/* one_way.h - values in groups: do the groups differ, and do they scatter alike?
 *
 * Sources: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.4 (one-way analysis of variance),
 * 1.3.5.7 (Bartlett), 1.3.5.10 (Levene, about medians: Brown and Forsythe, "Robust tests for the
 * equality of variances", J. Am. Stat. Assoc. 69 (1974)). */
#ifndef LAPWING_ONE_WAY_H
#define LAPWING_ONE_WAY_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

/* A statistic with the chance of one as large where nothing differs. */
struct group_test {
    double statistic;
    double freedom;       /* of the numerator */
    double under_freedom; /* of the denominator; infinite for chi squared */
    double p;
};

struct one_way {
    size_t groups;
    double between_squares, within_squares; /* sums of squares */
    double within_variance;                 /* pooled over the groups */
    struct group_test f;
};

/* Given: values, n of them, finite; group, n: any numbers, equal within a group.
 * Sums are taken from the first value in extended precision, so that as many digits come out as the
 * values carry. OUTCOME_TOO_FEW: fewer than two groups, or no group with two values;
 * OUTCOME_NOT_FINITE; OUTCOME_SINGULAR: nothing scatters within the groups; OUTCOME_NO_MEMORY. */
enum outcome one_way_analyse(const double *values, const size_t *group, size_t n,
                             struct one_way *result);

/* Bartlett's test, chi squared with groups - 1: sharp, and fooled by values that are not normal.
 * Outcomes as above; also OUTCOME_TOO_FEW for a group of one, OUTCOME_SINGULAR for one without
 * scatter. */
enum outcome equal_variances_bartlett(const double *values, const size_t *group, size_t n,
                                      struct group_test *test);

/* Levene's test about medians, F: the analysis of variance of |value - median of its group|. */
enum outcome equal_variances_levene(const double *values, const size_t *group, size_t n,
                                    struct group_test *test);

#endif
