/* bracket_noise.h - the noise of one observation, from everything in a night that repeats.
 *
 * Each residual contrast r is a row of weights over the observations, of length one, with no
 * expectation under the model:
 *
 *   a mounting of a configuration minus the mean delta of its mountings, each bracketed, for
 *   configurations with two bracketed mountings or more;
 *   four consecutive baseline returns weighted so that no parabola in time is left (divided
 *   difference); with fewer than five returns, three weighted so that no line is left.
 *
 *   s^2 = sum (r.y)^2 / m,   df = (tr Q)^2 / tr(Q^2),   Q = sum r r',  tr Q = m contrasts
 *
 * Source: Satterthwaite, "An Approximate Distribution of Estimates of Variance Components"
 * (1946), for df, with Q's own moments. Why local contrasts: the projection onto all of them is
 * the residual of one straight line over the night, which a slow wave inflates (98 % coverage).
 * Why four returns: a wave leaves a third of what it leaves in three. Contrasts and deltas share
 * returns and so are not quite independent, which widens coverage by 0.1 to 0.5 %; contrasts
 * orthogonal to the deltas would cost one degree of freedom a configuration. The figures are for
 * nights like those in tests/test_bracket.c. */
#ifndef LAPWING_BRACKET_NOISE_H
#define LAPWING_BRACKET_NOISE_H

#include <stddef.h>

#include "reduce/physics/outcome.h"
#include "reduce/statistics/bracket.h"

/* Given:   observations  n of them, finite, any order
 *          bracketed     n x n row-major: row i holds the weights of observation i minus its
 *                        baseline; all 0 for baseline and for unbracketed observations
 * Noise with df 0 and sd NAN when nothing repeats: still OUTCOME_OK. OUTCOME_NO_MEMORY. */
enum outcome bracket_noise_estimate(const struct observation *observations, size_t n,
                                    const double *bracketed, size_t n_configurations,
                                    struct bracket_noise *noise);

#endif
