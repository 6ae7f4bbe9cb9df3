/* gradient_method.h - a coefficient without the tunnel's pressure gradient, from two gradients.
 *
 * One car is measured twice or more while the static pressure along the section is changed on purpose
 * (a collector flap, a moved boundary). With G the gradient dCp/dx of the empty section,
 *
 *   C(G) = C(0) + s G,   s = (C2 - C1)/(G2 - G1),   C(0) = C1 - s G1
 *
 * which needs neither the car's volume nor what the gradient does to its wake.
 * Evidence: the two runs differ in nothing but the gradient; linear in G. Beyond the two gradients, on
 *           either side, by more than their distance the number stands with beyond_evidence 1 (common
 *           practice, no source).
 * Recalled: the straight line in the gradient; of the paper the title was read.
 * Source:   SAE 2006-01-0568, 2006, on a two-measurement correction for wind-tunnel gradients (title read;
 *           the equation is derived here as a difference quotient).                                */
#ifndef LAPWING_GRADIENT_METHOD_H
#define LAPWING_GRADIENT_METHOD_H

#include "reduce/physics/outcome.h"

struct gradient_pair {
    double gradient[2];    /* dCp/dx, 1/m, of the empty section */
    double coefficient[2]; /* measured with each */
};

struct gradient_sensitivity {
    double slope;           /* dC/dG, m */
    double slope_u;         /* standard uncertainty, from that of each coefficient */
    double lowest, highest; /* gradients measured */
};

/* Sensitivity from a pair; u the standard uncertainty of each coefficient, 0 when not known.
 * Outcomes: OUTCOME_NOT_FINITE; OUTCOME_GEOMETRY for a negative u; OUTCOME_SINGULAR when the gradients
 * are one within rounding. *found is written on OUTCOME_OK only. */
enum outcome gradient_sensitivity_of(const struct gradient_pair *pair, double u,
                                     struct gradient_sensitivity *found);

/* The part of a coefficient that gradient G puts there, s G: to be taken off. *beyond is set to 1 when G
 * or 0 lies outside the two gradients by more than their distance.
 * Outcomes: OUTCOME_NOT_FINITE. */
enum outcome gradient_part(const struct gradient_sensitivity *sensitivity, double gradient,
                           double *part, int *beyond);

#endif
