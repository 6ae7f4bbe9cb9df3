/* folded_channel.c - see folded_channel.h. */
#include "ingest/folded_channel.h"

#include <math.h>
#include <stdlib.h>

#include "ingest/effective_samples.h"
#include "ingest/spikes.h"

static int add_batches(struct folded_channel *folded, const double *samples, size_t rows,
                       double *kept)
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
            if (!isnan(samples[i]))
                kept[present++] = samples[i];
        if (present > 0)
            batches[folded->n_batches++] = sample_moments_of(kept, present);
    }
    return 1;
}

struct span {
    double minimum, maximum;
};

static struct span span_of(const double *kept, size_t n)
{
    struct span span = {kept[0], kept[0]};
    for (size_t i = 1; i < n; i++) {
        span.minimum = fmin(span.minimum, kept[i]);
        span.maximum = fmax(span.maximum, kept[i]);
    }
    return span;
}

/* A block's pile counts where its value goes beyond that of the blocks before, or equals it. */
static void raise_end(struct folded_end *end, double value, size_t count, double outward)
{
    if (count == 0)
        return;
    if (end->count == 0 || outward * (value - end->value) > 0)
        *end = (struct folded_end){value, 0};
    if (value == end->value)
        end->count += (double)count;
}

static void add_piles(struct folded_channel *folded, const double *kept, size_t n, struct span span)
{
    struct pile_up pile =
        pile_up_find(kept, n, span.minimum, span.maximum, folded->neighbours.step);
    raise_end(&folded->low, span.minimum, pile.low, -1);
    raise_end(&folded->high, span.maximum, pile.high, 1);
}

static void add_spikes(struct folded_channel *folded, const double *kept, size_t n, double *room)
{
    double *clean = room + n;
    struct spikes spikes = spikes_find(kept, n, folded->neighbours.step, room, clean);
    folded->spiked += (double)spikes.count;
    folded->clean = sample_moments_merge(folded->clean, sample_moments_of(clean, spikes.clean));
    if (isnan(spikes.local_deviation))
        return;
    folded->deviation += (double)n * spikes.local_deviation;
    folded->deviation_weight += (double)n;
}

static void add_present(struct folded_channel *folded, const double *kept, size_t n,
                        struct channel_range range, double *room)
{
    struct span span = span_of(kept, n);
    int is_first = folded->moments.n == 0;
    folded->minimum = is_first ? span.minimum : fmin(folded->minimum, span.minimum);
    folded->maximum = is_first ? span.maximum : fmax(folded->maximum, span.maximum);
    folded->moments = sample_moments_merge(folded->moments, sample_moments_of(kept, n));
    if (isnan(range.low))
        add_piles(folded, kept, n, span);
    folded->at_range_ends += (double)range_ends_count(kept, n, range);
    add_spikes(folded, kept, n, room);
}

int folded_channel_add(struct folded_channel *folded, const double *samples, size_t rows,
                       struct channel_range range, double *room)
{
    size_t present = 0;
    for (size_t i = 0; i < rows; i++)
        if (!isnan(samples[i]))
            room[present++] = samples[i];
    folded->n_missing += (double)(rows - present);
    neighbours_add(&folded->neighbours, samples, rows);
    if (present > 0)
        add_present(folded, room, present, range, room + rows);
    return add_batches(folded, samples, rows, room);
}

/* Means of the first and the second half, to the nearest whole batch. */
static void batch_halves(const struct folded_channel *folded, struct channel_statistics *out)
{
    struct sample_moments halves[2] = {{0, 0, 0}, {0, 0, 0}};
    for (size_t i = 0; i < folded->n_batches; i++) {
        struct sample_moments *half = &halves[i >= folded->n_batches / 2];
        *half = sample_moments_merge(*half, folded->batches[i]);
    }
    out->mean_first_half = halves[0].n > 0 ? halves[0].mean : (double)NAN;
    out->mean_second_half = halves[1].n > 0 ? halves[1].mean : (double)NAN;
}

static double batch_effective(const struct folded_channel *folded, double *means, double sd)
{
    size_t whole = 0;
    for (size_t i = 0; i < folded->n_batches; i++)
        if (2 * folded->batches[i].n >= POINT_BATCH)
            means[whole++] = folded->batches[i].mean;
    return effective_samples_by_batches(means, whole, sd, folded->moments.n);
}

static double count_clipped(const struct folded_channel *folded, struct channel_range range)
{
    double piled = 0;
    if (!isnan(range.low))
        return folded->at_range_ends;
    if (folded->low.count > 0 && folded->low.value == folded->minimum)
        piled += folded->low.count;
    if (folded->high.count > 0 && folded->high.value == folded->maximum)
        piled += folded->high.count;
    return piled;
}

static void tell_spikes(const struct folded_channel *folded, struct channel_statistics *out)
{
    int is_judged =
        folded->deviation_weight > 0 && folded->spiked <= SPIKE_SHARE_MAX * folded->moments.n;
    out->spiked = folded->spiked;
    out->mean_without_spikes = is_judged ? folded->clean.mean : (double)NAN;
    out->local_deviation =
        folded->deviation_weight > 0 ? folded->deviation / folded->deviation_weight : (double)NAN;
    if (is_judged && folded->spiked == 0)
        out->mean_without_spikes = out->mean;
}

int folded_channel_finish(struct folded_channel *folded, struct channel_range range,
                          struct channel_statistics *out)
{
    int none = folded->moments.n == 0;
    double *means = malloc((folded->n_batches + 1) * sizeof *means);
    if (means == NULL)
        return 0;
    double sd = sample_moments_sd(folded->moments);
    *out = (struct channel_statistics){.n = folded->moments.n,
                                       .n_missing = folded->n_missing,
                                       .mean = none ? (double)NAN : folded->moments.mean,
                                       .sd = sd,
                                       .n_effective = batch_effective(folded, means, sd),
                                       .minimum = none ? (double)NAN : folded->minimum,
                                       .maximum = none ? (double)NAN : folded->maximum,
                                       .clipped = count_clipped(folded, range)};
    neighbours_tell(&folded->neighbours, out);
    batch_halves(folded, out);
    tell_spikes(folded, out);
    free(means);
    folded_channel_free(folded);
    return 1;
}

void folded_channel_free(struct folded_channel *folded)
{
    free(folded->batches);
    *folded = (struct folded_channel){0};
}
