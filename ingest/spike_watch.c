/* spike_watch.c - see spike_watch.h. */
#include "ingest/spike_watch.h"

#include <gsl/gsl_sort_double.h>
#include <math.h>
#include <stdlib.h>

#include "ingest/sample_statistics.h"
#include "ingest/spikes.h"

static const double usual_limit = 7;
static const double efficiency = 0.74;
static const double loud_errors = 4;
static const double quiet_errors = 6; /* what is cut off below is far from normal */
static const double other_scatter = 2;
static const double repeating_share = 0.25;

struct candidate {
    size_t point;
    double sample; /* less the mean of its point */
    double residual;
};

struct spike_channel {
    struct candidate *candidates; /* in the order of the points */
    size_t n, capacity;
};

enum status spike_watch_make(struct spike_watch *watch, size_t n, struct fault *fault)
{
    watch->n = n;
    watch->channels = calloc(n + 1, sizeof *watch->channels);
    if (watch->channels == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the spikes of a log's channels");
    return OK;
}

void spike_watch_free(struct spike_watch *watch)
{
    for (size_t i = 0; watch->channels != NULL && i < watch->n; i++)
        free(watch->channels[i].candidates);
    free(watch->channels);
    *watch = (struct spike_watch){NULL, 0};
}

static enum status keep(struct spike_channel *channel, struct candidate candidate,
                        struct fault *fault)
{
    if (channel->n == channel->capacity) {
        size_t capacity = channel->capacity > 0 ? 2 * channel->capacity : 16;
        struct candidate *candidates = realloc(channel->candidates, capacity * sizeof *candidates);
        if (candidates == NULL)
            return FAIL(fault, NO_MEMORY, "no memory for the spikes of a channel");
        channel->candidates = candidates;
        channel->capacity = capacity;
    }
    channel->candidates[channel->n++] = candidate;
    return OK;
}

static int is_judged_here(const struct channel_statistics *statistics)
{
    return statistics->n >= SPIKE_WINDOW && statistics->n < SPIKE_OWN_SAMPLES_MIN;
}

enum status spike_watch_take(struct spike_watch *watch, size_t channel, size_t point,
                             const double *samples, const double *residuals,
                             const struct channel_statistics *statistics, struct fault *fault)
{
    size_t n = (size_t)statistics->n;
    double least = usual_limit / other_scatter * statistics->local_deviation;
    enum status status = OK;
    if (!is_judged_here(statistics))
        return OK;
    for (size_t i = 0; status == OK && i < n; i++)
        if (residuals[i] > least && spike_stands_out(samples, n, i))
            status = keep(&watch->channels[channel],
                          (struct candidate){point, samples[i], residuals[i]}, fault);
    return status;
}

/* NAN with too few points that have one. */
static double usual_deviation(const struct log_record *record, size_t channel, double *room)
{
    size_t n = 0;
    for (size_t p = 0; p < record->n_points; p++) {
        const struct channel_statistics *s = &record->points[p].statistics[channel];
        if (isfinite(s->local_deviation) && s->sd > 0)
            room[n++] = s->local_deviation;
    }
    if (n < SPIKE_POINTS_MIN)
        return (double)NAN;
    gsl_sort(room, 1, n);
    return room[(n - 1) / 2];
}

/* Beyond it a residual is a spike. */
static double limit_for(const struct channel_statistics *point, double usual)
{
    double error = 1 / sqrt(efficiency * point->n);
    double own = point->local_deviation;
    double repeating = (point->stuck + point->repeated) / point->n;
    int is_loud = own / usual > fmin(other_scatter, 1 + loud_errors * error);
    int is_quiet = own / usual < 1 - quiet_errors * error && repeating < repeating_share;
    if (is_loud || is_quiet)
        return spike_limit((size_t)point->n) * own;
    return usual_limit * (point->resolution > usual ? point->resolution : usual);
}

/* Candidates from *at on that are of the point; leaves *at behind them. */
static void settle(const struct spike_channel *channel, size_t point, double usual, size_t *at,
                   struct channel_statistics *statistics)
{
    double limit = limit_for(statistics, usual);
    double sum = 0;
    size_t count = 0;
    for (; *at < channel->n && channel->candidates[*at].point == point; ++*at) {
        if (!(channel->candidates[*at].residual > limit))
            continue;
        sum += channel->candidates[*at].sample;
        count++;
    }
    statistics->spiked = (double)count;
    statistics->mean_without_spikes = (double)NAN;
    if (statistics->spiked <= SPIKE_SHARE_MAX * statistics->n)
        statistics->mean_without_spikes =
            count == 0 ? statistics->mean
                       : statistics->mean - sum / (statistics->n - (double)count);
}

enum status spike_watch_finish_log(struct spike_watch *watch, const struct log_record *record,
                                   struct fault *fault)
{
    double *room = calloc(record->n_points + 1, sizeof *room);
    if (room == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the spikes of a log");
    for (size_t c = 0; c < watch->n; c++) {
        double usual = usual_deviation(record, c, room);
        size_t at = 0;
        for (size_t p = 0; usual > 0 && p < record->n_points; p++)
            if (is_judged_here(&record->points[p].statistics[c]))
                settle(&watch->channels[c], p, usual, &at, &record->points[p].statistics[c]);
    }
    free(room);
    return OK;
}
