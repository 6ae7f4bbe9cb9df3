/* point_statistics.h - what is kept of one channel at one point: its statistics, not its samples.
 *
 * A season of samples is more than 100 GB of text; its statistics are a few GB and reduce again in
 * seconds. They travel from ingest to the store and from the store to reduce as one blob a point:
 * channels in the order of the run's channel table, each STATISTICS_PER_CHANNEL doubles, little
 * endian. NAN in a field means "cannot be estimated from this record" (sd of one sample, effective
 * n of a short one); mean is NAN only when n is 0. Readers test with isfinite().                   */
#ifndef LAPWING_POINT_STATISTICS_H
#define LAPWING_POINT_STATISTICS_H

#include <stddef.h>

#include "schema/fault.h"

struct channel_statistics {
    double n;                /* samples used */
    double n_missing;        /* samples declared missing */
    double mean;             /* SI */
    double sd;               /* sample standard deviation, n - 1 */
    double n_effective;      /* independent samples the mean is worth */
    double minimum, maximum; /* SI */
    double mean_first_half, mean_second_half;
    double clipped; /* samples piled up at an end of the channel's range, declared or found */
    double stuck;   /* longest run of identical values, in samples */
    double spiked;  /* samples that stand out from their neighbours, ingest/spikes.h */
    double mean_without_spikes; /* SI; mean where there are none; NAN where not judged */
    double
        local_deviation; /* robust sd about the local median, the yardstick of spikes; NAN where not
                               judged */
    double resolution;   /* smallest step between neighbours that differ; NAN where none do */
    double repeated;     /* neighbours that are equal, outside the longest run */
};

enum { STATISTICS_PER_CHANNEL = 16 };

/* Packs n channels into out (n * STATISTICS_PER_CHANNEL * 8 bytes). */
void point_statistics_pack(const struct channel_statistics *channels, size_t n, unsigned char *out);

/* Unpacks a blob of size bytes into n channels; BAD_INPUT when the size does not fit. */
enum status point_statistics_unpack(const void *blob, size_t size,
                                    struct channel_statistics *channels, size_t n,
                                    struct fault *fault);

/* Standard error of the mean, sd / sqrt(n_effective); NAN when either is not estimable. */
double channel_standard_error(const struct channel_statistics *channel);

#endif
