/* common_factor.h - are correlations the products of one number each?
 *
 *   r_ij = l_i l_j  for all i < j,   |l_i| < 1
 *
 * So they are for deltas of one-way layouts, balanced or not, for two deltas always and for three often: what
 * the variables share is one normal factor, and the rest is each one's own. Source: Dunnett, "A multiple
 * comparison procedure for comparing several treatments with a control", J. Am. Stat. Assoc. 50 (1955). */
#ifndef LAPWING_COMMON_FACTOR_H
#define LAPWING_COMMON_FACTOR_H

#include <stddef.h>

/* Given:   correlation  n x n, row-major, symmetric
 * Returns: 1 and the n loadings when the products meet every correlation to 1e-12 and 1 - l_i^2 is at least
 *          1e-3; else 0, and the loadings mean nothing. */
int common_factor_find(const double *correlation, size_t n, double *loading);

#endif
