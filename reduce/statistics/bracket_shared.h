/* bracket_shared.h - the uncertainty of deltas whose observations also carry an error in common.
 *
 * All points of a configuration are carried to their target along one fitted slope
 * (reduce/target_carry.h). The error of that slope is the same in every mounting, so it shows in no
 * scatter, and averaging mountings does not make it smaller. It is added to what the scatter gives,
 * as a bound that takes the parts within one configuration as fully correlated and of one sign, and
 * those of two configurations as independent:
 *
 *   a_c = mean over the bracketed mountings of c of u_j
 *   b_c = sum over the returns of |w_cj| u_j,    w_c the weights of the mean baseline under c
 *   u_c^2 = s^2 variance_factor_c + a_c^2 + b_c^2
 *   cov(c, d) = s^2 cov_cd + b_c b_d             the baseline's slope is one for all deltas
 *   df_c = u_c^4 / ((s^2 variance_factor_c)^2 / df + a_c^4 / df_a + b_c^4 / df_b)
 *
 * with u_j the standard uncertainty that the step to the target added to observation j, and df_a, df_b
 * the least degrees of freedom of the fits on either side: a fit through few points knows its own
 * uncertainty badly, and taken as known it left one interval in seven without the truth.
 * Source: GUM (JCGM 100:2008) 5.2.2, correlated inputs, note 1, for the linear sums; Satterthwaite
 * (1946), for df_c. The bound: common practice, no source.                  */
#ifndef LAPWING_BRACKET_SHARED_H
#define LAPWING_BRACKET_SHARED_H

#include <stddef.h>

#include "reduce/physics/outcome.h"
#include "reduce/statistics/bracket.h"

struct shared_error {
    double uncertainty;        /* u_j >= 0 */
    double degrees_of_freedom; /* of u_j; infinite when it is known or 0 */
};

struct bracket_uncertainty {
    double standard[BRACKET_CONFIGURATIONS_MAX];           /* u_c; NAN without a delta or noise */
    double degrees_of_freedom[BRACKET_CONFIGURATIONS_MAX]; /* df_c; 0 where u_c is NAN */
};

/* Given:   observations, n, n_configurations   as bracket_deltas() had them, and what it gave: result
 *          shared       n: one of each observation
 *          correlation  n_configurations squared, that of the scatter alone; changed to that of the
 *                       deltas with the shared parts in it
 * An u_j that is NAN makes the deltas that rest on it NAN. Nothing is known without noise, or where
 * it is 0. */
void bracket_add_shared(const struct observation *observations, const struct shared_error *shared,
                        size_t n, size_t n_configurations, const struct bracket_result *result,
                        double *correlation, struct bracket_uncertainty *uncertainty);

#endif
