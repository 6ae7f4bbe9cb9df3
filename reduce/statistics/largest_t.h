/* largest_t.h - the probability that the largest of several correlated |t| stays below a limit.
 *
 *   P(max_i |Z_i| <= k s),   Z normal with a given correlation, s = chi(v)/sqrt(v) independent of Z
 *
 * The helper of simultaneous_multiplier(); prepared once for a correlation, asked for many limits.
 * Every correlation is d I + F F' with d its smallest eigenvalue: given the common factors u, the
 * Z_i = F u + sqrt(d) e_i are independent and the probability is a product of n, smooth in u.
 * Deltas from one baseline have each their own observation, so d is about a half and few factors
 * count. Source: the product form is Dunnett's (1955) for one factor; several factors are
 * integrated on a lattice as in Genz and Bretz, "Computation of Multivariate Normal and t
 * Probabilities" (2009). */
#ifndef LAPWING_LARGEST_T_H
#define LAPWING_LARGEST_T_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

enum { LARGEST_T_MAX = 64, LARGEST_T_NODES = 64 };

struct largest_t {
    size_t n;
    double own;     /* sqrt(d), standard deviation that a variable has for itself */
    size_t factors; /* columns of F that are not zero */
    double loading[LARGEST_T_MAX][LARGEST_T_MAX]; /* F: row a variable, column a factor */
    double step[LARGEST_T_MAX];                   /* of the point set, one a factor */
    double shift[LARGEST_T_MAX]; /* of the whole set from one value of s to the next */
    double degrees_of_freedom;
    double scale[LARGEST_T_NODES];  /* values of s */
    double weight[LARGEST_T_NODES]; /* their probabilities, sum 1 */
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
