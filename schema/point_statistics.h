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
    /* What the samples look like one by one; reduce judges by it. Of a point averaged by the facility
     * nothing is known: counts 0, the rest NAN. Of points above 65 536 rows: ingest/folded_channel.h. */
    double clipped; /* samples at the ends of the declared range, else piled up: ingest/pile_up.h */
    double stuck;   /* longest run of identical values, in samples */
    double
        spiked; /* samples that stand out from their neighbours: ingest/spikes.h, by the scatter of
                       the log's points, ingest/spike_watch.h */
    double mean_without_spikes; /* SI; the mean where there are none; NAN below 11 samples and where
                                   more than a tenth would be spikes */
    double local_deviation;     /* robust sd about the local median, of this point alone, not below
                                   the resolution; NAN below 11 samples */
    double resolution; /* smallest step between neighbours that differ; NAN where none do */
    double repeated;   /* pairs of equal neighbours outside the longest run; of n - stuck
                                   pairs, fewer by one for every gap of missing samples */
    double
        stated; /* expanded uncertainty, 95 %, that the log states of an averaged mean, SI; NAN: not.
                      Not in the blob: the table channel_statistic has it */
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
