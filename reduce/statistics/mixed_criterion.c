/* mixed_criterion.c - see mixed_criterion.h. */
#include "reduce/statistics/mixed_criterion.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double two_pi = 6.283185307179586;

/* Of a diagonal of the triangle of unit columns: below it a column adds only rounding. */
static const double LEAST_PIVOT = 1e-10;

/* Rest over y, both as lengths: below it the fit is exact but for rounding. */
static const double LEAST_REST = 1e-13;

static double *numbers(size_t count)
{
    return calloc(count > 0 ? count : 1, sizeof(double));
}

static gsl_matrix_view square(double *of, size_t n)
{
    return gsl_matrix_view_array(of, n, n);
}

void mixed_work_free(struct mixed_work *work)
{
    free(work->start);
    free(work->rest);
    free(work->h);
    free(work->whitened);
    free(work->cross);
    free(work->unscaled);
    free(work->weighted);
    free(work->carrier);
    free(work->p);
    free(work->py);
    free(work->pk);
    free(work->kpy);
    free(work->pkpy);
    memset(work, 0, sizeof *work);
}

static enum outcome allocate(struct mixed_work *work)
{
    size_t n = work->data->n, p = work->data->p, k = work->data->components;

    work->start = numbers(p);
    work->rest = numbers(n);
    work->h = numbers(n * n);
    work->whitened = numbers(n * (p + 1));
    work->cross = numbers((p + 1) * (p + 1));
    work->unscaled = numbers(p * p);
    work->weighted = numbers(n * p);
    work->carrier = numbers(n * p);
    work->p = numbers(n * n);
    work->py = numbers(n);
    work->pk = numbers(k * n * n);
    work->kpy = numbers(k * n);
    work->pkpy = numbers(n);
    return work->start != NULL && work->rest != NULL && work->h != NULL && work->whitened != NULL &&
                   work->cross != NULL && work->unscaled != NULL && work->weighted != NULL &&
                   work->carrier != NULL && work->p != NULL && work->py != NULL &&
                   work->pk != NULL && work->kpy != NULL && work->pkpy != NULL
               ? OUTCOME_OK
               : OUTCOME_NO_MEMORY;
}

/* Columns against the span of those before them: the diagonal of the triangle, over their lengths. */
static int columns_depend(const gsl_matrix *triangle, const double *x, size_t n, size_t p)
{
    for (size_t j = 0; j < p; j++) {
        double length = 0;
        for (size_t i = 0; i < n; i++)
            length = hypot(length, x[i * p + j]);
        if (!(fabs(gsl_matrix_get(triangle, j, j)) > LEAST_PIVOT * length))
            return 1;
    }
    return 0;
}

static enum outcome take_least_squares(struct mixed_work *work, gsl_matrix *qr, gsl_vector *tau)
{
    const struct mixed_data *data = work->data;
    gsl_vector_view start = gsl_vector_view_array(work->start, data->p);
    gsl_vector_view rest = gsl_vector_view_array(work->rest, data->n);
    gsl_vector_const_view y = gsl_vector_const_view_array(data->y, data->n);
    gsl_matrix_const_view x = gsl_matrix_const_view_array(data->x, data->n, data->p);

    gsl_matrix_memcpy(qr, &x.matrix);
    gsl_linalg_QR_decomp(qr, tau);
    if (columns_depend(qr, data->x, data->n, data->p))
        return OUTCOME_SINGULAR;
    gsl_linalg_QR_lssolve(qr, tau, &y.vector, &start.vector, &rest.vector);
    return gsl_blas_dnrm2(&rest.vector) > LEAST_REST * gsl_blas_dnrm2(&y.vector) ? OUTCOME_OK
                                                                                 : OUTCOME_SINGULAR;
}

enum outcome mixed_work_start(struct mixed_work *work, const struct mixed_data *data)
{
    memset(work, 0, sizeof *work);
    work->data = data;
    enum outcome outcome = allocate(work);
    if (outcome != OUTCOME_OK)
        return outcome;
    gsl_matrix *qr = gsl_matrix_alloc(data->n, data->p);
    gsl_vector *tau = gsl_vector_alloc(data->p);
    outcome = qr != NULL && tau != NULL ? take_least_squares(work, qr, tau) : OUTCOME_NO_MEMORY;
    gsl_matrix_free(qr);
    gsl_vector_free(tau);
    return outcome;
}

