/* sample_statistics.c - see sample_statistics.h. */
#include "ingest/sample_statistics.h"

#include <math.h>

#include "ingest/effective_samples.h"
#include "ingest/spikes.h"

/* Four running sums: the processor adds them side by side, and the order is always the same. */
static double sum_from(const double *x, size_t n, double origin)
{
    double sum[4] = {0, 0, 0, 0};
    size_t i = 0;
    for (; i + 4 <= n; i += 4)
        for (size_t k = 0; k < 4; k++)
            sum[k] += x[i + k] - origin;
    for (; i < n; i++)
        sum[0] += x[i] - origin;
    return (sum[0] + sum[1]) + (sum[2] + sum[3]);
}

static double square_from(const double *x, size_t n, double origin)
{
    double sum[4] = {0, 0, 0, 0};
    size_t i = 0;
    for (; i + 4 <= n; i += 4)
        for (size_t k = 0; k < 4; k++)
            sum[k] += (x[i + k] - origin) * (x[i + k] - origin);
    for (; i < n; i++)
        sum[0] += (x[i] - origin) * (x[i] - origin);
    return (sum[0] + sum[1]) + (sum[2] + sum[3]);
}

struct sample_moments sample_moments_of(const double *samples, size_t n)
{
    struct sample_moments moments = {.n = (double)n, .mean = NAN};
    if (n == 0)
        return moments;
    double rough = sum_from(samples, n, 0) / (double)n;
    moments.mean = rough + sum_from(samples, n, rough) / (double)n;
    double rest = sum_from(samples, n, moments.mean);
    double square = square_from(samples, n, moments.mean) - rest * rest / (double)n;
    moments.square = square > 0 ? square : 0;
    return moments;
}

struct sample_moments sample_moments_merge(struct sample_moments a, struct sample_moments b)
{
    if (a.n == 0)
        return b;
    if (b.n == 0)
        return a;
    double n = a.n + b.n;
    double step = b.mean - a.mean;
    return (struct sample_moments){.n = n,
                                   .mean = a.mean + step * (b.n / n),
                                   .square = a.square + b.square + step * step * a.n * (b.n / n)};
}

double sample_moments_sd(struct sample_moments moments)
{
    return moments.n < 2 ? (double)NAN : sqrt(moments.square / (moments.n - 1));
}

void neighbours_add(struct neighbours *neighbours, const double *samples, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (isnan(samples[i])) {
            neighbours->length = 0;
            continue;
        }
        double step = fabs(samples[i] - neighbours->value);
        int same = neighbours->length > 0 && step == 0;
        if (neighbours->n > 0 && step > 0 && (neighbours->step == 0 || step < neighbours->step))
            neighbours->step = step;
        neighbours->n++;
        neighbours->equal += (size_t)same;
        neighbours->length = same ? neighbours->length + 1 : 1;
        neighbours->value = samples[i];
        if (neighbours->length > neighbours->longest)
            neighbours->longest = neighbours->length;
    }
}

void neighbours_tell(const struct neighbours *neighbours, struct channel_statistics *statistics)
{
    size_t in_longest = neighbours->longest > 0 ? neighbours->longest - 1 : 0;
    statistics->stuck = (double)neighbours->longest;
    statistics->repeated = (double)(neighbours->equal - in_longest);
    statistics->resolution = neighbours->step > 0 ? neighbours->step : (double)NAN;
}

static size_t keep_present(const double *samples, size_t n, double *kept)
{
    size_t present = 0;
    for (size_t i = 0; i < n; i++) {
        kept[present] = samples[i];
        present += isnan(samples[i]) ? 0 : 1;
    }
    return present;
}

static void find_range(const double *x, size_t n, struct channel_statistics *statistics)
{
    double low = n > 0 ? x[0] : (double)NAN;
    double high = low;
    for (size_t i = 1; i < n; i++) {
        low = x[i] < low ? x[i] : low;
        high = x[i] > high ? x[i] : high;
    }
    statistics->minimum = low;
    statistics->maximum = high;
}

/* Equal samples have their own value for mean, without the rounding of a sum. */
static void make_constant(struct channel_statistics *statistics)
{
    statistics->mean = statistics->minimum;
    statistics->sd = 0;
    statistics->mean_first_half = statistics->minimum;
    statistics->mean_second_half = statistics->minimum;
}

static double count_clipped(const double *kept, size_t n, struct channel_range range,
                            const struct channel_statistics *statistics)
{
    if (!isnan(range.low))
        return (double)range_ends_count(kept, n, range);
    struct pile_up pile =
        pile_up_find(kept, n, statistics->minimum, statistics->maximum, statistics->resolution);
    return (double)(pile.low + pile.high);
}

static void judge_spikes(const double *kept, size_t n, double *room,
                         struct channel_statistics *statistics)
{
    double *clean = room + n;
    struct spikes spikes = spikes_find(kept, n, statistics->resolution, room, clean);
    statistics->spiked = (double)spikes.count;
    statistics->local_deviation = spikes.local_deviation;
    statistics->mean_without_spikes = NAN;
    if (n < SPIKE_WINDOW || (double)spikes.count > SPIKE_SHARE_MAX * (double)n)
        return;
    statistics->mean_without_spikes =
        spikes.count == 0 ? statistics->mean : sample_moments_of(clean, spikes.clean).mean;
}

int sample_statistics(const double *samples, size_t n, struct channel_range range, double *room,
                      struct channel_statistics *statistics)
{
    struct neighbours neighbours = {0};
    double *kept = room;
    size_t present = keep_present(samples, n, kept);
    size_t half = present / 2;
    struct sample_moments moments = sample_moments_of(kept, present);

    *statistics = (struct channel_statistics){
        .n = (double)present,
        .n_missing = (double)(n - present),
        .mean = moments.mean,
        .sd = sample_moments_sd(moments),
        .mean_first_half = sample_moments_of(kept, half).mean,
        .mean_second_half = sample_moments_of(kept + half, present - half).mean};
    neighbours_add(&neighbours, samples, n);
    neighbours_tell(&neighbours, statistics);
    find_range(kept, present, statistics);
    if (present >= 2 && statistics->minimum == statistics->maximum)
        make_constant(statistics);
    statistics->clipped = count_clipped(kept, present, range, statistics);
    judge_spikes(kept, present, room + n, statistics);
    for (size_t i = 0; i < present; i++)
        kept[i] -= statistics->mean;
    return effective_samples(kept, present, &statistics->n_effective);
}

struct channel_statistics averaged_statistics(double value, double sd, double count)
{
    int present = !isnan(value);
    return (struct channel_statistics){.n = present ? count : 0,
                                       .n_missing = !present,
                                       .mean = value,
                                       .sd = present ? sd : (double)NAN,
                                       .n_effective = NAN,
                                       .minimum = value,
                                       .maximum = value,
                                       .mean_first_half = NAN,
                                       .mean_second_half = NAN,
                                       .stuck = present,
                                       .mean_without_spikes = NAN,
                                       .local_deviation = NAN,
                                       .resolution = NAN,
                                       .stated = NAN};
}
