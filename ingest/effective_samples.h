/* effective_samples.h - how many independent samples the mean of a correlated record is worth. */
#ifndef LAPWING_EFFECTIVE_SAMPLES_H
#define LAPWING_EFFECTIVE_SAMPLES_H

#include <stddef.h>

/* Initial positive sequence: with the autocovariances g_k and G_m = g_2m + g_2m+1,
 *
 *   n_effective = n g_0 / (2 (G_0 + ... + G_M) - g_0),   M + 1 the first m with G_m <= 0
 *
 * Given:   centred  n samples minus their mean, in order of time
 * Returns: 1, and in *n_effective the number, above n when neighbours lean against each other (n when
 *          they do so almost wholly and the sum is no longer positive); n when all samples are equal;
 *          NAN when the record is too short to tell: n < 16, or shorter than 20 integral times T_int,
 *          SE^2 = 2 T_int s^2 / T, which is the same as n_effective < 10. 0: no memory.
 * Accuracy: within 10 % for a first-order autoregressive record of 200 integral times and more.
 * Source:  Geyer, Practical Markov chain Monte Carlo, Statistical Science 7 (1992), section 3.3; the
 *          limit of 20 integral times is common practice, no source. */
int effective_samples(const double *centred, size_t n, double *n_effective);

/* The same by batch means for records too long to keep: standard error from the scatter of the means
 * of equal batches, n_effective = sd^2 / (variance of batch means / batches).
 * Returns NAN with fewer than 16 batches or when it would be below 10; never above n.
 * Source:  common practice of batch means; see Geyer (1992), section 3.2. */
double effective_samples_by_batches(const double *batch_means, size_t batches, double sd, double n);

#endif
