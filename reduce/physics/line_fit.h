/* line_fit.h - a straight line through points by least squares, with the uncertainty of its constants.
 *
 *   y = a + b x,   s^2 = sum r^2/(n - 2),   u(b) = s/sqrt(Sxx),   u(a) = s sqrt(1/n + m^2/Sxx)
 *
 * m the mean of x, Sxx = sum (x - m)^2. All points weigh the same; x is taken as exact.
 * Source: Draper, Smith, "Applied Regression Analysis", 3rd edition, 1998, chapter 1 (from memory; the
 * tests compare with NIST's certified Norris set).                                                 */
#ifndef LAPWING_LINE_FIT_H
#define LAPWING_LINE_FIT_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

struct line_fit {
    double intercept, slope;
    double intercept_u, slope_u; /* standard uncertainties */
    double covariance;           /* of intercept and slope */
    double residual_sd;          /* of one point */
    double degrees_of_freedom;   /* n - 2 */
    double lowest, highest;      /* x that was measured */
};

/* Fits n points. *fit is written on OUTCOME_OK only.
 * Outcomes: OUTCOME_TOO_FEW below three points; OUTCOME_NOT_FINITE; OUTCOME_SINGULAR when x does not
 * vary by more than rounding. */
enum outcome line_fit_make(const double *x, const double *y, size_t n, struct line_fit *fit);

/* The line at x, and its standard uncertainty in *u (may be NULL). */
double line_fit_at(const struct line_fit *fit, double x, double *u);

/* 1 when x lies in what was measured. */
int line_fit_holds(const struct line_fit *fit, double x);

#endif
