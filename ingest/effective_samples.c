/* effective_samples.c - see effective_samples.h. */
#include "ingest/effective_samples.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_fft_halfcomplex.h>
#include <gsl/gsl_fft_real.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    SAMPLES_MIN = 16,
    EFFECTIVE_MIN = 10, /* 20 integral times */
    DIRECT_LAGS = 64    /* summed directly; beyond them one transform gives all */
};

static double lagged_sum(const double *x, size_t n, size_t lag)
{
    double sum[4] = {0, 0, 0, 0};
    size_t end = n - lag;
    size_t i = 0;
    for (; i + 4 <= end; i += 4)
        for (size_t k = 0; k < 4; k++)
            sum[k] += x[i + k] * x[i + k + lag];
    for (; i < end; i++)
        sum[0] += x[i] * x[i + lag];
    return (sum[0] + sum[1]) + (sum[2] + sum[3]);
}

/* The running sum of pairs; all covariances times n. */
struct sequence {
    double zero; /* g_0 */
    double pairs;
    size_t n;
    int ended;     /* 1: a pair was not positive */
    int too_short; /* 1: the integral time outgrew the record */
};

/* Adds the pair of lags 2m and 2m + 1. */
static void add_pair(struct sequence *sequence, double even, double odd)
{
    double pair = even + odd;
    if (!(pair > 0)) {
        sequence->ended = 1;
        return;
    }
    sequence->pairs += pair;
    double ratio = (2 * sequence->pairs - sequence->zero) / sequence->zero;
    if (ratio * EFFECTIVE_MIN > (double)sequence->n)
        sequence->too_short = 1;
}

static int is_decided(const struct sequence *sequence)
{
    return sequence->ended || sequence->too_short;
}

/* All lagged sums by the transform of the record, padded with zeros so that it does not wrap. */
static int transformed(const double *x, size_t n, double **sums, size_t *size)
{
    *size = 1;
    while (*size < 2 * n)
        *size *= 2;
    double *work = calloc(*size, sizeof *work);
    *sums = work;
    if (work == NULL)
        return 0;
    memcpy(work, x, n * sizeof *work);
    if (gsl_fft_real_radix2_transform(work, 1, *size) != GSL_SUCCESS)
        return 0;
    size_t half = *size / 2;
    work[0] *= work[0];
    work[half] *= work[half];
    for (size_t k = 1; k < half; k++) {
        double real = work[k];
        double imaginary = work[*size - k];
        work[k] = real * real + imaginary * imaginary;
        work[*size - k] = 0;
    }
    return gsl_fft_halfcomplex_radix2_inverse(work, 1, *size) == GSL_SUCCESS;
}

static int add_transformed(struct sequence *sequence, const double *x, size_t from)
{
    double *sums = NULL;
    size_t size = 0;
    int done = transformed(x, sequence->n, &sums, &size);
    for (size_t lag = from; done && lag + 1 < sequence->n && !is_decided(sequence); lag += 2)
        add_pair(sequence, sums[lag], sums[lag + 1]);
    free(sums);
    return done;
}

int effective_samples(const double *centred, size_t n, double *n_effective)
{
    struct sequence sequence = {.n = n};
    size_t lag = 0;

    *n_effective = NAN;
    if (n < SAMPLES_MIN)
        return 1;
    sequence.zero = lagged_sum(centred, n, 0);
    if (sequence.zero == 0) {
        *n_effective = (double)n;
        return 1;
    }
    for (; lag < DIRECT_LAGS && lag + 1 < n && !is_decided(&sequence); lag += 2)
        add_pair(&sequence, lag == 0 ? sequence.zero : lagged_sum(centred, n, lag),
                 lagged_sum(centred, n, lag + 1));
    if (!is_decided(&sequence) && !add_transformed(&sequence, centred, lag))
        return 0;
    if (sequence.too_short)
        return 1;
    double variance = 2 * sequence.pairs - sequence.zero;
    *n_effective =
        variance > sequence.zero / (double)n ? (double)n * sequence.zero / variance : (double)n;
    return 1;
}

double effective_samples_by_batches(const double *batch_means, size_t batches, double sd, double n)
{
    double mean = 0;
    double square = 0;
    if (batches < SAMPLES_MIN)
        return NAN;
    for (size_t i = 0; i < batches; i++)
        mean += batch_means[i] / (double)batches;
    for (size_t i = 0; i < batches; i++)
        square += (batch_means[i] - mean) * (batch_means[i] - mean);
    double variance = square / (double)(batches - 1);
    if (variance == 0)
        return n;
    double effective = sd * sd * (double)batches / variance;
    if (effective < EFFECTIVE_MIN)
        return NAN;
    return effective < n ? effective : n;
}
