/* sample_covariance.h - covariance of several channels over one point, block by block. */
#ifndef LAPWING_SAMPLE_COVARIANCE_H
#define LAPWING_SAMPLE_COVARIANCE_H

#include <stddef.h>

/* Sums over the rows in which every channel is present. */
struct sample_covariance {
    size_t k;        /* channels */
    double n;        /* rows */
    double *mean;    /* k */
    double *product; /* k x k, row-major: sum of (x - mean)(y - mean), upper triangle */
    double *work;    /* 2 k + k k: the block's own sums */
};

/* 1, or 0 without memory. The caller ends it with sample_covariance_free(). */
int sample_covariance_make(struct sample_covariance *covariance, size_t k);
void sample_covariance_free(struct sample_covariance *covariance);

/* Adds a block: columns[i] has n values, NAN for a missing one. Blocks are merged as in Chan, Golub,
 * LeVeque (1983), the product of the two steps in the place of the square. */
void sample_covariance_add(struct sample_covariance *covariance, const double *const *columns,
                           size_t n);

/* Writes k x k covariances (n - 1), NAN with fewer than two rows, and begins anew. */
void sample_covariance_finish(struct sample_covariance *covariance, double *out);

#endif
