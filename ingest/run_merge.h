/* run_merge.h - the logs of one run become one record: channels side by side, points by label.
 *
 * A point that one log lacks keeps its place; the channels of that log have n = 0 there, and the lack
 * is told. Times become seconds since 1970. Logs are sampled apart, so the covariance between their
 * channels is not known and stands as 0. Of the logs'
 * traces those stay that log_traces_choose() takes.                                                           */
#ifndef LAPWING_RUN_MERGE_H
#define LAPWING_RUN_MERGE_H

#include <stddef.h>

#include "ingest/iso_time.h"
#include "ingest/log_record.h"
#include "schema/fault.h"

/* A log to be merged. */
struct log_slot {
    struct log_record *record;
};

struct merged_run {
    struct log_record *record; /* clock is not meaningful any more: times are since 1970 */
    size_t *channel_log;       /* which log each channel is of */
    struct point_lack {
        size_t point; /* in the record */
        size_t log;   /* that does not have it */
    } * lacks;
    size_t n_lacks;
};

/* Takes the records over (n >= 1 of them; the slots become NULL), whatever it gives. On OK the caller
 * ends *merged with merged_run_end(). */
enum status run_merge(struct log_slot *logs, size_t n, const struct iso_time *start,
                      struct merged_run *merged, struct fault *fault);
void merged_run_end(struct merged_run *merged);

#endif
