/* least_squares.h - linear least squares that stands up to nearly dependent columns.
 *
 *   minimise |y - X b|^2      X n x p, row by row; a column of ones is the caller's
 *
 * Columns are brought to unit length; singular values by one-sided Jacobi rotations; then the answer is
 * refined on the augmented system r + X b = y, X' r = 0 with residuals in extended precision, so that b is
 * good to rounding while the condition stays below about 1e15.
 * Sources: J. Demmel, K. Veselic, Jacobi's method is more accurate than QR, SIAM J. Matrix Anal. Appl. 13
 * (1992); A. Bjorck, Iterative refinement of linear least squares solutions, BIT 7 (1967); D. M. Allen,
 * The relationship between variable selection and data augmentation (PRESS), Technometrics 16 (1974). */
#ifndef LAPWING_LEAST_SQUARES_H
#define LAPWING_LEAST_SQUARES_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

struct least_squares {
    size_t n, p;
    double *coefficient; /* p */
    double *error;       /* p, standard error */
    double *
        inflation; /* p, variance inflation factor: squares of the column, about its mean where X has
                            a column of one value, times the variance of b over that of y; 0 for that column */
    double *residual;      /* n, y - X b */
    double *leverage;      /* n, of the projection on the columns, 0 .. 1 */
    double sum_of_squares; /* of the residuals */
    double freedom;        /* n - p */
    double sd;             /* root of sum_of_squares / freedom */
    double press;     /* sum of (residual / (1 - leverage))^2; INFINITY where a row alone bears a
                              coefficient */
    double condition; /* largest over smallest singular value of the unit columns */
};

/* On OUTCOME_OK the caller owns what *fit points to and ends it with least_squares_free(). Outcomes:
 * OUTCOME_NOT_FINITE; OUTCOME_TOO_FEW when n <= p or p is 0; OUTCOME_SINGULAR when a column is 0 or the
 * condition is above 1e14: statistics/blind_columns.h tells which columns; OUTCOME_NO_MEMORY. */
enum outcome least_squares_fit(const double *x, const double *y, size_t n, size_t p,
                               struct least_squares *fit);
void least_squares_free(struct least_squares *fit); /* one filled with 0 is fine */

#endif