static void fill_h(struct mixed_work *work, const double *ratio)
{
    const struct mixed_data *data = work->data;
    size_t n = data->n;

    memset(work->h, 0, n * n * sizeof *work->h);
    for (size_t i = 0; i < n; i++)
        work->h[i * n + i] = 1;
    for (size_t k = 0; k < data->components; k++)
        for (size_t i = 0; i < n * n && ratio[k] > 0; i++)
            work->h[i] += ratio[k] * data->covariance[k][i];
}

static void fill_whitened(struct mixed_work *work)
{
    size_t n = work->data->n, p = work->data->p;

    for (size_t i = 0; i < n; i++) {
        memcpy(work->whitened + i * (p + 1), work->data->x + i * p, p * sizeof(double));
        work->whitened[i * (p + 1) + p] = work->rest[i];
    }
}

/* Twice the logarithm of the product of the first n diagonal elements of a factor. */
static double log_determinant(const gsl_matrix *factor, size_t n)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        sum += 2 * log(gsl_matrix_get(factor, i, i));
    return sum;
}

double mixed_criterion(struct mixed_work *work, const double *ratio)
{
    size_t n = work->data->n, p = work->data->p;
    gsl_matrix_view h = square(work->h, n);
    gsl_matrix_view cross = square(work->cross, p + 1);
    gsl_matrix_view whitened = gsl_matrix_view_array(work->whitened, n, p + 1);

    fill_h(work, ratio);
    fill_whitened(work);
    if (gsl_linalg_cholesky_decomp1(&h.matrix) != 0)
        return INFINITY;
    gsl_blas_dtrsm(CblasLeft, CblasLower, CblasNoTrans, CblasNonUnit, 1, &h.matrix,
                   &whitened.matrix);
    gsl_blas_dgemm(CblasTrans, CblasNoTrans, 1, &whitened.matrix, &whitened.matrix, 0,
                   &cross.matrix);
    if (gsl_linalg_cholesky_decomp1(&cross.matrix) != 0)
        return INFINITY;
    double freedom = (double)(n - p);
    double root = gsl_matrix_get(&cross.matrix, p, p);
    work->variance = root * root / freedom;
    return freedom * (1 + log(two_pi * work->variance)) + log_determinant(&h.matrix, n) +
           log_determinant(&cross.matrix, p);
}

/* H^-1 X, (X'H^-1 X)^-1, their product, P and P y, from the factors that the criterion left. */
static void fill_projection(struct mixed_work *work)
{
    size_t n = work->data->n, p = work->data->p;
    gsl_matrix_view h = square(work->h, n);
    gsl_matrix_view projection = square(work->p, n);
    gsl_matrix_view unscaled = square(work->unscaled, p);
    gsl_matrix_view weighted = gsl_matrix_view_array(work->weighted, n, p);
    gsl_matrix_view carrier = gsl_matrix_view_array(work->carrier, n, p);
    gsl_matrix_const_view x = gsl_matrix_const_view_array(work->data->x, n, p);
    gsl_matrix_view cross = square(work->cross, p + 1);
    gsl_matrix_view corner = gsl_matrix_submatrix(&cross.matrix, 0, 0, p, p);
    gsl_vector_view rest = gsl_vector_view_array(work->rest, n);
    gsl_vector_view py = gsl_vector_view_array(work->py, n);

    gsl_linalg_cholesky_invert(&h.matrix);
    gsl_matrix_memcpy(&unscaled.matrix, &corner.matrix);
    gsl_linalg_cholesky_invert(&unscaled.matrix);
    gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1, &h.matrix, &x.matrix, 0, &weighted.matrix);
    gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1, &weighted.matrix, &unscaled.matrix, 0,
                   &carrier.matrix);
    gsl_matrix_memcpy(&projection.matrix, &h.matrix);
    gsl_blas_dgemm(CblasNoTrans, CblasTrans, -1, &carrier.matrix, &weighted.matrix, 1,
                   &projection.matrix);
    gsl_blas_dgemv(CblasNoTrans, 1, &projection.matrix, &rest.vector, 0, &py.vector);
}

