/* point_samples.c - see point_samples.h. */
#include "ingest/point_samples.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/folded_channel.h"
#include "ingest/sample_covariance.h"

struct point_samples {
    size_t n;
    size_t most;     /* rows of a block */
    size_t rows;     /* in the block */
    size_t capacity; /* rows there is room for */
    size_t blocks;   /* folded of this point */
    double **columns;
    double *room; /* 3 * capacity */
    struct channel_range *ranges;
    struct folded_channel *folded;
    size_t *covaried;
    const double **covaried_columns;
    struct sample_covariance covariance;
};

enum status point_samples_make(size_t n, const struct channel_range *ranges, const size_t *covaried,
                               size_t n_covaried, size_t most, struct point_samples **out,
                               struct fault *fault)
{
    struct point_samples *samples = calloc(1, sizeof *samples);

    *out = NULL;
    if (samples == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the samples of a point");
    samples->n = n;
    samples->most = most;
    samples->columns = calloc(n + 1, sizeof *samples->columns);
    samples->ranges = calloc(n + 1, sizeof *samples->ranges);
    samples->folded = calloc(n + 1, sizeof *samples->folded);
    samples->covaried = calloc(n_covaried + 1, sizeof *samples->covaried);
    samples->covaried_columns = calloc(n_covaried + 1, sizeof *samples->covaried_columns);
    if (samples->columns == NULL || samples->ranges == NULL || samples->folded == NULL ||
        samples->covaried == NULL || samples->covaried_columns == NULL ||
        !sample_covariance_make(&samples->covariance, n_covaried)) {
        point_samples_free(samples);
        return FAIL(fault, NO_MEMORY, "no memory for the samples of a point");
    }
    for (size_t i = 0; i < n; i++)
        samples->ranges[i] = ranges != NULL ? ranges[i] : (struct channel_range){NAN, NAN};
    for (size_t i = 0; i < n_covaried; i++)
        samples->covaried[i] = covaried[i];
    *out = samples;
    return OK;
}

void point_samples_free(struct point_samples *samples)
{
    if (samples == NULL)
        return;
    for (size_t i = 0; samples->columns != NULL && i < samples->n; i++)
        free(samples->columns[i]);
    for (size_t i = 0; samples->folded != NULL && i < samples->n; i++)
        folded_channel_free(&samples->folded[i]);
    free(samples->columns);
    free(samples->room);
    free(samples->ranges);
    free(samples->folded);
    free(samples->covaried);
    free(samples->covaried_columns);
    sample_covariance_free(&samples->covariance);
    free(samples);
}

static enum status grow(struct point_samples *samples, struct fault *fault)
{
    size_t capacity = samples->capacity > 0 ? 2 * samples->capacity : 1024;
    if (capacity > samples->most)
        capacity = samples->most;
    double *room = realloc(samples->room, 3 * capacity * sizeof *room);
    if (room == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the samples of a point");
    samples->room = room;
    for (size_t i = 0; i < samples->n; i++) {
        double *column = realloc(samples->columns[i], capacity * sizeof *column);
        if (column == NULL)
            return FAIL(fault, NO_MEMORY, "no memory for the samples of a point");
        samples->columns[i] = column;
    }
    samples->capacity = capacity;
    return OK;
}

static void covary(struct point_samples *samples)
{
    for (size_t i = 0; i < samples->covariance.k; i++)
        samples->covaried_columns[i] = samples->columns[samples->covaried[i]];
    if (samples->rows > 0)
        sample_covariance_add(&samples->covariance, samples->covaried_columns, samples->rows);
}

static enum status fold(struct point_samples *samples, struct fault *fault)
{
    for (size_t i = 0; i < samples->n; i++)
        if (!folded_channel_add(&samples->folded[i], samples->columns[i], samples->rows,
                                samples->ranges[i], samples->room))
            return FAIL(fault, NO_MEMORY, "no memory for the batch means of a long point");
    covary(samples);
    samples->rows = 0;
    samples->blocks++;
    return OK;
}

enum status point_samples_add(struct point_samples *samples, const double *row, struct fault *fault)
{
    enum status status = OK;
    if (samples->rows == samples->most)
        status = fold(samples, fault);
    else if (samples->rows == samples->capacity)
        status = grow(samples, fault);
    if (status != OK)
        return status;
    for (size_t i = 0; i < samples->n; i++)
        samples->columns[i][samples->rows] = row[i];
    samples->rows++;
    return OK;
}

static enum status finish_long(struct point_samples *samples, struct channel_statistics *out,
                               struct fault *fault)
{
    for (size_t i = 0; i < samples->n; i++)
        if (!folded_channel_finish(&samples->folded[i], samples->ranges[i], &out[i]))
            return FAIL(fault, NO_MEMORY, "no memory for the batch means of a long point");
    return OK;
}

/* What sample_statistics() left in the room goes to those who ask for the samples themselves. */
static enum status show(const struct point_samples *samples, size_t channel,
                        struct point_watch *watch, const struct channel_statistics *statistics,
                        struct fault *fault)
{
    const double *residuals = samples->room + samples->rows;
    const struct trace_samples taken = {.channel = channel,
                                        .point = watch->point,
                                        .samples = samples->columns[channel],
                                        .rows = samples->rows,
                                        .step = watch->step,
                                        .deviations = samples->room,
                                        .residuals = residuals,
                                        .statistics = statistics};
    enum status status = spike_watch_take(&watch->spikes, channel, watch->point, samples->room,
                                          residuals, statistics, fault);
    return status != OK ? status : trace_watch_take(&watch->traces, &taken, fault);
}

static enum status finish_short(struct point_samples *samples, struct point_watch *watch,
                                struct channel_statistics *out, struct fault *fault)
{
    enum status status = OK;
    covary(samples);
    for (size_t i = 0; status == OK && i < samples->n; i++) {
        if (!sample_statistics(samples->columns[i], samples->rows, samples->ranges[i],
                               samples->room, &out[i]))
            return FAIL(fault, NO_MEMORY, "no memory for the statistics of a point");
        if (watch != NULL)
            status = show(samples, i, watch, &out[i], fault);
    }
    if (status == OK && watch != NULL)
        status = lag_watch_take(&watch->lags, samples->columns, samples->rows, watch->step, fault);
    return status;
}

enum status point_samples_finish(struct point_samples *samples, struct point_watch *watch,
                                 struct channel_statistics *out, double *covariance,
                                 struct fault *fault)
{
    enum status status = OK;
    if (samples->blocks > 0) {
        status = fold(samples, fault);
        if (status == OK)
            status = finish_long(samples, out, fault);
    } else {
        status = finish_short(samples, watch, out, fault);
    }
    sample_covariance_finish(&samples->covariance, covariance);
    samples->rows = 0;
    samples->blocks = 0;
    return status;
}
