/* night_plan.h - what fits into a night, and what it will be able to tell.
 *
 * For 1, 2, 3 .. repeats of every configuration an order is made (run_order.h), its time summed from the
 * runs and the changes between them, and the least difference of each configuration that such a night
 * finds, with the noise of the repeatability store and a parabola for the drift where the order bears
 * it. Pure: the order's seed is in the request. */
#ifndef LAPWING_NIGHT_PLAN_H
#define LAPWING_NIGHT_PLAN_H

#include "reduce/statistics/detectable.h"
#include "reduce/statistics/run_order.h"

struct plan_request {
    enum order_scheme scheme;
    size_t configurations; /* besides the baseline */
    size_t group;
    unsigned long seed;
    double available;               /* s */
    double run;                     /* s, one run with its zeros */
    const double *change;           /* configurations + 1, s: to mount each, [0] the baseline */
    struct variance_estimate noise; /* of one run with its refit */
    double worthwhile;              /* smallest difference that matters, of the measure; > 0 */
    struct assurance assurance;
};

enum plan_answer {
    PLAN_ENOUGH,      /* the fewest repeats that find what matters */
    PLAN_AS_MANY,     /* what fits; it finds more than what matters only */
    PLAN_DOES_NOT_FIT /* not even one repeat of each */
};

struct night_plan {
    enum plan_answer answer;
    size_t repeats;
    size_t order[RUN_ORDER_MAX];
    size_t runs;
    double duration;     /* s */
    double detectable;   /* the largest over the configurations */
    size_t drift_degree; /* of the polynomial that detectable counts with */
};

/* Time of an order: every run, and a change wherever the configuration differs from the one before; the
 * first is mounted before the night. */
double plan_duration(const size_t *order, size_t n, double run, const double *change);

/* OUTCOME_NOT_FINITE: a time or the noise; OUTCOME_TOO_FEW: nothing to run, or no noise;
 * OUTCOME_SINGULAR: more runs than an order holds; OUTCOME_NO_MEMORY. */
enum outcome night_plan_make(const struct plan_request *request, struct night_plan *plan);

#endif
