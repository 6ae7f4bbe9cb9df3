/* night_plan.h - what fits into a night, and what it will be able to tell.
 *
 * For 1, 2, 3 .. repeats of every configuration an order is made (planned_order.h), its time summed, and the
 * least difference of each configuration found that such a night finds, with the noise of before and a
 * parabola for the drift where the order bears it. Pure: the order's seed is in the request.
 *
 * The noise's size is that of before, whose own degrees of freedom say how well it is known. The interval
 * of the morning rests on the night's own degrees where these are enough, else on those of before
 * (variance_choose()), and the least difference is counted with the same. */
#ifndef LAPWING_NIGHT_PLAN_H
#define LAPWING_NIGHT_PLAN_H

#include "reduce/statistics/detectable.h"
#include "reduce/statistics/order_contrasts.h"
#include "reduce/statistics/planned_order.h"

/* Common practice, no source: fewer own degrees of freedom than these, and the season's noise is used. */
enum { NIGHT_LEAST_FREEDOM = 8 };

struct plan_request {
    struct order_request order; /* repeats 0: as few as find what matters */
    const int *is_hard;         /* as planned_order_make() */
    const size_t *given;        /* an order that somebody wrote; NULL: one is made */
    size_t n_given;
    struct plan_times times;
    double available;               /* s; INFINITY allowed */
    struct variance_estimate noise; /* of one mounting, of the measure that decides */
    double worthwhile;              /* smallest difference that matters, of it; > 0 */
    struct assurance assurance;
};

enum plan_answer {
    PLAN_ENOUGH,      /* it finds what matters */
    PLAN_AS_MANY,     /* it fits; it finds more than what matters only */
    PLAN_DOES_NOT_FIT /* it takes longer than there is */
};

struct night_plan {
    enum plan_answer answer;
    size_t repeats; /* of every configuration that is easy to change */
    struct planned_order order;
    struct plan_duration duration;
    size_t configurations;
    size_t degree;                /* of the drift's polynomial that is counted with */
    double freedom;               /* that the night leaves for its own noise */
    double factor[CONTRASTS_MAX]; /* variance of each difference over that of a mounting */
    double
        simultaneous; /* multiplier of the main measure's intervals, for all configurations at once */
    double detectable; /* of the main measure, the largest over the configurations */
};

/* The noise that the night's intervals will rest on, with the size of before. */
enum variance_source night_plan_noise(const struct night_plan *plan,
                                      struct variance_estimate before,
                                      struct variance_estimate *used);

/* Standard deviation that the noise is below with the probability: s sqrt(v / q), q the quantile of chi
 * squared below which 1 - probability lies. NAN outside 0 .. 1 or without noise.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.3.1. */
double night_plan_noise_limit(struct variance_estimate before, double probability);

/* Least difference of a configuration, 0 .. configurations - 1: of the main measure, whose interval holds
 * for all configurations at once, or of one that stands alone. NAN without noise. */
double night_plan_detectable(const struct night_plan *plan, size_t configuration,
                             struct variance_estimate before, int is_main,
                             struct assurance assurance);

/* The plan of the repeats that are asked for, or of the fewest that find what matters, or of as many as
 * fit. OUTCOME_NOT_FINITE: a time, the noise or what matters; OUTCOME_TOO_FEW: nothing to run, or no
 * noise; OUTCOME_SINGULAR: more runs or configurations than there may be; OUTCOME_NO_MEMORY. A given order
 * that can tell nothing has NAN for detectable. */
enum outcome night_plan_make(const struct plan_request *request, struct night_plan *plan);

#endif
