/* reynolds.h - how a coefficient goes with the Reynolds number, inside what was measured.
 *
 *   C = a + b log10(Re)
 *
 * fitted to a speed sweep of one configuration at one attitude, three speeds or more, and used to carry a
 * point to a reference Reynolds number that lies within the sweep. Outside it is a trend and no number.
 * Evidence: the sweep itself. A speed sweep also changes the model's deflection, the tyres' growth, the
 *           belt and the balance's load, and the line holds all of them.
 * Source:   common practice, no source.                                                            */
#ifndef LAPWING_REYNOLDS_H
#define LAPWING_REYNOLDS_H

#include <stddef.h>

#include "reduce/physics/line_fit.h"
#include "reduce/physics/outcome.h"

/* Fits n points; the line's x is log10(Re).
 * Outcomes: OUTCOME_NOT_FINITE, also for Re not above 0; OUTCOME_TOO_FEW below three different Reynolds
 * numbers (1 % apart); OUTCOME_NO_MEMORY. *fit is written on OUTCOME_OK only. */
enum outcome reynolds_fit(const double *reynolds, const double *coefficient, size_t n,
                          struct line_fit *fit);

/* Change of the coefficient from one Reynolds number to another, and its standard uncertainty.
 * Outcomes: OUTCOME_NOT_FINITE; OUTCOME_UNMEASURED when either lies outside the sweep. */
enum outcome reynolds_change(const struct line_fit *fit, double from, double to, double *change,
                             double *u);

#endif
