/* mixed_model.c - see mixed_model.h. The ratios are found in mixed_search.c. */
#include "reduce/statistics/mixed_model.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/physics/finite.h"
#include "reduce/statistics/mixed_search.h"

void mixed_fit_free(struct mixed_fit *fit)
{
    free(fit->coefficient);
    free(fit->covariance);
    free(fit->carrier);
    free(fit->slope);
    free(fit->lift);
    memset(fit, 0, sizeof *fit);
}

static enum outcome fit_allocate(struct mixed_fit *fit)
{
    size_t square = fit->p * fit->p;

    fit->coefficient = calloc(fit->p, sizeof *fit->coefficient);
    fit->covariance = calloc(square, sizeof *fit->covariance);
    fit->carrier = calloc(fit->n * fit->p, sizeof *fit->carrier);
    fit->slope = calloc(square * (fit->components + 1), sizeof *fit->slope);
    fit->lift = calloc(square, sizeof *fit->lift);
    return fit->coefficient != NULL && fit->covariance != NULL && fit->carrier != NULL &&
                   fit->slope != NULL && fit->lift != NULL
               ? OUTCOME_OK
               : OUTCOME_NO_MEMORY;
}

/* C'K C for the carrier C: by what the covariance of the coefficients grows with a variance. */
static void fill_slope(const struct mixed_work *work, const double *pattern, double *slope)
{
    size_t n = work->data->n, p = work->data->p;

    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < n; k++) {
            double value = pattern != NULL ? pattern[i * n + k] : (double)(i == k);
            const double *left = work->carrier + i * p, *right = work->carrier + k * p;
            for (size_t a = 0; a < p && value != 0; a++)
                for (size_t b = 0; b < p; b++)
                    slope[a * p + b] += left[a] * value * right[b];
        }
}

static int is_on_bound(const struct mixed_search *search)
{
    for (size_t k = 0; k < search->n; k++)
        if (mixed_search_is_held(search, k))
            return 1;
    return 0;
}

/* Covariance of the variances' estimates, twice the inverse of the criterion's second derivatives by
 * them: as they are, or as expected. */
static int fill_spread(const struct mixed_search *search, const struct mixed_fit *fit,
                       int is_expected, double *spread)
{
    size_t sources = fit->components + 1;
    double s = fit->residual_variance;

    for (size_t a = 0; a < sources; a++)
        for (size_t b = 0; b < sources; b++) {
            double trace = search->parts.trace2[a][b];
            spread[a * sources + b] =
                is_expected ? trace : 2 * search->parts.form2[a][b] / s - trace;
        }
    gsl_matrix_view inverse = gsl_matrix_view_array(spread, sources, sources);
    if (gsl_linalg_cholesky_decomp1(&inverse.matrix) != 0 ||
        gsl_linalg_cholesky_invert(&inverse.matrix) != 0)
        return 0;
    for (size_t i = 0; i < sources * sources; i++)
        spread[i] *= 2 * s * s;
    return 1;
}

static int fill_lift(struct mixed_work *work, const struct mixed_search *search,
                     struct mixed_fit *fit)
{
    size_t sources = fit->components + 1;
    double spread[MIXED_SOURCES_MAX * MIXED_SOURCES_MAX] = {0};

    if (!fill_spread(search, fit, 1, spread))
        return 0;
    for (size_t a = 0; a < sources; a++)
        for (size_t b = 0; b < sources; b++)
            mixed_add_lift(work, a, b, 2 * spread[a * sources + b] / fit->residual_variance,
                           fit->lift);
    return 1;
}

static enum outcome fill_fit(const struct mixed_search *search, struct mixed_fit *fit)
{
    const struct mixed_work *work = search->work;
    size_t n = fit->n, p = fit->p;

    fit->criterion = search->criterion;
    fit->residual_variance = work->variance;
    for (size_t k = 0; k < fit->components; k++)
        fit->variance[k] = work->variance * search->ratio[k];
    for (size_t j = 0; j < p; j++) {
        fit->coefficient[j] = work->start[j];
        for (size_t i = 0; i < n; i++)
            fit->coefficient[j] += work->carrier[i * p + j] * work->rest[i];
    }
    memcpy(fit->carrier, work->carrier, n * p * sizeof *fit->carrier);
    for (size_t i = 0; i < p * p; i++)
        fit->covariance[i] = work->variance * work->unscaled[i];
    fill_slope(work, NULL, fit->slope);
    for (size_t k = 0; k < fit->components; k++)
        fill_slope(work, work->data->covariance[k], fit->slope + (k + 1) * p * p);
    return fill_spread(search, fit, is_on_bound(search), fit->spread) &&
                   fill_lift(search->work, search, fit)
               ? OUTCOME_OK
               : OUTCOME_SINGULAR;
}

static enum outcome check_data(const struct mixed_data *data)
{
    if (data->components > MIXED_COMPONENTS_MAX || data->n > MIXED_ROWS_MAX || data->p == 0)
        return OUTCOME_SINGULAR;
    if (data->n <= data->p + data->components)
        return OUTCOME_TOO_FEW;
    if (!all_finite(data->x, data->n * data->p) || !all_finite(data->y, data->n))
        return OUTCOME_NOT_FINITE;
    for (size_t k = 0; k < data->components; k++)
        if (!all_finite(data->covariance[k], data->n * data->n))
            return OUTCOME_NOT_FINITE;
    return OUTCOME_OK;
}

enum outcome mixed_model_fit(const struct mixed_data *data, struct mixed_fit *fit)
{
    struct mixed_work work = {0};
    struct mixed_search search = {.work = &work, .n = data->components};

    memset(fit, 0, sizeof *fit);
    enum outcome outcome = check_data(data);
    if (outcome != OUTCOME_OK)
        return outcome;
    fit->n = data->n;
    fit->p = data->p;
    fit->components = data->components;
    outcome = mixed_work_start(&work, data);
    if (outcome == OUTCOME_OK)
        outcome = fit_allocate(fit);
    if (outcome == OUTCOME_OK)
        outcome = mixed_search_run(&search);
    if (outcome == OUTCOME_OK)
        outcome = fill_fit(&search, fit);
    if (outcome != OUTCOME_OK)
        mixed_fit_free(fit);
    mixed_work_free(&work);
    return outcome;
}

static double quadratic(const double *matrix, const double *left, const double *right, size_t n)
{
    double sum = 0;

    for (size_t a = 0; a < n; a++)
        for (size_t b = 0; b < n; b++)
            sum += left[a] * matrix[a * n + b] * right[b];
    return sum;
}

struct mixed_estimate mixed_contrast(const struct mixed_fit *fit, const double *weights)
{
    struct mixed_estimate estimate = {0, NAN, NAN, NAN};
    double gradient[MIXED_SOURCES_MAX];
    size_t p = fit->p, sources = fit->components + 1;
    double variance = quadratic(fit->covariance, weights, weights, p);

    for (size_t j = 0; j < p; j++)
        estimate.value += weights[j] * fit->coefficient[j];
    for (size_t k = 0; k < sources; k++)
        gradient[k] = quadratic(fit->slope + k * p * p, weights, weights, p);
    estimate.standard_error = sqrt(variance + quadratic(fit->lift, weights, weights, p));
    estimate.plain_error = sqrt(variance);
    double spread = quadratic(fit->spread, gradient, gradient, sources);
    if (spread > 0)
        estimate.degrees_of_freedom = 2 * variance * variance / spread;
    return estimate;
}
