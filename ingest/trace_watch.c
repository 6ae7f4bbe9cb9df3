/* trace_watch.c - see trace_watch.h. */
#include "ingest/trace_watch.h"

#include <gsl/gsl_sort_double.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/spikes.h"
#include "ingest/trace_marks.h"

const double trace_spiked_limit = 0.001;
const double trace_clipped_limit = 0.005;
const double trace_chance_limit = 1e-6;
const double trace_repeat_limit = 0.5;
const double trace_noise_factor = 3;
const double trace_unsteady_limit = 0.002;
const double trace_trend_limit = 1;

enum { NOISE_POINTS_MIN = 4, OUTSIDE_MIN = 100 };

static const double spike_screen = 5; /* local deviations; the log's own limit is 7 */
static const double far_from_mean = 0.8;
static const double unsteady_most = 0.1; /* of the mean: beyond it the wind is off */

struct trace_channel {
    int is_named, is_load, is_wind;
    double points, log_sd; /* so far that moved, and the mean of the logarithm of their sd */
};

static int is_wind(enum role role)
{
    return role == ROLE_TOTAL_MINUS_STATIC || role == ROLE_CONTRACTION_DROP ||
           role == ROLE_NOZZLE_DROP || role == ROLE_PLENUM_DROP || role == ROLE_DYNAMIC_PRESSURE;
}

/* Heights are set and swept: that they move within a point is what they are for. */
static int is_load(enum role role)
{
    return (role >= ROLE_BALANCE_OUTPUT_1 && role <= ROLE_YAW_COEFFICIENT) ||
           (role >= ROLE_WHEEL_DRAG_FRONT_LEFT && role <= ROLE_BELT_LOAD);
}

static int is_named(const struct log_channel *channel, const struct text_list *keep)
{
    for (size_t i = 0; keep != NULL && i < keep->n; i++) {
        const char *name = keep->text[i];
        if (strcmp(name, role_name(channel->role)) == 0 || strcmp(name, channel->column) == 0 ||
            (channel->tap != NULL && strcmp(name, channel->tap) == 0))
            return 1;
    }
    return 0;
}

