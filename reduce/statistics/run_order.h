/* run_order.h - in which order the configurations of a night are run, and what an order is worth.
 *
 * An order is a row of configuration numbers, 0 the baseline. What drifts meanwhile is modelled as a
 * polynomial in the place of a run; the worth of an order is the variance of the difference of a
 * configuration and the baseline with that polynomial in the model,
 *
 *   factor = c'(X'X)^-1 c,   X = (1, configuration, place, place^2 ..),   noise variance 1
 *
 * Refused: A B, which tells no drift from the difference, and A A B B, whose variance is five times as
 * large with a straight drift in the model as without. Wanted: returns to the baseline before and
 * after every group of configurations (bracketed), or A B B A, in which a straight drift cancels.
 * Sources: DeLoach, "Tactical defenses against systematic variation in wind tunnel testing", AIAA
 * 2002-0885 (title only); the variances are computed, checked against matrices inverted elsewhere. */
#ifndef LAPWING_RUN_ORDER_H
#define LAPWING_RUN_ORDER_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

enum { RUN_ORDER_MAX = 512, ORDER_DEGREE_MAX = 3 };

struct order_worth {
    double factor;  /* variance of the difference over that of a run */
    double freedom; /* runs less unknowns; 0: the noise cannot be found from them */
};

/* Of the difference of a configuration and the baseline, in an order of n runs with a polynomial of the
 * degree (0: none) in the model. OUTCOME_SINGULAR: drift and difference cannot be told apart, or a
 * number is out of range; OUTCOME_TOO_FEW: more unknowns than runs, or one of both is not run;
 * OUTCOME_NO_MEMORY. Then both are NAN. */
enum outcome order_worth(const size_t *order, size_t n, size_t configuration, size_t degree,
                         struct order_worth *worth);

enum order_verdict {
    ORDER_SOUND,
    ORDER_NOT_BRACKETED, /* a configuration is run before the first or after the last baseline */
    ORDER_IN_BLOCKS      /* a straight drift in the model more than doubles a variance */
};

/* Judges an order; *configuration is the first that is hit, 0 when sound. An order without a baseline
 * or without anything else is not bracketed. */
enum order_verdict order_judge(const size_t *order, size_t n, size_t *configuration);

enum order_scheme { SCHEME_BRACKETED, SCHEME_ABBA };

struct order_request {
    enum order_scheme scheme;
    size_t configurations; /* besides the baseline, 1 .. */
    size_t repeats;        /* mountings of each, 1 .. */
    size_t group;          /* bracketed: at most this many between returns; common practice: 3 */
    unsigned long seed;    /* decides the order within rounds */
};

/* Fills order (RUN_ORDER_MAX) and *n. Bracketed: every configuration once a round, rounds and the order
 * within them drawn by the seed, a return before, after, and after every group. ABBA: for each
 * configuration in an order drawn by the seed baseline, it, it, baseline, as often as the repeats ask
 * in twos; odd repeats are rounded up. Same seed, same order, on any machine.
 * OUTCOME_TOO_FEW: nothing asked for; OUTCOME_SINGULAR: more runs than RUN_ORDER_MAX;
 * OUTCOME_NO_MEMORY. */
enum outcome order_make(const struct order_request *request, size_t *order, size_t *n);

#endif
