/* spikes.h - samples that stand out from their neighbours. */
#ifndef LAPWING_SPIKES_H
#define LAPWING_SPIKES_H

#include <stddef.h>

enum { SPIKE_WINDOW = 11 };

struct spikes {
    size_t count;
    size_t clean;           /* samples that are none: n - count */
    double local_deviation; /* s below, SI; NAN below 11 samples */
};

/* A sample is a spike when it stands out of the record and of its own window:
 *
 *   r_i = |x_i - median of its window|,   s = 1.4826 median of all r_i, not below the resolution
 *   spike: r_i > 6 (1 + 20/n) s  and  r_i > 3.5 median of |x_j - median| over the window
 *
 * The window is of 11 samples with x_i in the middle; near an end it shrinks from both sides, to five
 * samples, so that a slow signal does not stand out there. The first limit is what makes a spike; the
 * second keeps the peak of a smooth wave, far from its window's median but no farther than the rest of
 * the window, from being one. The term 20/n is for short records, whose s is known badly. The median of an even number of residuals is the lower one of the two.
 *
 * Given:   samples     n finite ones in order of time
 *          resolution  smallest step between neighbours that differ; NAN where none do
 *          room        for n doubles; receives the residuals r_i (from 11 samples on)
 *          clean       for n doubles; receives the samples that are no spikes, in their order
 * Returns: count and local deviation; no spikes and NAN below 11 samples.
 * Accuracy, measured (tests/test_spikes.c holds it):
 *          false alarms a sample: normal noise 1e-6 (3e-6 at n = 100), first-order autoregressive
 *          noise of 0.5: 2e-6, 0.9: 3e-5, 0.98: 7e-5 at n = 1000 (the residual about the local median
 *          has longer tails the more alike neighbours are); Laplace noise, with tails of its own, 0.3 %.
 *          Records of normal noise with any false alarm: 0.3 % at n = 11, 0.1 % at 20, below 0.05 % from
 *          40 to 200. A log of several points knows s better: spike_watch.h.
 *          Found, at 8 standard deviations of the channel from its mean, 0.5 % of samples: single ones
 *          99.9 %, neighbouring pairs 99.5 %. Up to five in a row can be found.
 * Source:  Hampel, The influence curve and its role in robust estimation, J. American Statistical
 *          Association 69 (1974), for the median and its deviation; 1.4826 makes that the standard
 *          deviation of a normal distribution; the factors 6 and 3.5 are our own, by the rates above. */
struct spikes spikes_find(const double *samples, size_t n, double resolution, double *room,
                          double *clean);

/* 6 (1 + 20/n): the first half of the rule for a record of n samples, in its own s. */
double spike_limit(size_t n);

/* The second half of the rule: 1 when sample i stands out of its own window. n is 11 at the least. */
int spike_stands_out(const double *samples, size_t n, size_t i);

#endif
