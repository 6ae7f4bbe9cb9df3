/* uncertainty_trials.h - the uncertainty of a point and of a delta by drawing errors, where the point's
 * function is too bent for steps: ratios, a balance near 0, the extreme of a map.
 *
 * Every trial draws each source once, or once a point where it does not reach both, adds the errors to
 * the inputs and asks the point's function. The seed decides every draw: same seed, same bytes.
 * Source: JCGM 101:2008, "Propagation of distributions using a Monte Carlo method", 7 (the trials), 7.7
 * (the interval with equal tails), 8.1 (the comparison with the steps). */
#ifndef LAPWING_UNCERTAINTY_TRIALS_H
#define LAPWING_UNCERTAINTY_TRIALS_H

#include "reduce/statistics/uncertainty.h"

struct drawn {
    double mean;
    double standard;
    double lower, upper; /* 95 %, equal tails */
};

struct trial_request {
    const struct measured_point *point;
    const struct error_budget *budget;
    const double *first;  /* inputs */
    const double *second; /* NULL: one point only */
    enum points_share share;
    size_t output;
    size_t trials; /* 100 .. 1e6; common practice: 1e4 */
    unsigned long seed;
};

struct trial_result {
    struct drawn first, second, delta; /* second minus first; NAN with one point */
    size_t failed;                     /* trials without an answer, not among the others */
};

/* OUTCOME_TOO_FEW: fewer than 100 trials, or fewer than 99 % of them with an answer; OUTCOME_SINGULAR: sizes
 * and correlations as in uncertainty.h, or a correlated source that is not normal, or an output that
 * is not there; OUTCOME_NOT_FINITE; OUTCOME_NO_MEMORY. */
enum outcome uncertainty_draw(const struct trial_request *request, struct trial_result *result);

/* 1 when the interval by steps agrees with the drawn one to the second figure of the standard uncertainty:
 * both ends within half a unit of that figure. */
int uncertainty_agrees(const struct drawn *drawn, double value, double standard, double multiplier);

#endif
