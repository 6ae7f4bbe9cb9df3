/* folded_channel.h - the statistics of one channel at a point too long to keep, block by block.
 *
 * Counts, moments, extremes, neighbours and samples at the ends of a declared range are exact all the
 * same. The rest is judged block by block:
 *   - effective n comes from batch means, halves end at a batch;
 *   - a sample is a spike by its own block: its window does not reach into the next one, and its limit is
 *     the block's; local_deviation is the blocks' mean, weighted with their samples; the mean without
 *     spikes is over all blocks, NAN when they have more than a tenth of spikes together;
 *   - samples are piled up where a block has them piled up at the extreme of the whole point.          */
#ifndef LAPWING_FOLDED_CHANNEL_H
#define LAPWING_FOLDED_CHANNEL_H

#include <stddef.h>

#include "ingest/sample_statistics.h"

enum { POINT_BATCH = 1024 };

/* The best extreme that was piled up so far, and the samples there. */
struct folded_end {
    double value;
    double count;
};

/* Begin with zeros; owns its batches. */
struct folded_channel {
    struct sample_moments moments;
    struct sample_moments clean; /* of the samples that are no spikes */
    struct neighbours neighbours;
    struct folded_end low, high;
    double n_missing;
    double minimum, maximum;
    double at_range_ends;
    double spiked;
    double deviation, deviation_weight; /* sum of the blocks' local deviations times samples */
    struct sample_moments *batches;
    size_t n_batches;
};

/* Adds a block of rows samples, NAN standing for a missing one. room is for 3 * rows doubles. Returns
 * 1, or 0 without memory. */
int folded_channel_add(struct folded_channel *folded, const double *samples, size_t rows,
                       struct channel_range range, double *room);

/* The statistics of all blocks; the channel is ready for another point. Returns 1, or 0 without
 * memory. */
int folded_channel_finish(struct folded_channel *folded, struct channel_range range,
                          struct channel_statistics *out);

void folded_channel_free(struct folded_channel *folded);

#endif
