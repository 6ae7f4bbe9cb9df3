/* sample_statistics.h - the statistics of one channel over a run of samples.
 *
 * Moments are made in two passes with a correction for the rounding of the mean, so that a large
 * offset costs no digits; blocks of a long point are merged by the pairwise rule. Pure.            */
#ifndef LAPWING_SAMPLE_STATISTICS_H
#define LAPWING_SAMPLE_STATISTICS_H

#include <stddef.h>

#include "schema/point_statistics.h"

struct sample_moments {
    double n;
    double mean;
    double square; /* sum of (x - mean)^2 */
};

/* Of n finite samples.
 *
 *   m0 = sum x / n,  m = m0 + sum (x - m0) / n,  S = sum (x - m)^2 - (sum (x - m))^2 / n
 *
 * Source: Chan, Golub, LeVeque, Algorithms for computing the sample variance, The American
 * Statistician 37 (1983), corrected two-pass algorithm. Accuracy: NIST StRD univariate sets at what
 * their data rounded to double allow. */
struct sample_moments sample_moments_of(const double *samples, size_t n);

/* Of two runs of samples together. Source: the same paper, equations 2.1. */
struct sample_moments sample_moments_merge(struct sample_moments a, struct sample_moments b);

/* sqrt(square / (n - 1)); NAN below two samples. */
double sample_moments_sd(struct sample_moments moments);

/* Longest run of identical neighbours. Begin with n = 0 run; NAN (missing) breaks a run. */
struct stuck_run {
    double value;
    size_t length;
    size_t longest;
};

void stuck_run_add(struct stuck_run *run, const double *samples, size_t n);

/* Everything of one channel at one point from all its samples, NAN standing for a missing one.
 * kept must have room for n doubles. Halves are of the samples that are there, the second one larger
 * by one when their number is odd. clipped is 0: no rail is declared. sd is NAN below 2 samples,
 * n_effective as effective_samples.h says, and spiked as spikes.h says.
 * Returns 1, or 0 without memory (then *statistics is not usable). */
int sample_statistics(const double *samples, size_t n, double *kept,
                      struct channel_statistics *statistics);

/* The same struct of a point averaged by the facility. value is NAN when missing, sd when missing or
 * not given, count is 1 when not given. n_effective and the halves are NAN: the facility's count says
 * nothing of how independent its samples were. */
struct channel_statistics averaged_statistics(double value, double sd, double count);

#endif
