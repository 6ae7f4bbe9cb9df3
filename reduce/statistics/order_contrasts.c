/* order_contrasts.c - see order_contrasts.h. */
#include "reduce/statistics/order_contrasts.h"

#include <gsl/gsl_linalg.h>
#include <math.h>

/* Entry of X: 1, then 0/1 of a configuration, then powers of the place on -1 .. 1. */
static double entry(const size_t *order, size_t n, size_t configurations, size_t run, size_t column)
{
    if (column == 0)
        return 1;
    if (column <= configurations)
        return order[run] == column;
    return pow(2 * (double)run / (double)(n - 1) - 1, (double)(column - configurations));
}

static void fill(gsl_matrix *normal, const size_t *order, size_t n, size_t configurations)
{
    for (size_t a = 0; a < normal->size1; a++)
        for (size_t b = 0; b <= a; b++) {
            double sum = 0;
            for (size_t i = 0; i < n; i++)
                sum +=
                    entry(order, n, configurations, i, a) * entry(order, n, configurations, i, b);
            gsl_matrix_set(normal, a, b, sum);
            gsl_matrix_set(normal, b, a, sum);
        }
}

static enum outcome read_contrasts(const gsl_matrix *inverse, size_t configurations, double *factor,
                                   double *correlation)
{
    for (size_t a = 0; a < configurations; a++)
        factor[a] = gsl_matrix_get(inverse, a + 1, a + 1);
    for (size_t a = 0; a < configurations; a++)
        for (size_t b = 0; b < configurations; b++)
            correlation[a * configurations + b] =
                a == b ? 1 : gsl_matrix_get(inverse, a + 1, b + 1) / sqrt(factor[a] * factor[b]);
    return OUTCOME_OK;
}

enum outcome order_contrasts(const size_t *order, size_t n, size_t configurations, size_t degree,
                             double *factor, double *correlation, double *freedom)
{
    if (configurations == 0 || configurations > CONTRASTS_MAX)
        return OUTCOME_SINGULAR;
    /* Asked one by one first: it tells what cannot be told, free of the squares that X'X is made of. */
    for (size_t c = 1; c <= configurations; c++) {
        struct order_worth worth;
        enum outcome outcome = order_worth(order, n, c, degree, &worth);
        if (outcome != OUTCOME_OK)
            return outcome;
        *freedom = worth.freedom;
    }
    gsl_matrix *normal = gsl_matrix_alloc(1 + configurations + degree, 1 + configurations + degree);
    if (normal == NULL)
        return OUTCOME_NO_MEMORY;
    fill(normal, order, n, configurations);
    enum outcome outcome = OUTCOME_SINGULAR;
    if (gsl_linalg_cholesky_decomp1(normal) == 0 && gsl_linalg_cholesky_invert(normal) == 0)
        outcome = read_contrasts(normal, configurations, factor, correlation);
    gsl_matrix_free(normal);
    return outcome;
}
