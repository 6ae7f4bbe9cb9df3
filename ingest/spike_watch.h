/* spike_watch.h - spikes judged by the whole log: what a channel's scatter is, its other points know best.
 *
 * The local deviation of a point of 40 samples is off by a fifth, that of 200 by a tenth: six or seven of
 * them are beyond a good sample or within a bad one far too often. So candidates are kept until the log
 * ends, and then held against the median local deviation of the channel over its points.            */
#ifndef LAPWING_SPIKE_WATCH_H
#define LAPWING_SPIKE_WATCH_H

#include <stddef.h>

#include "ingest/log_record.h"
#include "schema/fault.h"

enum {
    SPIKE_POINTS_MIN = 4,        /* with a local deviation, before they are asked */
    SPIKE_OWN_SAMPLES_MIN = 2000 /* of a point that is judged by itself all the same */
};

struct spike_channel;

struct spike_watch {
    struct spike_channel *channels;
    size_t n;
};

/* For n channels; NO_MEMORY. The caller ends it with spike_watch_free(). */
enum status spike_watch_make(struct spike_watch *watch, size_t n, struct fault *fault);
void spike_watch_free(struct spike_watch *watch);

/* The point with this number in the record: its n present samples less their mean, their residuals by
 * spikes_find(), and what sample_statistics() made of them. Those beyond half the limit become candidates.
 * NO_MEMORY. */
enum status spike_watch_take(struct spike_watch *watch, size_t channel, size_t point,
                             const double *samples, const double *residuals,
                             const struct channel_statistics *statistics, struct fault *fault);

/* Ends the log: spiked and mean_without_spikes of its points anew, with
 *
 *   s = median of the points' local deviations
 *
 * and 7 s in the place of 6 (1 + 20/n) s_p in the rule of spikes.h. A point keeps its own, s_p, where it has 2000
 * samples and more, where fewer than four points have one, and where it is another scatter and not chance:
 *
 *   s_p / s > min(2, 1 + 4 e)  or  s_p / s < 1 - 6 e,  e = 1 / sqrt(0.74 n)
 *
 * 0.74 = 2 * 0.37, the efficiency of the median absolute deviation against the standard deviation, whose
 * relative error is 1 / sqrt(2 n) (Hampel, see spikes.h). A point that repeats values in a quarter of its
 * samples is quiet for that reason, and is held against s. NO_MEMORY. */
enum status spike_watch_finish_log(struct spike_watch *watch, const struct log_record *record,
                                   struct fault *fault);

#endif
