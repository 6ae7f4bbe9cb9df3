/* sentinel_watch.h - does a column repeat a number that loggers like to write for "no value"?
 *
 * Such a number is taken as measured, since -999 may be a pressure; but a column that repeats exactly
 * one of them in more than a hundredth of the rows deserves a question.                            */
#ifndef LAPWING_SENTINEL_WATCH_H
#define LAPWING_SENTINEL_WATCH_H

#include <math.h>
#include <stddef.h>

#include "ingest/log_record.h"
#include "schema/fault.h"

struct sentinel_watch {
    size_t *counts; /* of every usual sentinel, channel by channel */
    size_t n;       /* channels */
};

/* For n channels. On OK the caller ends it with sentinel_watch_free(). */
enum status sentinel_watch_make(struct sentinel_watch *watch, size_t n, struct fault *fault);
void sentinel_watch_free(struct sentinel_watch *watch);

/* 1 for the few values worth a look: far from zero and whole, or beyond any quantity of a tunnel. */
static inline int sentinel_is_possible(double value)
{
    double size = fabs(value);
    return size >= 999 && (size > 1e30 || size == floor(size));
}

/* A value of a channel, as the log writes it, for which sentinel_is_possible(). */
void sentinel_watch_take(struct sentinel_watch *watch, size_t channel, double value);

/* Names the suspects among the record's channels, after all rows. */
void sentinel_watch_finish(const struct sentinel_watch *watch, struct log_record *record);

#endif
