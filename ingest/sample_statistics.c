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

void stuck_run_add(struct stuck_run *run, const double *samples, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (isnan(samples[i])) {
            run->length = 0;
            continue;
        }
        int same = run->length > 0 && samples[i] == run->value;
        run->length = same ? run->length + 1 : 1;
        run->value = samples[i];
        if (run->length > run->longest)
            run->longest = run->length;
    }
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

int sample_statistics(const double *samples, size_t n, double *kept,
                      struct channel_statistics *statistics)
{
    struct stuck_run stuck = {0};
    size_t present = keep_present(samples, n, kept);
    size_t half = present / 2;
    struct sample_moments moments = sample_moments_of(kept, present);

    stuck_run_add(&stuck, samples, n);
    *statistics = (struct channel_statistics){
        .n = (double)present,
        .n_missing = (double)(n - present),
        .mean = moments.mean,
        .sd = sample_moments_sd(moments),
        .mean_first_half = sample_moments_of(kept, half).mean,
        .mean_second_half = sample_moments_of(kept + half, present - half).mean,
        .stuck = (double)stuck.longest,
        .spiked = (double)spikes_count(kept, present)};
    find_range(kept, present, statistics);
    if (present >= 2 && statistics->minimum == statistics->maximum)
        make_constant(statistics);
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
                                       .stuck = present};
}
