/* least_squares.c - see least_squares.h. */
#include "reduce/statistics/least_squares.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/physics/finite.h"

static const double condition_limit = 1e14;
static const double alone = 1e-12; /* 1 - leverage of a row that alone bears a coefficient */

enum { REFINEMENTS = 12 };

struct work {
    const double *x, *y;
    size_t n, p;
    double *length;       /* p, of the columns */
    gsl_matrix *u, *v;    /* of the unit columns */
    gsl_vector *singular; /* p */
    long double *b;       /* p, of the unit columns */
    long double *r;       /* n */
    long double *f;       /* n, y - r - X b */
    long double *g;       /* p, -X' r */
    long double *along;   /* p, U'f - V'g / singular */
};

static void work_free(struct work *work)
{
    free(work->length);
    free(work->b);
    free(work->r);
    free(work->f);
    free(work->g);
    free(work->along);
    gsl_matrix_free(work->u);
    gsl_matrix_free(work->v);
    gsl_vector_free(work->singular);
}

static enum outcome work_allocate(struct work *work)
{
    size_t n = work->n, p = work->p;
    work->length = calloc(p, sizeof *work->length);
    work->b = calloc(p, sizeof *work->b);
    work->r = calloc(n, sizeof *work->r);
    work->f = calloc(n, sizeof *work->f);
    work->g = calloc(p, sizeof *work->g);
    work->along = calloc(p, sizeof *work->along);
    work->u = gsl_matrix_alloc(n, p);
    work->v = gsl_matrix_alloc(p, p);
    work->singular = gsl_vector_alloc(p);
    return work->length != NULL && work->b != NULL && work->r != NULL && work->f != NULL &&
                   work->g != NULL && work->along != NULL && work->u != NULL && work->v != NULL &&
                   work->singular != NULL
               ? OUTCOME_OK
               : OUTCOME_NO_MEMORY;
}

static enum outcome fit_allocate(struct least_squares *fit)
{
    fit->coefficient = calloc(fit->p, sizeof *fit->coefficient);
    fit->error = calloc(fit->p, sizeof *fit->error);
    fit->inflation = calloc(fit->p, sizeof *fit->inflation);
    fit->residual = calloc(fit->n, sizeof *fit->residual);
    fit->leverage = calloc(fit->n, sizeof *fit->leverage);
    return fit->coefficient != NULL && fit->error != NULL && fit->inflation != NULL &&
                   fit->residual != NULL && fit->leverage != NULL
               ? OUTCOME_OK
               : OUTCOME_NO_MEMORY;
}

void least_squares_free(struct least_squares *fit)
{
    free(fit->coefficient);
    free(fit->error);
    free(fit->inflation);
    free(fit->residual);
    free(fit->leverage);
    memset(fit, 0, sizeof *fit);
}

/* Lengths by powers of two near the true ones would keep every bit; a division by the length costs
 * one rounding, which the refinement would take for data. So lengths are powers of two. */
static double near_power_of_two(double length)
{
    int exponent = 0;
    (void)frexp(length, &exponent);
    return ldexp(1.0, exponent);
}

static enum outcome decompose(struct work *work)
{
    for (size_t j = 0; j < work->p; j++) {
        double sum = 0;
        for (size_t i = 0; i < work->n; i++)
            sum = hypot(sum, work->x[i * work->p + j]);
        if (!(sum > 0))
            return OUTCOME_SINGULAR;
        work->length[j] = near_power_of_two(sum);
        for (size_t i = 0; i < work->n; i++)
            gsl_matrix_set(work->u, i, j, work->x[i * work->p + j] / work->length[j]);
    }
    if (gsl_linalg_SV_decomp_jacobi(work->u, work->v, work->singular) != GSL_SUCCESS)
        return OUTCOME_SINGULAR;
    double largest = gsl_vector_get(work->singular, 0);
    double smallest = gsl_vector_get(work->singular, work->p - 1);
    return smallest * condition_limit > largest ? OUTCOME_OK : OUTCOME_SINGULAR;
}

static long double unit_element(const struct work *work, size_t i, size_t j)
{
    return (long double)work->x[i * work->p + j] / work->length[j];
}

/* How far the two equations are from being met. */
static void find_misses(struct work *work)
{
    for (size_t j = 0; j < work->p; j++)
        work->g[j] = 0;
    for (size_t i = 0; i < work->n; i++) {
        long double miss = (long double)work->y[i] - work->r[i];
        for (size_t j = 0; j < work->p; j++) {
            miss -= unit_element(work, i, j) * work->b[j];
            work->g[j] -= unit_element(work, i, j) * work->r[i];
        }
        work->f[i] = miss;
    }
}

