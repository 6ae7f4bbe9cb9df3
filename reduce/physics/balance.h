/* balance.h - six outputs of a balance to six loads, direct form; or iterative, see balance_iterative.h.
 *
 *   F_i = sum_j A_ij R_j + sum_{j<=k} B_ijk R_j R_k        i = Fx Fy Fz Mx My Mz
 *
 * R are outputs minus their wind-off zero, in the unit the calibration was made in. The first-order
 * form is 6 x 6; the second-order direct form 6 x 27 (6 linear, 6 squares, 15 products). Direct
 * means loads from outputs: no iteration, and no answer outside the calibrated range can be trusted.
 * Source: form as in AIAA R-091 (internal balance calibration); term order is ours, named by column.*/
#ifndef LAPWING_BALANCE_H
#define LAPWING_BALANCE_H

#include "reduce/physics/balance_iterative.h"
#include "reduce/physics/outcome.h"

enum { BALANCE_PRODUCTS = 21, BALANCE_TEMPERATURE_TERMS = 2 + BALANCE_LOADS };

/* What the balance's temperature adds, dT from the reference:  a dT + b dT^2 + sum_j d_j x_j dT,  to
 * loads and with the outputs x_j in the direct form; to outputs and with the loads over their rated
 * value in the iterative one. The first two move the zero, the others the sensitivity. */
struct balance_temperature {
    int is_given;                      /* 0: no such terms */
    double reference, lowest, highest; /* K; the range of the calibration */
    double term[BALANCE_LOADS]
               [BALANCE_TEMPERATURE_TERMS]; /* rows as the form's: a, b, d_1 .. d_6 */
};

struct balance_calibration {
    double linear[6][6];                 /* N or N m per output unit */
    double product[6][BALANCE_PRODUCTS]; /* per output unit squared; order of balance_product() */
    int second_order;                    /* 0: products are not used */
    int is_iterative;                    /* 1: none of the above, but this, prepared: */
    struct balance_iterative iterative;
    struct balance_temperature temperature;
    int from_natural_zero; /* 1: a calibration of outputs as logged, not minus the run's zero */
    int has_box;           /* 1: the loads that the calibration went to are known */
    double lowest[6], highest[6]; /* N, N m */
};

/* Column of the product R_j R_k, 0 <= j <= k < 6: (0,0) (0,1) .. (0,5) (1,1) .. (5,5); -1 outside. */
int balance_product(int j, int k);

/* Loads from outputs (zero taken off). OUTCOME_NOT_FINITE when an output is not finite; with is_iterative the
 * outcomes of balance_iterative_loads(). */
enum outcome balance_loads(const struct balance_calibration *calibration, const double output[6],
                           double load[6]);

/* The same at a temperature, K, for outputs whose zero was taken at zero_temperature. The zero took the
 * shift at its own temperature off, so the rest is that between the two; the sensitivity is that at the
 * temperature. Exact where the zero was without load (iterative), or at the reference (direct). Without terms in
 * temperature neither is looked at. Outcomes as balance_loads(), and OUTCOME_NOT_FINITE for a
 * temperature that is not finite, OUTCOME_SINGULAR where the sensitivities vanish. */
enum outcome balance_loads_at(const struct balance_calibration *calibration, const double output[6],
                              double temperature, double zero_temperature, double load[6]);

/* Where and when outputs were read. */
struct balance_reading {
    double output[6];   /* as logged */
    double temperature; /* K; looked at where there are terms in it */
};

/* Loads at the point less those at its zero, as balance_loads_at(). With from_natural_zero both are
 * read through the calibration by themselves: what hangs on the balance at the zero, a heavy car, moves the
 * place on the curve. Else the outputs are subtracted first.
 * Source: outputs from the natural zero, total load = applied + tare, as in AIAA R-091-2003, Calibration
 * and Use of Internal Strain-Gage Balances, from memory. */
enum outcome balance_loads_between(const struct balance_calibration *calibration,
                                   const struct balance_reading *point,
                                   const struct balance_reading *zero, double load[6]);

/* The load farthest outside the calibrated box, 0 .. 5, and by which share of the box's farther end; -1 when
 * none is, or there is no box. A millionth is let pass as rounding. */
int balance_outside(const struct balance_calibration *calibration, const double load[6],
                    double *share);

#endif
