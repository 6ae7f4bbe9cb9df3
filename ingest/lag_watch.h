/* lag_watch.h - how late each channel of a log follows the wind.
 *
 * Where the wind moves within points, what follows it moves too: the lag is where the correlation of both
 * is largest. Every point counts alike, however much moves in it, so that what happens once in one point
 * tells nothing. What the numbers mean is judged by reduce/statistics/channel_lag.h.                 */
#ifndef LAPWING_LAG_WATCH_H
#define LAPWING_LAG_WATCH_H

#include <stddef.h>

#include "ingest/log_record.h"
#include "schema/fault.h"

enum {
    LAG_BINS_MAX = 80,  /* lags on either side */
    LAG_POINT_BINS = 32 /* of a point, at the least */
};

extern const double lag_span;     /* 2 s: the largest lag looked for */
extern const double lag_bin;      /* 0.05 s: rows closer than that are averaged */
extern const double lag_bin_most; /* 0.125 s: a slower log tells no lag */

struct lag_channel;

struct lag_watch {
    struct lag_channel *channels; /* NULL: the log has no wind */
    size_t n, wind;
    double width; /* s, of a bin; 0 until the first point */
    double *room; /* two channels of one point */
    size_t capacity;
};

/* For the n channels of a log; the wind is its p0 - p, contraction drop, dynamic pressure or air speed, the
 * first of these it has. NO_MEMORY. The caller ends it with lag_watch_free(). */
enum status lag_watch_make(struct lag_watch *watch, const struct log_channel *channels, size_t n,
                           struct fault *fault);
void lag_watch_free(struct lag_watch *watch);

/* A point, or a block of a long one: rows of all channels, NAN for a missing sample, `step` s apart. With
 * bins x (wind) and y of a channel, each less its straight line and over its sd, it adds
 *
 *   c_k = sum x_i y_(i+k),  m_k = number of terms,  for lags k of -K to K bins, K bins = 2 s or half the
 *   point
 *
 * and both autocorrelations. Left out: a channel with empty bins or that is constant; all of a point of
 * fewer than 32 bins, of bins beyond 0.125 s, or of other bins than the points before. NO_MEMORY. */
enum status lag_watch_take(struct lag_watch *watch, double *const *columns, size_t rows,
                           double step, struct fault *fault);

/* Ends the log: fills follows_wind of all channels (NAN where there is nothing to tell) from
 *
 *   r_k = c_k / m_k at the k with the largest |r_k| sqrt(m_k)
 *   samples = m_k / (1 + 2 sum of both autocorrelations' products), not above m_k
 *
 * Source of samples: Bartlett, Some aspects of the time-correlation problem in regard to tests of
 * significance, J. Royal Statistical Society 98 (1935). */
void lag_watch_finish_log(struct lag_watch *watch, const struct log_record *record);

#endif
