/* trace_watch.h - which samples are worth a look, found while they are still there.
 *
 * Rules judge by statistics, after the samples are gone, so that this is a screen: what one of them may speak of
 * is thinned and kept (log_trace.h), and let go at the end of the log where the log as a whole does not bear
 * it out. Memory is flat in the length of the log: of each reason TRACES_A_RUN are held, three a channel, the worst. A point of more rows than are kept (POINT_SAMPLES_MAX) has no trace, and
 * neither has a channel that does not move at all, where there is nothing to see.                      */
#ifndef LAPWING_TRACE_WATCH_H
#define LAPWING_TRACE_WATCH_H

#include <stddef.h>

#include "ingest/log_record.h"
#include "schema/fault.h"
#include "schema/plan_section.h"

/* The limits of reduce/statistics/record_rules.h, and of limits: q_unsteady when nothing is declared. */
extern const double trace_spiked_limit;   /* 0.001 of the samples */
extern const double trace_clipped_limit;  /* 0.005 of the samples */
extern const double trace_chance_limit;   /* 1e-6: of a run of equal samples by chance */
extern const double trace_repeat_limit;   /* 0.5: a channel that repeats more is not judged */
extern const double trace_noise_factor;   /* 3: scatter against the other points' */
extern const double trace_unsteady_limit; /* 0.002: sd(q)/q */
extern const double
    trace_trend_limit; /* 1: second half less first, in standard deviations of the point */

struct trace_channel;

struct trace_watch {
    const struct log_channel *channels; /* of the record */
    struct trace_channel *seen;         /* one a channel */
    size_t n;
    struct log_trace *held; /* in the order they came */
    size_t n_held, capacity;
};

/* For the n channels of a log; keep names those, by role, column or tap, whose every point is kept (NULL: none). The
 * caller ends it with trace_watch_free(). NO_MEMORY. */
enum status trace_watch_make(struct trace_watch *watch, const struct log_channel *channels,
                             size_t n, const struct text_list *keep, struct fault *fault);
void trace_watch_free(struct trace_watch *watch);

/* The samples of one channel at one point, as sample_statistics() left them. */
struct trace_samples {
    size_t channel, point;
    const double *samples; /* a row each, NAN for a missing one */
    size_t rows;
    double step;              /* s between rows; NAN: not known */
    const double *deviations; /* of the statistics.n samples that are there, from their mean */
    const double *residuals;  /* of the same, by spikes_find(), from 11 samples on */
    const struct channel_statistics *statistics;
};

/* Points in the order of the log. NO_MEMORY. */
enum status trace_watch_take(struct trace_watch *watch, const struct trace_samples *taken,
                             struct fault *fault);

/* Ends the log, after spike_watch_finish_log(): hands the traces over to the record, those that the other points
 * bear out. NO_MEMORY. */
enum status trace_watch_finish_log(struct trace_watch *watch, struct log_record *record,
                                   struct fault *fault);

#endif
