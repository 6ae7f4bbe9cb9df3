/* trace_marks.c - see trace_marks.h. */
#include "ingest/trace_marks.h"

#include <math.h>
#include <stdlib.h>

#include "ingest/pile_up.h"
#include "ingest/spikes.h"

enum { CANDIDATES_MAX = 4096 };

static const double candidate_deviations = 3.5; /* as spike_watch.c: half the log's limit */

/* A row is added to the last mark where it follows it. 0 without memory; what is too much is counted only. */
static int add_row(struct log_trace *trace, size_t row, size_t most, double residual)
{
    trace->marked_rows++;
    if (isnan(residual) && trace->n_marks > 0 && trace->marks[trace->n_marks - 1].last + 1 == row) {
        trace->marks[trace->n_marks - 1].last = row;
        return 1;
    }
    if (trace->n_marks == most)
        return 1;
    if (trace->marks == NULL)
        trace->marks = malloc(most * sizeof *trace->marks);
    if (trace->marks == NULL)
        return 0;
    trace->marks[trace->n_marks++] = (struct trace_mark){row, row, residual};
    return 1;
}

/* deviations are the samples that are there; what stands out of its window does so less the mean too. */
static int find_spikes(struct log_trace *trace, const struct trace_samples *taken)
{
    const struct channel_statistics *s = taken->statistics;
    double least = candidate_deviations * s->local_deviation;
    size_t n = (size_t)s->n;
    size_t present = 0;
    int is_whole = 1;
    for (size_t row = 0; is_whole && row < taken->rows; row++) {
        if (isnan(taken->samples[row]))
            continue;
        size_t i = present++;
        if (taken->residuals[i] > least && spike_stands_out(taken->deviations, n, i))
            is_whole = add_row(trace, row, CANDIDATES_MAX, taken->residuals[i]);
    }
    return is_whole;
}

static int find_stuck(struct log_trace *trace, const struct trace_samples *taken)
{
    const double *x = taken->samples;
    size_t longest = 0;
    size_t end = 0;
    size_t length = 0;
    for (size_t row = 0; row < taken->rows; row++) {
        if (isnan(x[row])) {
            length = 0;
            continue;
        }
        length = length > 0 && x[row] == x[row - 1] ? length + 1 : 1;
        if (length <= longest)
            continue;
        longest = length;
        end = row;
    }
    for (size_t row = end + 1 - longest; row <= end; row++)
        if (!add_row(trace, row, 1, (double)NAN))
            return 0;
    trace->mean_without = log_trace_mean_without(trace, x);
    return 1;
}

static int find_clipped(struct log_trace *trace, const struct trace_samples *taken)
{
    const struct channel_statistics *s = taken->statistics;
    struct pile_up pile = pile_up_find(taken->deviations, (size_t)s->n, s->minimum - s->mean,
                                       s->maximum - s->mean, s->resolution);
    for (size_t row = 0; row < taken->rows; row++)
        if ((pile.low > 0 && taken->samples[row] == s->minimum) ||
            (pile.high > 0 && taken->samples[row] == s->maximum))
            if (!add_row(trace, row, TRACE_MARKS_MAX, (double)NAN))
                return 0;
    return 1;
}

int trace_marks_find(struct log_trace *trace, const struct trace_samples *taken)
{
    if (trace->reason == TRACE_SPIKES)
        return find_spikes(trace, taken);
    if (trace->reason == TRACE_STUCK)
        return find_stuck(trace, taken);
    if (trace->reason == TRACE_CLIPPED)
        return find_clipped(trace, taken);
    return 1;
}

static int by_residual(const void *left, const void *right)
{
    const struct trace_mark *a = left;
    const struct trace_mark *b = right;
    if (a->residual != b->residual)
        return a->residual > b->residual ? -1 : 1;
    return a->first < b->first ? -1 : a->first > b->first;
}

static int by_row(const void *left, const void *right)
{
    const struct trace_mark *a = left;
    const struct trace_mark *b = right;
    return a->first < b->first ? -1 : a->first > b->first;
}

void trace_marks_keep_spikes(struct log_trace *trace, const struct channel_statistics *s)
{
    size_t spiked = (size_t)s->spiked;
    trace->mean_without = s->mean_without_spikes;
    trace->marked_rows = spiked;
    if (trace->n_marks == 0)
        return;
    qsort(trace->marks, trace->n_marks, sizeof *trace->marks, by_residual);
    trace->n_marks = spiked < trace->n_marks ? spiked : trace->n_marks;
    trace->n_marks = trace->n_marks < TRACE_MARKS_MAX ? trace->n_marks : TRACE_MARKS_MAX;
    qsort(trace->marks, trace->n_marks, sizeof *trace->marks, by_row);
}
