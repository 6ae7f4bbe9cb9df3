/* point_samples.c - see point_samples.h. */
#include "ingest/point_samples.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/effective_samples.h"
#include "ingest/sample_covariance.h"
#include "ingest/sample_statistics.h"
#include "ingest/spikes.h"

/* What is kept of a channel's full blocks. */
struct folded {
    struct sample_moments moments;
    double n_missing;
    double minimum, maximum;
    double spiked;
    struct stuck_run stuck;
    struct sample_moments *batches;
    size_t n_batches;
};

struct point_samples {
    size_t n;
    size_t most;     /* rows of a block */
    size_t rows;     /* in the block */
    size_t capacity; /* rows there is room for */
    size_t blocks;   /* folded of this point */
    double **columns;
    double *kept; /* capacity */
    struct folded *folded;
    size_t *covaried;
    const double **covaried_columns;
    struct sample_covariance covariance;
};

enum status point_samples_make(size_t n, const size_t *covaried, size_t n_covaried, size_t most,
                               struct point_samples **out, struct fault *fault)
{
    struct point_samples *samples = calloc(1, sizeof *samples);

    *out = NULL;
    if (samples == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the samples of a point");
    samples->n = n;
    samples->most = most;
    samples->columns = calloc(n + 1, sizeof *samples->columns);
    samples->folded = calloc(n + 1, sizeof *samples->folded);
    samples->covaried = calloc(n_covaried + 1, sizeof *samples->covaried);
    samples->covaried_columns = calloc(n_covaried + 1, sizeof *samples->covaried_columns);
    if (samples->columns == NULL || samples->folded == NULL || samples->covaried == NULL ||
        samples->covaried_columns == NULL ||
        !sample_covariance_make(&samples->covariance, n_covaried)) {
        point_samples_free(samples);
        return FAIL(fault, NO_MEMORY, "no memory for the samples of a point");
    }
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
        free(samples->folded[i].batches);
    free(samples->columns);
    free(samples->kept);
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
    double *kept = realloc(samples->kept, capacity * sizeof *kept);
    if (kept == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the samples of a point");
    samples->kept = kept;
    for (size_t i = 0; i < samples->n; i++) {
        double *column = realloc(samples->columns[i], capacity * sizeof *column);
        if (column == NULL)
            return FAIL(fault, NO_MEMORY, "no memory for the samples of a point");
        samples->columns[i] = column;
    }
    samples->capacity = capacity;
    return OK;
}

static int add_batches(struct folded *folded, const double *column, size_t rows, double *kept)
{
    size_t more = (rows + POINT_BATCH - 1) / POINT_BATCH;
    struct sample_moments *batches =
        realloc(folded->batches, (folded->n_batches + more) * sizeof *batches);
    if (batches == NULL)
        return 0;
    folded->batches = batches;
    for (size_t from = 0; from < rows; from += POINT_BATCH) {
        size_t length = rows - from < POINT_BATCH ? rows - from : POINT_BATCH;
        size_t present = 0;
        for (size_t i = from; i < from + length; i++)
            if (!isnan(column[i]))
                kept[present++] = column[i];
        if (present > 0)
            batches[folded->n_batches++] = sample_moments_of(kept, present);
    }
    return 1;
}

static int fold_channel(struct point_samples *samples, size_t channel)
{
    struct folded *folded = &samples->folded[channel];
    const double *column = samples->columns[channel];
    size_t present = 0;
    for (size_t i = 0; i < samples->rows; i++) {
        if (isnan(column[i]))
            continue;
        if (folded->moments.n == 0 && present == 0)
            folded->minimum = folded->maximum = column[i];
        folded->minimum = fmin(folded->minimum, column[i]);
        folded->maximum = fmax(folded->maximum, column[i]);
        samples->kept[present++] = column[i];
    }
    folded->n_missing += (double)(samples->rows - present);
    folded->moments =
        sample_moments_merge(folded->moments, sample_moments_of(samples->kept, present));
    folded->spiked += (double)spikes_count(samples->kept, present);
    stuck_run_add(&folded->stuck, column, samples->rows);
    return add_batches(folded, column, samples->rows, samples->kept);
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
        if (!fold_channel(samples, i))
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

/* Means of the first and the second half, to the nearest whole batch. */
static void batch_halves(const struct folded *folded, struct channel_statistics *out)
{
    struct sample_moments halves[2] = {{0, 0, 0}, {0, 0, 0}};
    for (size_t i = 0; i < folded->n_batches; i++) {
        struct sample_moments *half = &halves[i >= folded->n_batches / 2];
        *half = sample_moments_merge(*half, folded->batches[i]);
    }
    out->mean_first_half = halves[0].n > 0 ? halves[0].mean : (double)NAN;
    out->mean_second_half = halves[1].n > 0 ? halves[1].mean : (double)NAN;
}

static double batch_effective(const struct folded *folded, double *means, double sd)
{
    size_t whole = 0;
    for (size_t i = 0; i < folded->n_batches; i++)
        if (2 * folded->batches[i].n >= POINT_BATCH)
            means[whole++] = folded->batches[i].mean;
    return effective_samples_by_batches(means, whole, sd, folded->moments.n);
}

static enum status finish_long(struct point_samples *samples, struct channel_statistics *out,
                               struct fault *fault)
{
    for (size_t i = 0; i < samples->n; i++) {
        struct folded *folded = &samples->folded[i];
        int none = folded->moments.n == 0;
        double *means = malloc((folded->n_batches + 1) * sizeof *means);
        if (means == NULL)
            return FAIL(fault, NO_MEMORY, "no memory for the batch means of a long point");
        double sd = sample_moments_sd(folded->moments);
        out[i] = (struct channel_statistics){.n = folded->moments.n,
                                             .n_missing = folded->n_missing,
                                             .mean = none ? (double)NAN : folded->moments.mean,
                                             .sd = sd,
                                             .n_effective = batch_effective(folded, means, sd),
                                             .minimum = none ? (double)NAN : folded->minimum,
                                             .maximum = none ? (double)NAN : folded->maximum,
                                             .stuck = (double)folded->stuck.longest,
                                             .spiked = folded->spiked};
        batch_halves(folded, &out[i]);
        free(means);
        free(folded->batches);
        *folded = (struct folded){0};
    }
    return OK;
}

enum status point_samples_finish(struct point_samples *samples, struct channel_statistics *out,
                                 double *covariance, struct fault *fault)
{
    enum status status = OK;
    if (samples->blocks > 0) {
        status = fold(samples, fault);
        if (status == OK)
            status = finish_long(samples, out, fault);
    } else {
        covary(samples);
        for (size_t i = 0; i < samples->n && status == OK; i++)
            if (!sample_statistics(samples->columns[i], samples->rows, samples->kept, &out[i]))
                status = FAIL(fault, NO_MEMORY, "no memory for the statistics of a point");
    }
    sample_covariance_finish(&samples->covariance, covariance);
    samples->rows = 0;
    samples->blocks = 0;
    return status;
}