/* P K of a source: P itself for the residual. */
static const double *times_pattern(const struct mixed_work *work, size_t source)
{
    size_t n = work->data->n;
    return source == 0 ? work->p : work->pk + (source - 1) * n * n;
}

static const double *pattern_times_py(const struct mixed_work *work, size_t source)
{
    return source == 0 ? work->py : work->kpy + (source - 1) * work->data->n;
}

static double dot(const double *a, const double *b, size_t n)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        sum += a[i] * b[i];
    return sum;
}

static double trace_of_product(const double *a, const double *b, size_t n)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++)
            sum += a[i * n + j] * b[j * n + i];
    return sum;
}

static void multiply_patterns(struct mixed_work *work)
{
    size_t n = work->data->n;
    gsl_matrix_view projection = square(work->p, n);
    gsl_vector_view py = gsl_vector_view_array(work->py, n);

    for (size_t k = 0; k < work->data->components; k++) {
        gsl_matrix_const_view pattern =
            gsl_matrix_const_view_array(work->data->covariance[k], n, n);
        gsl_matrix_view product = square(work->pk + k * n * n, n);
        gsl_vector_view vector = gsl_vector_view_array(work->kpy + k * n, n);
        gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1, &projection.matrix, &pattern.matrix, 0,
                       &product.matrix);
        gsl_blas_dgemv(CblasNoTrans, 1, &pattern.matrix, &py.vector, 0, &vector.vector);
    }
}

static void fill_parts(struct mixed_work *work, struct mixed_derivatives *parts)
{
    size_t n = work->data->n;
    gsl_matrix_view projection = square(work->p, n);
    gsl_vector_view pkpy = gsl_vector_view_array(work->pkpy, n);

    for (size_t a = 0; a <= work->data->components; a++) {
        const double *pk = times_pattern(work, a);
        const double *kpy = pattern_times_py(work, a);
        gsl_vector_const_view vector = gsl_vector_const_view_array(kpy, n);
        parts->trace[a] = 0;
        for (size_t i = 0; i < n; i++)
            parts->trace[a] += pk[i * n + i];
        parts->form[a] = dot(work->py, kpy, n);
        gsl_blas_dgemv(CblasNoTrans, 1, &projection.matrix, &vector.vector, 0, &pkpy.vector);
        for (size_t b = 0; b <= a; b++) {
            parts->trace2[a][b] = parts->trace2[b][a] =
                trace_of_product(pk, times_pattern(work, b), n);
            parts->form2[a][b] = parts->form2[b][a] = dot(work->pkpy, pattern_times_py(work, b), n);
        }
    }
}

double mixed_criterion_derivatives(struct mixed_work *work, const double *ratio,
                                   struct mixed_derivatives *parts)
{
    double criterion = mixed_criterion(work, ratio);

    if (!isfinite(criterion))
        return criterion;
    fill_projection(work);
    multiply_patterns(work);
    fill_parts(work, parts);
    return criterion;
}

void mixed_add_lift(struct mixed_work *work, size_t a, size_t b, double share, double *lift)
{
    size_t n = work->data->n, p = work->data->p;
    gsl_matrix_const_view carrier = gsl_matrix_const_view_array(work->carrier, n, p);
    gsl_matrix_const_view pk = gsl_matrix_const_view_array(times_pattern(work, b), n, n);
    gsl_matrix_view left = gsl_matrix_view_array(work->whitened, n, p);
    gsl_matrix_view right = gsl_matrix_view_array(work->weighted, n, p);
    gsl_matrix_view sum = square(lift, p);

    if (a > 0) {
        gsl_matrix_const_view pattern =
            gsl_matrix_const_view_array(work->data->covariance[a - 1], n, n);
        gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1, &pattern.matrix, &carrier.matrix, 0,
                       &left.matrix);
    } else {
        gsl_matrix_memcpy(&left.matrix, &carrier.matrix);
    }
    gsl_blas_dgemm(CblasNoTrans, CblasNoTrans, 1, &pk.matrix, &carrier.matrix, 0, &right.matrix);
    gsl_blas_dgemm(CblasTrans, CblasNoTrans, share, &left.matrix, &right.matrix, 1, &sum.matrix);
}
