/* kept_trace_words.c - the sentence of a trace; see kept_trace.h. */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "schema/kept_trace.h"

enum { DECIMALS_MAX = 9 };

int kept_trace_decimals(const struct kept_trace *trace)
{
    double least = trace->sd > 0 ? trace->sd : fabs(trace->mean);
    if (!(least > 0) || !isfinite(least))
        return 2;
    double decimals = 2 - floor(log10(least));
    return decimals < 0 ? 0 : decimals > DECIMALS_MAX ? DECIMALS_MAX : (int)decimals;
}

struct words {
    const struct kept_trace *trace;
    char *out;
    size_t used;
};

__attribute__((format(printf, 2, 3))) static void say(struct words *words, const char *format, ...)
{
    va_list values;
    va_start(values, format);
    int length = vsnprintf(words->out + words->used, KEPT_SENTENCE - words->used, format, values);
    va_end(values);
    if (length > 0)
        words->used += (size_t)length;
    if (words->used > KEPT_SENTENCE - 1)
        words->used = KEPT_SENTENCE - 1;
}

static void say_value(struct words *words, double value)
{
    say(words, "%.*f%s%s", kept_trace_decimals(words->trace), value,
        words->trace->unit[0] != '\0' ? " " : "", words->trace->unit);
}

/* "1.32 s into the point", or the row where nothing tells the time. */
static void say_place(struct words *words, size_t row)
{
    if (words->trace->step > 0)
        say(words, "%.2f s into the point", (double)row * words->trace->step);
    else
        say(words, "at row %zu of the point", row + 1);
}

static void say_mean(struct words *words, const char *with)
{
    const struct kept_trace *trace = words->trace;
    if (!isfinite(trace->mean_without)) {
        say(words, "; the mean without %s is not known", with);
        return;
    }
    say(words, "; the mean is ");
    say_value(words, trace->mean);
    say(words, " with %s and ", with);
    say_value(words, trace->mean_without);
    say(words, " without");
    if (trace->sd > 0)
        say(words, ": moved by %+.2g standard deviations",
            (trace->mean - trace->mean_without) / trace->sd);
}

static int is_marked(const struct kept_trace *trace, size_t row)
{
    for (size_t i = 0; i < trace->n_marks; i++)
        if (trace->marks[i].first <= row && row <= trace->marks[i].last)
            return 1;
    return 0;
}

/* How far the one marked sample is from the mean, which the mean without it tells; NAN where that is not
 * known. */
static double marked_distance(const struct kept_trace *trace)
{
    double n = 0;
    for (size_t b = 0; b < trace->n_bins; b++)
        n += trace->bins[b].n;
    return fabs((n - 1) * (trace->mean - trace->mean_without));
}

/* A spike stands out from its neighbours; another sample may be farther from the mean of the point. */
static void say_spike(struct words *words)
{
    const struct kept_trace *trace = words->trace;
    int is_peak = is_marked(trace, trace->peak_row);
    double distance = is_peak ? fabs(trace->peak - trace->mean) : marked_distance(trace);
    say(words, "1 of %zu samples stands out, ", trace->rows);
    say_place(words, trace->n_marks > 0 ? trace->marks[0].first : trace->peak_row);
    if (isfinite(distance))
        say(words, ", %.1f standard deviations of the point from its mean", distance / trace->sd);
    say_mean(words, "it");
}

static void say_spikes(struct words *words)
{
    const struct kept_trace *trace = words->trace;
    if (trace->marked_rows == 1) {
        say_spike(words);
        return;
    }
    say(words, "%zu of %zu samples stand out; ", trace->marked_rows, trace->rows);
    if (is_marked(trace, trace->peak_row)) {
        say(words, "the farthest of them, ");
        say_place(words, trace->peak_row);
        say(words, ", is %.1f standard deviations of the point from its mean",
            fabs(trace->peak - trace->mean) / trace->sd);
    } else {
        say(words, "the first, ");
        say_place(words, trace->n_marks > 0 ? trace->marks[0].first : trace->peak_row);
    }
    say_mean(words, "them");
}

static void say_stuck(struct words *words)
{
    const struct kept_trace *trace = words->trace;
    size_t first = trace->n_marks > 0 ? trace->marks[0].first : 0;
    say(words, "%zu of %zu samples in a row are the same, from ", trace->marked_rows, trace->rows);
    say_place(words, first);
    say_mean(words, "them");
}

static void say_clipped(struct words *words)
{
    const struct kept_trace *trace = words->trace;
    size_t first = trace->n_marks > 0 ? trace->marks[0].first : 0;
    say(words, "%zu of %zu samples lie at an end of the record, the first ", trace->marked_rows,
        trace->rows);
    say_place(words, first);
    say(words, "; what the mean would be without the end is not known");
}

/* The second half of the bins less the first. */
static double half_change(const struct kept_trace *trace)
{
    double sum[2] = {0, 0};
    double n[2] = {0, 0};
    for (size_t b = 0; b < trace->n_bins; b++) {
        size_t half = 2 * b >= trace->n_bins;
        if (trace->bins[b].n == 0)
            continue;
        sum[half] += trace->bins[b].n * (trace->bins[b].mean - trace->mean);
        n[half] += trace->bins[b].n;
    }
    return sum[1] / n[1] - sum[0] / n[0];
}

static void say_trend(struct words *words)
{
    const struct kept_trace *trace = words->trace;
    double change = half_change(trace);
    say(words, "the second half of the point is ");
    say_value(words, fabs(change));
    say(words, " %s the first, %.1f standard deviations of the point",
        change < 0 ? "below" : "above", fabs(change) / trace->sd);
}

static void say_scatter(struct words *words)
{
    const struct kept_trace *trace = words->trace;
    say(words, "the standard deviation within the point is ");
    say_value(words, trace->sd);
    say(words, "; the farthest sample, ");
    say_place(words, trace->peak_row);
    say(words, ", is %.1f of them from the mean", fabs(trace->peak - trace->mean) / trace->sd);
}

static void say_unsteady(struct words *words)
{
    const struct kept_trace *trace = words->trace;
    say(words, "the standard deviation is %.2f %% of the mean; the farthest sample, ",
        100 * trace->sd / fabs(trace->mean));
    say_place(words, trace->peak_row);
    say(words, ", is %.2f %% from it", 100 * fabs(trace->peak / trace->mean - 1));
}

/* A channel that does not move has no standard deviation to be told in. */
static void say_plain(struct words *words)
{
    say(words, "the mean of its %zu rows is ", words->trace->rows);
    say_value(words, words->trace->mean);
}

static const struct {
    const char *reason;
    void (*say)(struct words *words);
} sentences[] = {
    {"spikes", say_spikes},       {"stuck", say_stuck},  {"clipped", say_clipped},
    {"trend", say_trend},         {"kept", say_scatter}, {"noise-unusual", say_scatter},
    {"q-unsteady", say_unsteady},
};

void kept_trace_say(const struct kept_trace *trace, char out[KEPT_SENTENCE])
{
    struct words words = {trace, out, 0};
    void (*write)(struct words *) = say_plain;
    out[0] = '\0';
    for (size_t i = 0; trace->sd > 0 && i < sizeof sentences / sizeof sentences[0]; i++)
        if (strcmp(sentences[i].reason, trace->reason) == 0)
            write = sentences[i].say;
    say(&words, "%.80s at %.80s/%.80s: ", trace->channel, trace->run, trace->point);
    write(&words);
    say(&words, ".");
}
