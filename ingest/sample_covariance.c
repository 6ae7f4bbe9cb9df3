/* sample_covariance.c - see sample_covariance.h. */
#include "ingest/sample_covariance.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

int sample_covariance_make(struct sample_covariance *covariance, size_t k)
{
    *covariance = (struct sample_covariance){.k = k};
    covariance->mean = calloc(k + 1, sizeof(double));
    covariance->product = calloc(k * k + 1, sizeof(double));
    covariance->work = calloc(2 * k + k * k + 1, sizeof(double));
    if (covariance->mean != NULL && covariance->product != NULL && covariance->work != NULL)
        return 1;
    sample_covariance_free(covariance);
    return 0;
}

void sample_covariance_free(struct sample_covariance *covariance)
{
    free(covariance->mean);
    free(covariance->product);
    free(covariance->work);
    *covariance = (struct sample_covariance){0};
}

/* The row's values minus origin (NULL: 0); 0 when one is missing. */
static int take_row(const double *const *columns, size_t k, size_t row, const double *origin,
                    double *out)
{
    for (size_t i = 0; i < k; i++) {
        out[i] = columns[i][row] - (origin != NULL ? origin[i] : 0);
        if (isnan(out[i]))
            return 0;
    }
    return 1;
}

static size_t block_means(const double *const *columns, size_t k, size_t n, double *mean,
                          double *row)
{
    size_t rows = 0;
    memset(mean, 0, k * sizeof *mean);
    for (size_t r = 0; r < n; r++) {
        if (!take_row(columns, k, r, NULL, row))
            continue;
        rows++;
        for (size_t i = 0; i < k; i++)
            mean[i] += row[i];
    }
    for (size_t i = 0; i < k && rows > 0; i++)
        mean[i] /= (double)rows;
    return rows;
}

static void block_products(const double *const *columns, size_t k, size_t n, const double *mean,
                           double *row, double *product)
{
    memset(product, 0, k * k * sizeof *product);
    for (size_t r = 0; r < n; r++) {
        if (!take_row(columns, k, r, mean, row))
            continue;
        for (size_t i = 0; i < k; i++)
            for (size_t j = i; j < k; j++)
                product[i * k + j] += row[i] * row[j];
    }
}

void sample_covariance_add(struct sample_covariance *covariance, const double *const *columns,
                           size_t n)
{
    size_t k = covariance->k;
    double *mean = covariance->work;
    double *row = mean + k;
    double *product = row + k;
    double rows = (double)block_means(columns, k, n, mean, row);

    if (k == 0 || rows == 0)
        return;
    block_products(columns, k, n, mean, row, product);
    double total = covariance->n + rows;
    for (size_t i = 0; i < k; i++)
        row[i] = mean[i] - covariance->mean[i]; /* the step, from here on */
    for (size_t i = 0; i < k; i++)
        for (size_t j = i; j < k; j++)
            covariance->product[i * k + j] +=
                product[i * k + j] + row[i] * row[j] * covariance->n * (rows / total);
    for (size_t i = 0; i < k; i++)
        covariance->mean[i] += row[i] * (rows / total);
    covariance->n = total;
}

void sample_covariance_finish(struct sample_covariance *covariance, double *out)
{
    size_t k = covariance->k;
    for (size_t i = 0; i < k; i++) {
        for (size_t j = 0; j < k; j++) {
            size_t upper = i <= j ? i * k + j : j * k + i;
            out[i * k + j] =
                covariance->n < 2 ? (double)NAN : covariance->product[upper] / (covariance->n - 1);
        }
    }
    covariance->n = 0;
    memset(covariance->mean, 0, k * sizeof(double));
    memset(covariance->product, 0, k * k * sizeof(double));
}
