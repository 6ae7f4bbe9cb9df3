/* log_trace.c - see log_trace.h. */
#include "ingest/log_trace.h"

#include <math.h>
#include <stdlib.h>

#include "schema/flag.h"

const char *trace_reason_code(enum trace_reason reason)
{
    static const enum flag_rule rules[TRACE_REASONS] = {
        [TRACE_SPIKES] = FLAG_SPIKES,       [TRACE_STUCK] = FLAG_STUCK,
        [TRACE_CLIPPED] = FLAG_CLIPPED,     [TRACE_TREND] = FLAG_TREND,
        [TRACE_NOISE] = FLAG_NOISE_UNUSUAL, [TRACE_UNSTEADY] = FLAG_Q_UNSTEADY,
    };
    return reason == TRACE_KEPT ? "kept" : flag_row(rules[reason])->code;
}

void log_trace_end(struct log_trace *trace)
{
    free(trace->bins);
    free(trace->marks);
    free(trace->density);
    *trace = (struct log_trace){0};
}

static struct trace_bin bin_of(const double *samples, size_t n)
{
    const double none = (double)NAN;
    struct trace_bin bin = {0, none, none, none};
    double sum = 0;
    double origin = 0;
    for (size_t i = 0; i < n; i++) {
        if (isnan(samples[i]))
            continue;
        if (bin.n == 0) {
            origin = samples[i];
            bin.minimum = origin;
            bin.maximum = origin;
        }
        bin.n++;
        sum += samples[i] - origin; /* an offset costs no digits */
        bin.minimum = fmin(bin.minimum, samples[i]);
        bin.maximum = fmax(bin.maximum, samples[i]);
    }
    if (bin.n > 0)
        bin.mean = origin + sum / bin.n;
    return bin;
}

static void find_peak(struct log_trace *trace, const double *samples)
{
    double farthest = -1;
    for (size_t i = 0; i < trace->rows; i++) {
        double distance = fabs(samples[i] - trace->mean);
        if (!(distance > farthest))
            continue;
        farthest = distance;
        trace->peak = samples[i];
        trace->peak_row = i;
    }
}

static int fill_spectrum(struct log_trace *trace, const double *deviations,
                         const struct channel_statistics *statistics)
{
    if (!(trace->step > 0) || statistics->n_missing > 0)
        return 1;
    trace->plan = welch_plan_for(trace->rows);
    if (trace->plan.segment == 0)
        return 1;
    double *room = malloc(trace->plan.segment * sizeof *room);
    trace->density = malloc(trace->plan.n * sizeof *trace->density);
    if (room != NULL && trace->density != NULL)
        welch_spectrum(deviations, &trace->plan, 1 / trace->step, room, trace->density);
    free(room);
    return room != NULL && trace->density != NULL;
}

int log_trace_fill(struct log_trace *trace, const double *samples, const double *deviations,
                   const struct channel_statistics *statistics)
{
    size_t rows = trace->rows;
    trace->mean = statistics->mean;
    trace->sd = statistics->sd;
    trace->rows_a_bin = (rows + TRACE_BINS_MAX - 1) / TRACE_BINS_MAX;
    trace->n_bins = (rows + trace->rows_a_bin - 1) / trace->rows_a_bin;
    trace->bins = malloc(trace->n_bins * sizeof *trace->bins);
    if (trace->bins == NULL)
        return 0;
    for (size_t b = 0; b < trace->n_bins; b++) {
        size_t from = b * trace->rows_a_bin;
        size_t left = rows - from;
        trace->bins[b] =
            bin_of(samples + from, left < trace->rows_a_bin ? left : trace->rows_a_bin);
    }
    find_peak(trace, samples);
    return fill_spectrum(trace, deviations, statistics);
}

double log_trace_mean_without(const struct log_trace *trace, const double *samples)
{
    double sum = 0;
    double n = 0;
    size_t mark = 0;
    for (size_t i = 0; i < trace->rows; i++) {
        while (mark < trace->n_marks && trace->marks[mark].last < i)
            mark++;
        if (isnan(samples[i]) || (mark < trace->n_marks && trace->marks[mark].first <= i))
            continue;
        sum += samples[i] - trace->mean;
        n++;
    }
    return n > 0 ? trace->mean + sum / n : (double)NAN;
}

static double badness(const struct log_trace *trace)
{
    return isnan(trace->severity) ? 0 : trace->severity;
}

/* Of one place the worst first. */
static int by_place(const void *left, const void *right)
{
    const struct log_trace *a = left;
    const struct log_trace *b = right;
    if (a->point != b->point)
        return a->point < b->point ? -1 : 1;
    if (a->channel != b->channel)
        return a->channel < b->channel ? -1 : 1;
    if (badness(a) != badness(b))
        return badness(a) > badness(b) ? -1 : 1;
    return a->reason < b->reason ? -1 : a->reason > b->reason;
}

/* Of several of one place, in order, the first stays, named when any of them is. */
static size_t join_places(struct log_trace *traces, size_t n)
{
    size_t left = 0;
    for (size_t i = 0; i < n; i++) {
        struct log_trace *last = left > 0 ? &traces[left - 1] : NULL;
        if (last != NULL && last->point == traces[i].point && last->channel == traces[i].channel) {
            last->is_named |= traces[i].is_named;
            log_trace_end(&traces[i]);
            continue;
        }
        traces[left++] = traces[i];
    }
    return left;
}

/* 1: a is looked at before b, both of one reason and in the order of places. */
static int is_worse(const struct log_trace *traces, size_t a, size_t b)
{
    if (traces[a].severity != traces[b].severity)
        return traces[a].severity > traces[b].severity;
    return a < b;
}

static size_t rank_of(const struct log_trace *traces, size_t n, size_t at)
{
    size_t rank = 0;
    for (size_t i = 0; i < n; i++)
        if (!traces[i].is_named && traces[i].reason == traces[at].reason)
            rank += (size_t)(i != at && is_worse(traces, i, at));
    return rank;
}

/* How many are looked at before it. */
static size_t turn_of(const struct log_trace *traces, size_t n, size_t at)
{
    size_t turn = 0;
    size_t rank = rank_of(traces, n, at);
    for (size_t i = 0; i < n; i++) {
        if (traces[i].is_named || i == at)
            continue;
        size_t other = rank_of(traces, n, i);
        turn += (size_t)(other < rank || (other == rank && traces[i].reason < traces[at].reason));
    }
    return turn;
}

size_t log_traces_choose(struct log_trace *traces, size_t n, size_t most)
{
    size_t left = 0;
    if (n == 0)
        return 0;
    qsort(traces, n, sizeof *traces, by_place);
    n = join_places(traces, n);
    unsigned char *stays = malloc(n);
    for (size_t i = 0; stays != NULL && i < n; i++)
        stays[i] = traces[i].is_named || turn_of(traces, n, i) < most;
    for (size_t i = 0; i < n; i++) {
        if (stays != NULL && stays[i]) {
            traces[left++] = traces[i];
            continue;
        }
        log_trace_end(&traces[i]);
    }
    free(stays);
    return left;
}