enum status trace_watch_make(struct trace_watch *watch, const struct log_channel *channels,
                             size_t n, const struct text_list *keep, struct fault *fault)
{
    *watch = (struct trace_watch){.channels = channels, .n = n};
    watch->seen = calloc(n + 1, sizeof *watch->seen);
    if (watch->seen == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the traces of a log");
    for (size_t i = 0; i < n; i++)
        watch->seen[i] = (struct trace_channel){.is_named = is_named(&channels[i], keep),
                                                .is_load = is_load(channels[i].role),
                                                .is_wind = is_wind(channels[i].role)};
    return OK;
}

void trace_watch_free(struct trace_watch *watch)
{
    for (size_t i = 0; i < watch->n_held; i++)
        log_trace_end(&watch->held[i]);
    free(watch->held);
    free(watch->seen);
    *watch = (struct trace_watch){0};
}

/* ---- how bad each reason is: what is seen over its limit ------------------------------------------ */

/* A spike has to be an extreme of the record, or nearly: few channels are looked at sample by sample. */
static double spikes_severity(const struct trace_samples *taken)
{
    const struct channel_statistics *s = taken->statistics;
    double least = spike_screen * s->local_deviation;
    double found = 0;
    if (s->n < SPIKE_WINDOW ||
        !(fmax(s->maximum - s->mean, s->mean - s->minimum) > far_from_mean * least))
        return 0;
    if (s->spiked > 0)
        return s->spiked / s->n / trace_spiked_limit;
    for (size_t i = 0; i < (size_t)s->n; i++)
        found += taken->residuals[i] > least;
    return found / s->n / trace_spiked_limit;
}

static double stuck_severity(const struct channel_statistics *s)
{
    double outside = s->n - s->stuck;
    double share = (s->repeated + 1) / (outside + 2);
    if (!(s->stuck > 1) || !(outside >= fmin(OUTSIDE_MIN, s->n / 2)) ||
        !(share <= trace_repeat_limit))
        return 0;
    return s->stuck / (1 + log(trace_chance_limit / s->n) / log(share));
}

static double trend_severity(const struct channel_statistics *s)
{
    return fabs(s->mean_second_half - s->mean_first_half) / s->sd / trace_trend_limit;
}

static double noise_severity(double sd, double usual)
{
    return exp(fabs(log(sd / usual))) / trace_noise_factor;
}

/* Against the points so far; the log's end asks them all. */
static double noise_so_far(struct trace_channel *seen, const struct channel_statistics *s)
{
    double severity = 0;
    double own = log(s->sd);
    if (seen->points > 0)
        severity = noise_severity(s->sd, exp(seen->log_sd));
    seen->points++;
    seen->log_sd += (own - seen->log_sd) / seen->points;
    return severity;
}

/* Severity by reason: below 1, or NAN, is none. */
static void judge(struct trace_watch *watch, const struct trace_samples *taken,
                  double severity[TRACE_REASONS])
{
    struct trace_channel *seen = &watch->seen[taken->channel];
    const struct channel_statistics *s = taken->statistics;
    for (int reason = 0; reason < TRACE_REASONS; reason++)
        severity[reason] = 0;
    if (!(s->sd > 0))
        return;
    severity[TRACE_NOISE] = noise_so_far(seen, s);
    severity[TRACE_SPIKES] = spikes_severity(taken);
    severity[TRACE_STUCK] = stuck_severity(s);
    severity[TRACE_CLIPPED] = s->clipped / s->n / trace_clipped_limit;
    if (seen->is_load || seen->is_wind)
        severity[TRACE_TREND] = trend_severity(s);
    if (seen->is_wind && s->sd < unsteady_most * fabs(s->mean))
        severity[TRACE_UNSTEADY] = s->sd / fabs(s->mean) / trace_unsteady_limit;
}

/* ---- holding the worst -------------------------------------------------------------------------- */

/* The least bad of those held for this reason, of one channel or (SIZE_MAX) of all; how many in *n. */
static size_t least_bad(const struct trace_watch *watch, enum trace_reason reason, size_t channel,
                        size_t *n)
{
    size_t least = watch->n_held;
    *n = 0;
    for (size_t i = 0; i < watch->n_held; i++) {
        const struct log_trace *held = &watch->held[i];
        if (held->is_named || held->reason != reason ||
            (channel != SIZE_MAX && held->channel != channel))
            continue;
        ++*n;
        if (least == watch->n_held || held->severity <= watch->held[least].severity)
            least = i;
    }
    return least;
}

static void let_go(struct trace_watch *watch, size_t at)
{
    log_trace_end(&watch->held[at]);
    for (size_t i = at + 1; i < watch->n_held; i++)
        watch->held[i - 1] = watch->held[i];
    watch->n_held--;
}

/* Makes room where as many are held as may be; 0 when what comes is no worse than they. */
static int displaces(struct trace_watch *watch, const struct log_trace *trace)
{
    static const size_t most[] = {TRACES_A_CHANNEL, TRACES_A_RUN};
    const size_t of[] = {trace->channel, SIZE_MAX};
    for (size_t i = 0; i < 2; i++) {
        size_t n = 0;
        size_t least = least_bad(watch, trace->reason, of[i], &n);
        if (n < most[i])
            continue;
        if (watch->held[least].severity >= trace->severity)
            return 0;
        let_go(watch, least);
    }
    return 1;
}

static int has_room(struct trace_watch *watch)
{
    if (watch->n_held < watch->capacity)
        return 1;
    size_t capacity = watch->capacity > 0 ? 2 * watch->capacity : 16;
    struct log_trace *held = realloc(watch->held, capacity * sizeof *held);
    if (held == NULL)
        return 0;
    watch->held = held;
    watch->capacity = capacity;
    return 1;
}

static enum status hold(struct trace_watch *watch, const struct trace_samples *taken,
                        enum trace_reason reason, double severity, struct fault *fault)
{
    struct log_trace trace = {.point = taken->point,
                              .channel = taken->channel,
                              .reason = reason,
                              .is_named = reason == TRACE_KEPT,
                              .severity = severity,
                              .step = taken->step,
                              .rows = taken->rows,
                              .mean_without = (double)NAN};
    if (!trace.is_named && !displaces(watch, &trace))
        return OK;
    if (!has_room(watch) ||
        !log_trace_fill(&trace, taken->samples, taken->deviations, taken->statistics) ||
        !trace_marks_find(&trace, taken)) {
        log_trace_end(&trace);
        return FAIL(fault, NO_MEMORY, "no memory for the traces of a log");
    }
    watch->held[watch->n_held++] = trace;
    return OK;
}

/* One for every reason: which of them the log bears out is not known yet. */
enum status trace_watch_take(struct trace_watch *watch, const struct trace_samples *taken,
                             struct fault *fault)
{
    double severity[TRACE_REASONS];
    enum status status = OK;
    if (taken->statistics->n == 0)
        return OK;
    judge(watch, taken, severity);
    if (watch->seen[taken->channel].is_named)
        status = hold(watch, taken, TRACE_KEPT, (double)NAN, fault);
    for (int reason = TRACE_KEPT + 1; reason < TRACE_REASONS && status == OK; reason++)
        if (severity[reason] >= 1)
            status = hold(watch, taken, (enum trace_reason)reason, severity[reason], fault);
    return status;
}

/* ---- the end of the log -------------------------------------------------------------------------- */

static double usual_sd(const struct log_record *record, size_t channel, double *room)
{
    size_t n = 0;
    for (size_t p = 0; p < record->n_points; p++)
        if (record->points[p].statistics[channel].sd > 0)
            room[n++] = record->points[p].statistics[channel].sd;
    gsl_sort(room, 1, n);
    return n > NOISE_POINTS_MIN ? room[(n - 1) / 2] : (double)NAN;
}

/* What the log as a whole makes of it; below 1 it was chance. */
static double settled(const struct log_record *record, const struct log_trace *trace, double *room)
{
    const struct channel_statistics *s = &record->points[trace->point].statistics[trace->channel];
    if (trace->reason == TRACE_SPIKES)
        return s->spiked / s->n / trace_spiked_limit;
    if (trace->reason == TRACE_NOISE)
        return noise_severity(s->sd, usual_sd(record, trace->channel, room));
    return trace->severity;
}

/* 1: it stays. */
static int settle(const struct log_record *record, struct log_trace *trace, double *room)
{
    if (trace->reason == TRACE_KEPT)
        return 1;
    trace->severity = settled(record, trace, room);
    if (trace->reason == TRACE_SPIKES && trace->severity >= 1)
        trace_marks_keep_spikes(trace, &record->points[trace->point].statistics[trace->channel]);
    return trace->severity >= 1;
}

enum status trace_watch_finish_log(struct trace_watch *watch, struct log_record *record,
                                   struct fault *fault)
{
    size_t left = 0;
    double *room = malloc((record->n_points + 1) * sizeof *room);
    if (room == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the traces of a log");
    for (size_t i = 0; i < watch->n_held; i++) {
        if (settle(record, &watch->held[i], room))
            watch->held[left++] = watch->held[i];
        else
            log_trace_end(&watch->held[i]);
    }
    free(room);
    record->traces = watch->held;
    record->n_traces = left;
    watch->held = NULL;
    watch->n_held = 0;
    watch->capacity = 0;
    return OK;
}
