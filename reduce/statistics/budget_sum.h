/* budget_sum.h - adding up an uncertainty from units of independent error, source by source.
 *
 * A unit is what one draw of the errors reaches: a point, a run, all of a comparison. It brings the
 * contributions of all sources, signed, in the unit of the result; sources may be correlated within it.
 *
 *   u^2 = sum over units of c' R c
 *
 * own is a source's part as if it stood alone; net, its part with half of every correlation it takes part
 * in, adds up to u^2 exactly and may be negative.
 * Degrees of freedom: Satterthwaite's over groups of sources. A group's sources are correlated, or are parts
 * of one estimate, so that they count together with the least of their freedoms; where every unit has an
 * estimate of its own (scatter of its own samples) each counts by itself, else the group counts once.
 * Source: GUM (JCGM 100:2008), equation 13 and G.2b. */
#ifndef LAPWING_BUDGET_SUM_H
#define LAPWING_BUDGET_SUM_H

#include <stddef.h>

#include "reduce/statistics/uncertainty.h"

struct budget_term {
    size_t group;          /* below n: that of the first source in it */
    int is_estimated_anew; /* 1: by every unit; the same for a whole group */
};

struct budget_sum {
    const struct budget_term *terms; /* n */
    const double *correlation;       /* n x n; NULL: none */
    size_t n;                        /* at most UNCERTAINTY_SOURCES_MAX */
    double own[UNCERTAINTY_SOURCES_MAX], net[UNCERTAINTY_SOURCES_MAX];
    double group[UNCERTAINTY_SOURCES_MAX];   /* variance of groups that count once */
    double freedom[UNCERTAINTY_SOURCES_MAX]; /* the least of a group's */
    double spread;                           /* sum of variance^2 / freedom of the others */
};

struct budget_sum budget_sum_begin(const struct budget_term *terms, const double *correlation,
                                   size_t n);

/* Adds a unit: contributions c[n], and the freedom of each source's standard uncertainty in it (> 0,
 * infinite when known). */
void budget_sum_add(struct budget_sum *sum, const double *contribution, const double *freedom);

/* Adds what another sum over the same terms holds. */
void budget_sum_join(struct budget_sum *sum, const struct budget_sum *other);

struct combined budget_sum_total(const struct budget_sum *sum);

#endif
