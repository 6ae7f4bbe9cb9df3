/* mixed_search.h - the ratios at which the restricted criterion of mixed_model.h is least.
 *
 * The best place of a coarse lattice, then Newton's steps on the ratios that are not on a bound, shortened
 * until the criterion falls. Bounds are 0 and a million times a ratio's unit, at which its source adds as
 * much to the mean variance of least squares residuals as the residual does. */
#ifndef LAPWING_MIXED_SEARCH_H
#define LAPWING_MIXED_SEARCH_H

#include "reduce/statistics/mixed_criterion.h"

struct mixed_search {
    struct mixed_work *work;            /* started */
    size_t n;                           /* ratios */
    double unit[MIXED_COMPONENTS_MAX];  /* of each ratio */
    double ratio[MIXED_COMPONENTS_MAX]; /* the best so far */
    double criterion;
    struct mixed_derivatives parts;
    double gradient[MIXED_COMPONENTS_MAX];
    double curvature[MIXED_COMPONENTS_MAX * MIXED_COMPONENTS_MAX];
};

/* Given work and n, its components; fills the rest, criterion and parts those at the ratios found.
 * OUTCOME_SINGULAR: a source leaves nothing in the residuals, or there is no criterion;
 * OUTCOME_NO_CONVERGENCE. */
enum outcome mixed_search_run(struct mixed_search *search);

/* 1 when a ratio is on a bound and would go beyond. */
int mixed_search_is_held(const struct mixed_search *search, size_t k);

#endif
