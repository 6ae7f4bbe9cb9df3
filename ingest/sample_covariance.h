/* sample_covariance.h - covariance of several channels over one point, block by block.
 *
 * Of two channels over the rows in which both are present, since a slow channel (hold: blank) must not
 * take the rows of the others from them. So that what comes out is one matrix all the same,
 *
 *   C_ij = r_ij s_i s_j
 *
 * with s the standard deviation of each channel over all its own samples, and r the correlation over the
 * rows that both have; |r| <= 1. Where the two have every sample in common that is the usual sample
 * covariance, and it is computed as such. Source: pairwise deletion, common practice, no source.     */
#ifndef LAPWING_SAMPLE_COVARIANCE_H
#define LAPWING_SAMPLE_COVARIANCE_H

#include <stddef.h>

/* Sums of every pair, k x k, row-major: [i k + j] is of channel i over the rows that j has too. */
struct sample_covariance {
    size_t k;
    double *n;       /* rows; symmetric */
    double *mean;    /* of channel i */
    double *square;  /* sum of (x_i - mean)^2 */
    double *product; /* sum of (x_i - mean)(x_j - mean), symmetric */
    double *work;    /* 2 k + k k: sums of a block in which nothing is missing */
};

/* 1, or 0 without memory. The caller ends it with sample_covariance_free(). */
int sample_covariance_make(struct sample_covariance *covariance, size_t k);
void sample_covariance_free(struct sample_covariance *covariance);

/* Adds a block: columns[i] has n values, NAN for a missing one. Blocks are merged as in Chan, Golub,
 * LeVeque (1983), the product of the two steps in the place of the square. */
void sample_covariance_add(struct sample_covariance *covariance, const double *const *columns,
                           size_t n);

/* Writes k x k covariances (n - 1), and begins anew. NAN with fewer than two rows in common; 0 where one
 * of the two is constant in them. */
void sample_covariance_finish(struct sample_covariance *covariance, double *out);

#endif
