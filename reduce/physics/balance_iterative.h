/* balance_iterative.h - six outputs of a balance to six loads, iterative form.
 *
 *   R_i = sum_t C_it T_t(F)     T_1 .. T_6 = F, T_7 .. T_96 the terms of balance_terms.h, F = load/rated
 *
 *   F_1 = C1^-1 R,   F_(n+1) = C1^-1 [R - C2 H(F_n)]     C1 the first six columns, C2 H the rest
 *
 * R are outputs minus their wind-off zero, in the unit the calibration was made in. The iteration has an
 * answer, and only one, where it contracts: the spectral radius of C1^-1 C2 dH/dF stays below 1. That
 * is looked at over the load box when the calibration is loaded, not in the night.
 * Source: method of AIAA R-091-2003, Calibration and Use of Internal Strain-Gage Balances, equation
 * 3.3.7 as cited in abstracts of N. Ulbrich (the standard itself was not read); the stop at 1e-6 of the
 * rated load is common practice, no source.                                                         */
#ifndef LAPWING_BALANCE_ITERATIVE_H
#define LAPWING_BALANCE_ITERATIVE_H

#include "reduce/physics/balance_terms.h"
#include "reduce/physics/outcome.h"

struct balance_iterative {
    double coefficient[BALANCE_LOADS][BALANCE_TERMS]; /* output unit; row an output */
    double rated[BALANCE_LOADS];                      /* N, N m; > 0 */
    double lowest[BALANCE_LOADS];                     /* N, N m: the load box, the loads that */
    double highest[BALANCE_LOADS];                    /*   the calibration went to */
    double inverse[BALANCE_LOADS][BALANCE_LOADS]; /* C1^-1, made by balance_iterative_prepare() */
};

/* Fills inverse by singular values of C1, its rows scaled to a largest element of 1. Outcomes:
 * OUTCOME_NOT_FINITE; OUTCOME_GEOMETRY when a rated load is not positive or a box has its lowest
 * above its highest; OUTCOME_SINGULAR when C1 does not tell six loads apart (smallest singular value at
 * most 1e-9 of the largest). */
enum outcome balance_iterative_prepare(struct balance_iterative *balance);

/* Where the iteration is slowest. */
struct balance_contraction {
    double radius;              /* largest spectral radius */
    double load[BALANCE_LOADS]; /* N, N m: where */
};

/* Looks at the 3^6 places that are lowest, middle and highest of each load's box. Outcomes:
 * OUTCOME_NO_CONVERGENCE when the radius reaches 1 somewhere, with *found filled; OUTCOME_NOT_FINITE;
 * OUTCOME_NO_MEMORY. A prepared balance is needed. */
enum outcome balance_iterative_contraction(const struct balance_iterative *balance,
                                           struct balance_contraction *found);

/* One step from the shares of rated load in share to the next; gives the largest change. */
double balance_iterative_step(const struct balance_iterative *balance,
                              const double output[BALANCE_LOADS], double share[BALANCE_LOADS]);

/* Loads, N and N m, from outputs. The last change is below 1e-6 of every rated load; it is carried on
 * to 1e-12 within the cap of 100 steps, so that differences of two answers are smooth. Outcomes:
 * OUTCOME_NOT_FINITE when an output is not finite; OUTCOME_NO_LOADS when the loads run beyond ten
 * times their rating; OUTCOME_NO_CONVERGENCE when the cap is reached above 1e-6. load is left alone
 * unless the outcome is OUTCOME_OK. A prepared balance is needed. */
enum outcome balance_iterative_loads(const struct balance_iterative *balance,
                                     const double output[BALANCE_LOADS],
                                     double load[BALANCE_LOADS]);

#endif
