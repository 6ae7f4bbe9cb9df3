/* sample_statistics.h - the statistics of one channel over a run of samples.
 *
 * Moments are made in two passes with a correction for the rounding of the mean, so that a large
 * offset costs no digits; blocks of a long point are merged by the pairwise rule. Pure.            */
#ifndef LAPWING_SAMPLE_STATISTICS_H
#define LAPWING_SAMPLE_STATISTICS_H

#include <stddef.h>

#include "ingest/pile_up.h"
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

/* What neighbours say of a record: how long a value stays, how often, and the smallest step. Begin
 * with zeros. NAN (missing) breaks a run; the step is taken over it. */
struct neighbours {
    double value;   /* of the last sample */
    size_t n;       /* samples so far */
    size_t length;  /* of that run; 0 after a missing sample */
    size_t longest; /* run */
    size_t equal;   /* pairs of neighbours that are equal */
    double step;    /* smallest between neighbours that differ; 0 where none do so far */
};

void neighbours_add(struct neighbours *neighbours, const double *samples, size_t n);

/* Fills stuck, repeated and resolution. */
void neighbours_tell(const struct neighbours *neighbours, struct channel_statistics *statistics);

/* Everything of one channel at one point from all its samples, NAN standing for a missing one.
 * Halves are of the samples that are there, the second one larger by one when their number is odd. sd
 * is NAN below 2 samples, n_effective as effective_samples.h says. clipped counts the samples at the
 * ends of the declared range, or, where none is declared (range has NAN), those piled up at the ends of
 * the record: pile_up.h. spiked and local_deviation are as spikes.h says; mean_without_spikes is NAN
 * below 11 samples, and where more than SPIKE_SHARE_MAX of them would be spikes: the rule does not fit
 * such a record, and what it leaves over is no mean of anything.
 * room is for 3 n doubles. Afterwards it holds the samples that are there, less their mean, and from
 * room + n on, where they are 11 or more, their residuals of spikes.h.
 * Returns 1, or 0 without memory (then *statistics is not usable). */
int sample_statistics(const double *samples, size_t n, struct channel_range range, double *room,
                      struct channel_statistics *statistics);

#define SPIKE_SHARE_MAX 0.1

/* The same struct of a point averaged by the facility. value is NAN when missing, sd when missing or
 * not given, count is 1 when not given. n_effective and the halves are NAN: the facility's count says
 * nothing of how independent its samples were. Spikes, piled-up and equal samples are not judged: their
 * counts are 0, mean_without_spikes, local_deviation and resolution NAN. */
struct channel_statistics averaged_statistics(double value, double sd, double count);

#endif
