/* log_trace.h - what is kept of the samples of a point that a person may have to look at: thinned, with the
 * places of the samples that gave rise to it, and their spectrum.                                     */
#ifndef LAPWING_LOG_TRACE_H
#define LAPWING_LOG_TRACE_H

#include <stddef.h>

#include "ingest/welch_spectrum.h"
#include "schema/point_statistics.h"

enum {
    TRACE_BINS_MAX = 400,
    TRACE_MARKS_MAX = 200, /* places kept of one trace */
    TRACES_A_RUN = 20,     /* besides those of keep_samples */
    TRACES_A_CHANNEL = 3   /* of one reason */
};

/* Why it is kept; the rule of the flag that may follow from it. */
enum trace_reason {
    TRACE_KEPT, /* nothing was seen: keep_samples names the channel */
    TRACE_SPIKES,
    TRACE_STUCK,
    TRACE_CLIPPED,
    TRACE_TREND,
    TRACE_NOISE,
    TRACE_UNSTEADY, /* the wind */
    TRACE_REASONS
};

/* Code of the rule (schema/flag.h), or "kept". */
const char *trace_reason_code(enum trace_reason reason);

/* Some consecutive rows of the point, the last bin fewer; n of them have a sample. Without any the rest is
 * NAN. */
struct trace_bin {
    double n, minimum, mean, maximum;
};

/* Rows of the point, from 0, both ends included. */
struct trace_mark {
    size_t first, last;
    double residual; /* of a spike, from the median of its window; NAN else */
};

struct log_trace {
    size_t point, channel; /* in the record */
    enum trace_reason reason;
    int is_named;    /* 1: by keep_samples */
    double severity; /* what was seen over its limit; NAN when nothing was */
    double step;     /* s between rows; NAN: not known */
    size_t rows;     /* of the point */
    size_t rows_a_bin;
    double mean, sd;     /* of all samples */
    double mean_without; /* of those that are not marked; NAN where that is no better mean */
    double peak;         /* the sample farthest from the mean */
    size_t peak_row;
    struct trace_bin *bins; /* owned, as are marks and density */
    size_t n_bins;
    struct trace_mark *marks; /* in the order of the rows */
    size_t n_marks;
    size_t marked_rows; /* together, those left out for TRACE_MARKS_MAX too */
    struct welch_plan plan;
    double *density; /* plan.n of them; NULL: no even samples, or too few */
};

void log_trace_end(struct log_trace *trace); /* frees what it holds */

/* Fills bins, peak, mean and sd from the rows of a channel, NAN standing for a missing sample, of which there is
 * one at least; with even steps and none missing the spectrum too, from deviations: the samples less their mean. Returns 1, or 0 without
 * memory. */
int log_trace_fill(struct log_trace *trace, const double *samples, const double *deviations,
                   const struct channel_statistics *statistics);

/* The mean of the samples outside of the marks; NAN when there is none. */
double log_trace_mean_without(const struct log_trace *trace, const double *samples);

/* Orders the traces of a run by point and channel, leaves one of each, the worst, and ends those that are too many: `most` stay, the worst of
 * each reason first, then the second worst, and so on; named ones all stay and do not count. Gives how many
 * are left. The choice does not depend on the order they come in. */
size_t log_traces_choose(struct log_trace *traces, size_t n, size_t most);

#endif
