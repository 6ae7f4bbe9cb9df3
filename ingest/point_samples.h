/* point_samples.h - the samples of the point that is being read, and what becomes of them.
 *
 * A point of a tunnel log has some thousand samples; they are kept column by column until it ends.
 * A point longer than POINT_SAMPLES_MAX is folded block by block, so that memory stays flat in the
 * length of a log: what changes by that is said in folded_channel.h; the covariance is exact. */
#ifndef LAPWING_POINT_SAMPLES_H
#define LAPWING_POINT_SAMPLES_H

#include <stddef.h>

#include "ingest/pile_up.h"
#include "ingest/point_watch.h"
#include "schema/fault.h"
#include "schema/point_statistics.h"

enum { POINT_SAMPLES_MAX = 65536 };

struct point_samples;

/* For n channels; ranges are what they can read (NULL: nothing is declared), covaried[k] (n_covaried of them) are the channels of the covariance matrix. most is
 * the block's length, POINT_SAMPLES_MAX but for tests. On OK the caller owns *samples and ends it
 * with point_samples_free(). */
enum status point_samples_make(size_t n, const struct channel_range *ranges, const size_t *covaried,
                               size_t n_covaried, size_t most, struct point_samples **samples,
                               struct fault *fault);
void point_samples_free(struct point_samples *samples); /* NULL is fine */

/* Adds one row: n values in SI, NAN for a missing one. */
enum status point_samples_add(struct point_samples *samples, const double *row,
                              struct fault *fault);

/* Ends the point: shows its samples to the watch (NULL: to none), fills n statistics and the n_covaried x n_covaried sample covariance (row-major,
 * of every two over the rows where both are present, as sample_covariance.h says), and is ready for the
 * next point. */
enum status point_samples_finish(struct point_samples *samples, struct point_watch *watch,
                                 struct channel_statistics *out, double *covariance,
                                 struct fault *fault);

#endif
