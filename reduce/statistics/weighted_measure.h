/* weighted_measure.h - one number out of many with all they have in common: a weighted average over
 * attitudes, a package against the sum of its parts.
 *
 *   value = sum w_i c_i,     u^2 = sum_ij w_i w_j cov_ij
 *
 * Points of a run share zeros, dynamic pressure and refit, so their covariances count; without them the
 * uncertainty of an average would fall with every attitude added.
 * Source: GUM (JCGM 100:2008), equation 13. */
#ifndef LAPWING_WEIGHTED_MEASURE_H
#define LAPWING_WEIGHTED_MEASURE_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

struct weighted_measure {
    double value;
    double standard;
    double coverage; /* sum of the weights that have a value, of all */
};

/* Weights >= 0 that sum to 1, within 1e-6: they are never scaled here. A value that is NAN was not measured:
 * then coverage is below 1 and there is no average. covariance: n x n, row by row.
 * OUTCOME_GEOMETRY: the weights do not sum to 1, or one is negative; OUTCOME_UNMEASURED: a value with weight
 * is missing, coverage says how much is there; OUTCOME_NOT_FINITE: a covariance, or a value is
 * infinite; OUTCOME_SINGULAR: a negative variance; OUTCOME_TOO_FEW: n is 0. */
enum outcome weighted_average(const double *weights, const double *values, const double *covariance,
                              size_t n, struct weighted_measure *measure);

/* Ratio of two such averages, sum wa_i a_i / sum wb_i b_i, as of a balance over a lap: not the mean of
 * ratios. values and covariance: the n a's, then the n b's, 2 n in all. Linear propagation; for an
 * interval near a denominator of 0 fieller.h. Outcomes as above; OUTCOME_SINGULAR when the lower sum is
 * 0. */
enum outcome weighted_ratio(const double *upper_weights, const double *lower_weights,
                            const double *values, const double *covariance, size_t n,
                            struct weighted_measure *measure);

/* A package's delta less the sum of its parts' deltas, from the covariance of all deltas: what the parts do
 * to each other. package and parts are indices below n. OUTCOME_GEOMETRY: the package is among its
 * parts, or an index is out of range; OUTCOME_TOO_FEW: no parts; else as above. */
enum outcome package_interaction(const double *deltas, const double *covariance, size_t n,
                                 size_t package, const size_t *parts, size_t n_parts,
                                 struct weighted_measure *interaction);

#endif
