/* shared_error.h - the uncertainty of deltas whose observations also carry an error in common.
 *
 * All points of a configuration are carried to their target along one fitted slope
 * (reduce/target_carry.h). The error of that slope is the same in every mounting, so it shows in no
 * scatter, and averaging mountings does not make it smaller. It is added to what the scatter gives.
 * Every delta is a sum of observations, delta_c = sum_j w_cj y_j, whether the local bracket found the
 * weights (bracket_weights()) or the whole night's model (night_deltas_weighted()). As a bound that takes
 * the parts within one configuration as fully correlated and of one sign, and those of two
 * configurations as independent:
 *
 *   a_cd = sum over the observations of d of |w_cj| u_j
 *   u_c^2 = s_c^2 + sum_d a_cd^2
 *   cov(c, d) = r_cd s_c s_d + a_c0 a_d0       the baseline's slope is one for all deltas
 *   df_c = u_c^4 / (s_c^4 / df + sum_d a_cd^4 / df_d)
 *
 * with s_c the standard error from scatter, u_j the standard uncertainty that the step to the target
 * added to observation j, and df_d the least degrees of freedom of the fits of d: a fit through few points
 * knows its own uncertainty badly, and taken as known it left one interval in seven without the truth.
 * Of the bracket only a_cc and a_c0 are not 0; in the model a third configuration has a little weight,
 * because it tells the drift. What third configurations' slopes have in common between two deltas is left out
 * of the covariance: less correlation makes simultaneous intervals wider, not narrower.
 * Sources: GUM (JCGM 100:2008) 5.2.2, correlated inputs, note 1, for the linear sums; Satterthwaite
 * (1946), for df_c; Sidak, "Rectangular confidence regions for the means of multivariate normal
 * distributions", J. Am. Stat. Assoc. 62 (1967), for the last remark. The bound: common practice, no
 * source. */
#ifndef LAPWING_SHARED_ERROR_H
#define LAPWING_SHARED_ERROR_H

#include <stddef.h>

#include "reduce/statistics/delta_estimate.h"

struct shared_error {
    double uncertainty;        /* u_j >= 0 */
    double degrees_of_freedom; /* of u_j; infinite when it is known or 0 */
};

/* One observation as this file sees it. */
struct shared_observation {
    size_t configuration; /* 0 is the baseline */
    struct shared_error error;
};

/* Given:   observations  n
 *          weights       n_configurations x n, row by row; rows without an estimate are not looked at
 *          estimates     n_configurations, from scatter alone; changed to those with the shared parts
 *          correlation   n_configurations squared, that of the scatter alone; changed likewise
 * An estimate without a standard error above 0 is not known, and stays so. One that rests on an u_j that is NAN has its standard error
 * NAN and its degrees of freedom 0. */
void shared_error_add(const struct shared_observation *observations, size_t n,
                      const double *weights, size_t n_configurations,
                      struct delta_estimate *estimates, double *correlation);

#endif
