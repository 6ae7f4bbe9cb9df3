/* sample_covariance.c - see sample_covariance.h. */
#include "ingest/sample_covariance.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

int sample_covariance_make(struct sample_covariance *covariance, size_t k)
{
    size_t pairs = k * k + 1;
    *covariance = (struct sample_covariance){.k = k};
    covariance->n = calloc(pairs, sizeof(double));
    covariance->mean = calloc(pairs, sizeof(double));
    covariance->square = calloc(pairs, sizeof(double));
    covariance->product = calloc(pairs, sizeof(double));
    covariance->work = calloc(2 * k + pairs, sizeof(double));
    if (covariance->n != NULL && covariance->mean != NULL && covariance->square != NULL &&
        covariance->product != NULL && covariance->work != NULL)
        return 1;
    sample_covariance_free(covariance);
    return 0;
}

void sample_covariance_free(struct sample_covariance *covariance)
{
    free(covariance->n);
    free(covariance->mean);
    free(covariance->square);
    free(covariance->product);
    free(covariance->work);
    *covariance = (struct sample_covariance){0};
}

static int is_whole(const double *const *columns, size_t k, size_t n)
{
    for (size_t i = 0; i < k; i++)
        for (size_t r = 0; r < n; r++)
            if (isnan(columns[i][r]))
                return 0;
    return 1;
}

/* What one block holds of two channels. */
struct pair_sums {
    double n;
    double mean[2], square[2];
    double product;
};

static void merge_pair(struct sample_covariance *to, size_t i, size_t j, struct pair_sums block)
{
    size_t one = i * to->k + j;
    size_t other = j * to->k + i;
    double before = to->n[one];
    double total = before + block.n;
    if (block.n == 0)
        return;
    const double step[2] = {block.mean[0] - to->mean[one], block.mean[1] - to->mean[other]};
    double weight = before * (block.n / total);
    to->product[one] += block.product + step[0] * step[1] * weight;
    to->square[one] += block.square[0] + step[0] * step[0] * weight;
    to->mean[one] += step[0] * (block.n / total);
    to->n[one] = total;
    if (one == other)
        return;
    to->square[other] += block.square[1] + step[1] * step[1] * weight;
    to->mean[other] += step[1] * (block.n / total);
    to->product[other] = to->product[one];
    to->n[other] = total;
}

/* Row by row, which keeps the sums of all pairs going at once. */
static void add_whole(struct sample_covariance *covariance, const double *const *columns, size_t n)
{
    size_t k = covariance->k;
    double *mean = covariance->work;
    double *row = mean + k;
    double *product = row + k;
    memset(covariance->work, 0, (2 * k + k * k) * sizeof(double));
    for (size_t r = 0; r < n; r++)
        for (size_t i = 0; i < k; i++)
            mean[i] += columns[i][r];
    for (size_t i = 0; i < k; i++)
        mean[i] /= (double)n;
    for (size_t r = 0; r < n; r++) {
        for (size_t i = 0; i < k; i++)
            row[i] = columns[i][r] - mean[i];
        for (size_t i = 0; i < k; i++)
            for (size_t j = i; j < k; j++)
                product[i * k + j] += row[i] * row[j];
    }
    for (size_t i = 0; i < k; i++)
        for (size_t j = i; j < k; j++)
            merge_pair(covariance, i, j,
                       (struct pair_sums){.n = (double)n,
                                          .mean = {mean[i], mean[j]},
                                          .square = {product[i * k + i], product[j * k + j]},
                                          .product = product[i * k + j]});
}

/* Over the rows that both have. */
static struct pair_sums pair_of(const double *x, const double *y, size_t n)
{
    struct pair_sums sums = {0};
    for (size_t r = 0; r < n; r++) {
        if (isnan(x[r]) || isnan(y[r]))
            continue;
        sums.n++;
        sums.mean[0] += x[r];
        sums.mean[1] += y[r];
    }
    for (size_t c = 0; c < 2 && sums.n > 0; c++)
        sums.mean[c] /= sums.n;
    for (size_t r = 0; r < n; r++) {
        double a = x[r] - sums.mean[0];
        double b = y[r] - sums.mean[1];
        if (isnan(a) || isnan(b))
            continue;
        sums.square[0] += a * a;
        sums.square[1] += b * b;
        sums.product += a * b;
    }
    return sums;
}

void sample_covariance_add(struct sample_covariance *covariance, const double *const *columns,
                           size_t n)
{
    size_t k = covariance->k;
    if (k == 0 || n == 0)
        return;
    if (is_whole(columns, k, n)) {
        add_whole(covariance, columns, n);
        return;
    }
    for (size_t i = 0; i < k; i++)
        for (size_t j = i; j < k; j++)
            merge_pair(covariance, i, j, pair_of(columns[i], columns[j], n));
}

static double variance(const struct sample_covariance *of, size_t channel)
{
    size_t at = channel * of->k + channel;
    return of->square[at] / (of->n[at] - 1);
}

static double covariance_of(const struct sample_covariance *of, size_t i, size_t j)
{
    size_t one = i * of->k + j;
    size_t other = j * of->k + i;
    double n = of->n[one];
    if (n < 2)
        return (double)NAN;
    if (n == of->n[i * of->k + i] && n == of->n[j * of->k + j])
        return of->product[one] / (n - 1);
    double size = sqrt(of->square[one] * of->square[other]);
    if (size == 0)
        return 0;
    double r = fmax(-1, fmin(1, of->product[one] / size));
    return r * sqrt(variance(of, i) * variance(of, j));
}

void sample_covariance_finish(struct sample_covariance *covariance, double *out)
{
    size_t pairs = covariance->k * covariance->k;
    for (size_t i = 0; i < covariance->k; i++)
        for (size_t j = 0; j < covariance->k; j++)
            out[i * covariance->k + j] = covariance_of(covariance, i <= j ? i : j, i <= j ? j : i);
    double *const sums[] = {covariance->n, covariance->mean, covariance->square,
                            covariance->product};
    for (size_t i = 0; i < sizeof sums / sizeof sums[0]; i++)
        memset(sums[i], 0, pairs * sizeof(double));
}
