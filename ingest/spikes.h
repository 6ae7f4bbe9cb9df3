/* spikes.h - counts samples that stand out from their neighbours. */
#ifndef LAPWING_SPIKES_H
#define LAPWING_SPIKES_H

#include <stddef.h>

enum { SPIKE_WINDOW = 11 };

/* Samples beyond the Hampel limit of their window of 11:
 *
 *   |x - median| > 4 * 1.4826 * MAD,   MAD the median of |x_j - median| over the window
 *
 * Given:   n finite samples in order of time. The first and last five are judged by the first and
 *          the last whole window.
 * Returns: how many; 0 with fewer than 11 samples.
 * Accuracy: normal noise without any spike gives 1.2 % by itself, because the MAD of eleven samples
 *          scatters; a count means something above that share.
 * Not in it: windows whose MAD is 0 (more than half of their samples equal: a coarse converter) are
 *          not judged, because there any step of one bit would stand out.
 * Source:  Hampel, The influence curve and its role in robust estimation (1974) for the identifier;
 *          1.4826 makes MAD the standard deviation of a normal distribution; the factor 4 is common
 *          practice, no source. */
size_t spikes_count(const double *samples, size_t n);

#endif