/* b += V S^-1 w, r += f - U w, with w = U'f - S^-1 V'g; gives the largest change of b. */
static long double correct(struct work *work)
{
    long double largest = 0;
    for (size_t k = 0; k < work->p; k++) {
        long double sum = 0, across = 0;
        for (size_t i = 0; i < work->n; i++)
            sum += gsl_matrix_get(work->u, i, k) * work->f[i];
        for (size_t j = 0; j < work->p; j++)
            across += gsl_matrix_get(work->v, j, k) * work->g[j];
        work->along[k] = sum - across / gsl_vector_get(work->singular, k);
    }
    for (size_t j = 0; j < work->p; j++) {
        long double change = 0;
        for (size_t k = 0; k < work->p; k++)
            change +=
                gsl_matrix_get(work->v, j, k) * work->along[k] / gsl_vector_get(work->singular, k);
        work->b[j] += change;
        largest = change > largest ? change : -change > largest ? -change : largest;
    }
    for (size_t i = 0; i < work->n; i++) {
        long double change = work->f[i];
        for (size_t k = 0; k < work->p; k++)
            change -= gsl_matrix_get(work->u, i, k) * work->along[k];
        work->r[i] += change;
    }
    return largest;
}

/* Stops when a correction is no longer at most half of the one before: what is left is rounding. */
static void refine(struct work *work)
{
    long double before = 0;
    for (int i = 0; i < REFINEMENTS; i++) {
        find_misses(work);
        long double change = correct(work);
        if (i > 0 && !(change > 0 && change <= before / 2))
            return;
        before = change;
    }
}

static void judge_rows(const struct work *work, struct least_squares *fit)
{
    fit->sum_of_squares = 0;
    fit->press = 0;
    for (size_t i = 0; i < work->n; i++) {
        double leverage = 0;
        for (size_t k = 0; k < work->p; k++)
            leverage += gsl_matrix_get(work->u, i, k) * gsl_matrix_get(work->u, i, k);
        fit->leverage[i] = fmin(leverage, 1.0);
        fit->residual[i] = (double)work->r[i];
        fit->sum_of_squares += fit->residual[i] * fit->residual[i];
        double left_out = fit->residual[i] / (1.0 - fit->leverage[i]);
        fit->press += 1.0 - fit->leverage[i] > alone ? left_out * left_out : (double)INFINITY;
    }
    fit->freedom = (double)(work->n - work->p);
    fit->sd = sqrt(fit->sum_of_squares / fit->freedom);
}

static int is_constant(const struct work *work, size_t j)
{
    for (size_t i = 1; i < work->n; i++)
        if (work->x[i * work->p + j] != work->x[j])
            return 0;
    return 1;
}

/* Sum of squares of a column, about its mean when there is an intercept to take the mean. */
static double spread(const struct work *work, size_t j, int about_mean)
{
    double mean = 0, sum = 0;
    for (size_t i = 0; i < work->n && about_mean; i++)
        mean += work->x[i * work->p + j] / (double)work->n;
    for (size_t i = 0; i < work->n; i++) {
        double off = (work->x[i * work->p + j] - mean) / work->length[j];
        sum += off * off;
    }
    return sum;
}

static void judge_columns(const struct work *work, struct least_squares *fit)
{
    int has_intercept = 0;
    for (size_t j = 0; j < work->p; j++)
        has_intercept = has_intercept || is_constant(work, j);
    for (size_t j = 0; j < work->p; j++) {
        double variance = 0; /* of b of the unit column, over that of y */
        for (size_t k = 0; k < work->p; k++) {
            double share = gsl_matrix_get(work->v, j, k) / gsl_vector_get(work->singular, k);
            variance += share * share;
        }
        fit->coefficient[j] = (double)(work->b[j] / work->length[j]);
        fit->error[j] = fit->sd * sqrt(variance) / work->length[j];
        fit->inflation[j] = is_constant(work, j) ? 0.0 : variance * spread(work, j, has_intercept);
    }
    fit->condition =
        gsl_vector_get(work->singular, 0) / gsl_vector_get(work->singular, work->p - 1);
}

static enum outcome solve(struct work *work, struct least_squares *fit)
{
    enum outcome outcome = work_allocate(work);
    if (outcome == OUTCOME_OK)
        outcome = fit_allocate(fit);
    if (outcome == OUTCOME_OK)
        outcome = decompose(work);
    if (outcome != OUTCOME_OK)
        return outcome;
    refine(work);
    judge_rows(work, fit);
    judge_columns(work, fit);
    return all_finite(fit->coefficient, fit->p) && all_finite(fit->error, fit->p)
               ? OUTCOME_OK
               : OUTCOME_SINGULAR;
}

enum outcome least_squares_fit(const double *x, const double *y, size_t n, size_t p,
                               struct least_squares *fit)
{
    struct work work = {.x = x, .y = y, .n = n, .p = p};
    memset(fit, 0, sizeof *fit);
    if (p == 0 || n <= p)
        return OUTCOME_TOO_FEW;
    if (!all_finite(x, n * p) || !all_finite(y, n))
        return OUTCOME_NOT_FINITE;
    fit->n = n;
    fit->p = p;
    enum outcome outcome = solve(&work, fit);
    work_free(&work);
    if (outcome != OUTCOME_OK)
        least_squares_free(fit);
    return outcome;
}
