/* lag_watch.c - see lag_watch.h. */
#include "ingest/lag_watch.h"

#include <math.h>
#include <stdlib.h>

const double lag_span = 2;
const double lag_bin = 0.05;
const double lag_bin_most = 0.125;

enum { SIDES = 2 * LAG_BINS_MAX + 1 };

struct lag_channel {
    double cross[SIDES], terms[SIDES]; /* at lag k - LAG_BINS_MAX */
    double own[LAG_BINS_MAX + 1], own_terms[LAG_BINS_MAX + 1];
};

static size_t find_wind(const struct log_channel *channels, size_t n)
{
    static const enum role winds[] = {ROLE_TOTAL_MINUS_STATIC, ROLE_CONTRACTION_DROP,
                                      ROLE_DYNAMIC_PRESSURE, ROLE_AIR_SPEED};
    for (size_t w = 0; w < sizeof winds / sizeof winds[0]; w++)
        for (size_t i = 0; i < n; i++)
            if (channels[i].role == winds[w])
                return i;
    return n;
}

enum status lag_watch_make(struct lag_watch *watch, const struct log_channel *channels, size_t n,
                           struct fault *fault)
{
    *watch = (struct lag_watch){.n = n, .wind = find_wind(channels, n)};
    if (watch->wind == n)
        return OK;
    watch->channels = calloc(n, sizeof *watch->channels);
    if (watch->channels == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the lags of a log's channels");
    return OK;
}

void lag_watch_free(struct lag_watch *watch)
{
    free(watch->channels);
    free(watch->room);
    *watch = (struct lag_watch){0};
}

static enum status make_room(struct lag_watch *watch, size_t bins, struct fault *fault)
{
    if (2 * bins <= watch->capacity)
        return OK;
    double *room = realloc(watch->room, 2 * bins * sizeof *room);
    if (room == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the lags of a point");
    watch->room = room;
    watch->capacity = 2 * bins;
    return OK;
}

/* Means of `rows` samples each; 0 when one of them has none. */
static int fill_bins(const double *column, size_t bins, size_t rows, double *out)
{
    for (size_t b = 0; b < bins; b++) {
        double sum = 0;
        size_t present = 0;
        for (size_t i = b * rows; i < (b + 1) * rows; i++) {
            if (isnan(column[i]))
                continue;
            sum += column[i] - column[0];
            present++;
        }
        if (present == 0)
            return 0;
        out[b] = sum / (double)present;
    }
    return !isnan(column[0]);
}

/* Less its straight line, over its standard deviation; 0 when nothing is left. */
static int standardise(double *x, size_t n)
{
    double middle = ((double)n - 1) / 2;
    double mean = 0;
    double slope = 0;
    double times = 0;
    double square = 0;
    for (size_t i = 0; i < n; i++)
        mean += x[i] / (double)n;
    for (size_t i = 0; i < n; i++) {
        slope += ((double)i - middle) * (x[i] - mean);
        times += ((double)i - middle) * ((double)i - middle);
    }
    double before = 0;
    for (size_t i = 0; i < n; i++) {
        before += (x[i] - mean) * (x[i] - mean);
        x[i] -= mean + slope / times * ((double)i - middle);
        square += x[i] * x[i];
    }
    if (!(square > 1e-12 * before)) /* a straight line, but for rounding */
        return 0;
    double deviation = sqrt(square / (double)n);
    for (size_t i = 0; i < n; i++)
        x[i] /= deviation;
    return 1;
}

static double product(const double *x, const double *y, size_t n)
{
    double sum[4] = {0, 0, 0, 0};
    size_t i = 0;
    for (; i + 4 <= n; i += 4)
        for (size_t k = 0; k < 4; k++)
            sum[k] += x[i + k] * y[i + k];
    for (; i < n; i++)
        sum[0] += x[i] * y[i];
    return (sum[0] + sum[1]) + (sum[2] + sum[3]);
}

static void add_channel(struct lag_channel *channel, const double *wind, const double *y,
                        size_t bins, size_t lags)
{
    for (size_t k = 0; k <= lags; k++) {
        double terms = (double)(bins - k);
        channel->own[k] += product(y, y + k, bins - k);
        channel->own_terms[k] += terms;
        channel->cross[LAG_BINS_MAX + k] += product(wind, y + k, bins - k);
        channel->terms[LAG_BINS_MAX + k] += terms;
        if (k == 0)
            continue;
        channel->cross[LAG_BINS_MAX - k] += product(wind + k, y, bins - k);
        channel->terms[LAG_BINS_MAX - k] += terms;
    }
}

enum status lag_watch_take(struct lag_watch *watch, double *const *columns, size_t rows,
                           double step, struct fault *fault)
{
    if (watch->channels == NULL || !(step > 0) || !(step <= lag_bin_most))
        return OK;
    size_t rows_a_bin = step < lag_bin ? (size_t)(lag_bin / step * (1 + 1e-9)) : 1;
    size_t bins = rows / rows_a_bin;
    double width = (double)rows_a_bin * step;
    if (bins < LAG_POINT_BINS || (watch->width > 0 && fabs(width / watch->width - 1) > 0.01))
        return OK;
    enum status status = make_room(watch, bins, fault);
    if (status != OK)
        return status;
    watch->width = width;
    size_t lags = (size_t)(lag_span / width + 0.5);
    lags = lags < bins / 2 ? lags : bins / 2;
    lags = lags < LAG_BINS_MAX ? lags : LAG_BINS_MAX;
    double *wind = watch->room;
    double *y = watch->room + bins;
    if (!fill_bins(columns[watch->wind], bins, rows_a_bin, wind) || !standardise(wind, bins))
        return OK;
    for (size_t i = 0; i < watch->n; i++)
        if (fill_bins(columns[i], bins, rows_a_bin, y) && standardise(y, bins))
            add_channel(&watch->channels[i], wind, y, bins, lags);
    return OK;
}

static double share(const double *sums, const double *terms, size_t k)
{
    return terms[k] > 0 ? sums[k] / terms[k] : 0;
}

/* What the samples of both count for in their correlation. */
static double samples_together(const struct lag_channel *wind, const struct lag_channel *channel,
                               double terms)
{
    double sum = 1;
    for (size_t k = 1; k <= LAG_BINS_MAX; k++)
        sum +=
            2 * share(wind->own, wind->own_terms, k) * share(channel->own, channel->own_terms, k);
    return terms / fmax(sum, 1);
}

static struct wind_lag lag_of(const struct lag_watch *watch, size_t i)
{
    const struct lag_channel *channel = &watch->channels[i];
    struct wind_lag lag = {(double)NAN, (double)NAN, (double)NAN, (double)NAN};
    double largest = 0;
    for (size_t k = 0; k < SIDES; k++) {
        double r = share(channel->cross, channel->terms, k);
        double weight = fabs(r) * sqrt(channel->terms[k]);
        if (!(weight > largest))
            continue;
        largest = weight;
        lag.lag = ((double)k - LAG_BINS_MAX) * watch->width;
        lag.correlation = r;
        lag.samples = samples_together(&watch->channels[watch->wind], channel, channel->terms[k]);
    }
    if (largest > 0)
        lag.unlagged = share(channel->cross, channel->terms, LAG_BINS_MAX);
    return lag;
}

void lag_watch_finish_log(struct lag_watch *watch, const struct log_record *record)
{
    for (size_t i = 0; i < record->n_channels; i++) {
        int is_told = watch->channels != NULL && i < watch->n && i != watch->wind;
        record->channels[i].follows_wind =
            is_told ? lag_of(watch, i)
                    : (struct wind_lag){(double)NAN, (double)NAN, (double)NAN, (double)NAN};
    }
}
