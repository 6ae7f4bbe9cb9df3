/* largest_t.h - the probability that the largest of several correlated |t| stays below a limit.
 *
 *   P(max_i |Z_i| <= k s),   Z normal with a given correlation, s = chi(v)/sqrt(v) independent of Z
 *
 * The helper of simultaneous_multiplier(); prepared once for a correlation, asked for many limits.
 * Every correlation is D + F F' with D diagonal: given the common factors u, the Z_i = F u + sqrt(D) e_i are
 * independent and the probability is a product of n, smooth in u. Where one factor does (common_factor.h) it is
 * integrated in equal steps; else D is the smallest eigenvalue all along its diagonal, and noise and factors
 * are integrated together on a lattice. Deltas from one baseline have each their own observation, so that
 * eigenvalue is about a half and few factors count.
 * Sources: the product form is Dunnett's (1955) for one factor; several factors as in Genz and Bretz,
 * "Computation of Multivariate Normal and t Probabilities" (2009). */
#ifndef LAPWING_LARGEST_T_H
#define LAPWING_LARGEST_T_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

enum { LARGEST_T_MAX = 64, LARGEST_T_NODES = 128 };

struct largest_t {
    size_t n;
    double own[LARGEST_T_MAX]; /* sqrt(D_i), standard deviation that a variable has for itself */
    size_t factors;            /* columns of F that are not zero */
    double loading[LARGEST_T_MAX][LARGEST_T_MAX]; /* F: row a variable, column a factor */
    int has_common_factor;                        /* one factor is all: equal steps, no lattice */
    double step[LARGEST_T_MAX + 1]; /* of the lattice, for the noise and one a factor */
    double degrees_of_freedom;
    double first, last; /* of x = ln s */
    double norm;        /* sum of the density over LARGEST_T_NODES equal steps from first to last */
};

/* Given:   correlation         n x n, row-major, symmetric, ones on its diagonal, not indefinite
 *          n                   1 .. LARGEST_T_MAX
 *          degrees_of_freedom  v > 0, infinity allowed (known noise)
 * OUTCOME_NOT_FINITE: a correlation is NAN or v is not positive; OUTCOME_SINGULAR: the matrix is
 * not a correlation, or n is outside its range; OUTCOME_NO_MEMORY. */
enum outcome largest_t_prepare(struct largest_t *largest, const double *correlation, size_t n,
                               double degrees_of_freedom);

/* P(max |t_i| <= limit), limit >= 0. Same bytes on every call. */
double largest_t_probability(const struct largest_t *largest, double limit);

#endif
