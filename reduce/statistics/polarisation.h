/* polarisation.h - what two estimates have in common, from the variances of their sum and difference.
 *
 *   cov(a, b) = (V(a + b) - V(a - b)) / 4
 *
 * The change of downforce and that of drag come from the same mountings, but from two fits, which say
 * nothing of each other. The same model on the sum and on the difference of both says the rest. When a
 * model finds its variances anew for each (restricted likelihood), the four variances need not go
 * together, V(a + b) + V(a - b) = 2 (V(a) + V(b)); both are then brought to that sum by one factor, so
 * that no correlation beyond 1 comes out for numbers of like size. Scale a and b alike first.
 * Source: the identity; the factor: common practice, no source. */
#ifndef LAPWING_POLARISATION_H
#define LAPWING_POLARISATION_H

/* Covariance, within +- the root of both variances. NAN when a variance is not finite or negative, or
 * those of sum and difference are both 0. */
double polarised_covariance(double variance_a, double variance_b, double variance_sum,
                            double variance_difference);

#endif
