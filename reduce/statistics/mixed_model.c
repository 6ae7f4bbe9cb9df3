/* mixed_model.c - see mixed_model.h. The search: the best place of a coarse lattice of ratios, then
 * Newton's steps on those that are not on their bound, shortened until the criterion falls. */
#include "reduce/statistics/mixed_model.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/physics/finite.h"
#include "reduce/statistics/mixed_criterion.h"

/* Where a source adds this much to the mean variance of what is not fitted, over the residual's. */
static const double lattice[] = {0, 0.05, 0.2, 0.8, 3, 12, 100};

enum { LATTICE = sizeof lattice / sizeof lattice[0], STEPS = 60, SHORTENINGS = 40 };

/* The criterion is a logarithm of likelihood: a change this small says nothing, and Newton's step from
 * there leaves less than its square. */
static const double SETTLED = 1e-9;

static const double LEAST_DAMPING = 1e-6;

/* A ratio is held to this many times its unit: there the residual is nothing beside the source, and a
 * larger ratio changes no estimate. */
static const double RATIO_MOST = 1e6;

struct search {
    struct mixed_work *work;
    size_t n;                           /* ratios */
    double unit[MIXED_COMPONENTS_MAX];  /* of each ratio */
    double ratio[MIXED_COMPONENTS_MAX]; /* the best so far */
    double criterion;
    struct mixed_derivatives parts;
    double gradient[MIXED_COMPONENTS_MAX];
    double curvature[MIXED_COMPONENTS_MAX * MIXED_COMPONENTS_MAX];
};

/* Mean variance that a source leaves in least squares residuals: tr(P K) / (n - p) at ratios 0. */
static enum outcome find_units(struct search *search)
{
    const double none[MIXED_COMPONENTS_MAX] = {0};
    double freedom = (double)(search->work->data->n - search->work->data->p);

    search->criterion = mixed_criterion_derivatives(search->work, none, &search->parts);
    if (!isfinite(search->criterion))
        return OUTCOME_SINGULAR;
    for (size_t k = 0; k < search->n; k++) {
        double mean = search->parts.trace[k + 1] / freedom;
        if (!(mean > 0))
            return OUTCOME_SINGULAR;
        search->unit[k] = 1 / mean;
    }
    return OUTCOME_OK;
}

static void search_lattice(struct search *search)
{
    size_t places = 1;

    for (size_t k = 0; k < search->n; k++)
        places *= LATTICE;
    for (size_t place = 1; place < places; place++) {
        double ratio[MIXED_COMPONENTS_MAX] = {0};
        size_t rest = place;
        for (size_t k = 0; k < search->n; k++, rest /= LATTICE)
            ratio[k] = lattice[rest % LATTICE] * search->unit[k];
        double criterion = mixed_criterion(search->work, ratio);
        if (criterion < search->criterion) {
            search->criterion = criterion;
            memcpy(search->ratio, ratio, sizeof ratio);
        }
    }
}

/* Derivatives of the profiled criterion by the ratios, in their units. */
static void differentiate(struct search *search)
{
    const struct mixed_derivatives *parts = &search->parts;
    const struct mixed_data *data = search->work->data;
    double freedom = (double)(data->n - data->p);

    search->criterion = mixed_criterion_derivatives(search->work, search->ratio, &search->parts);
    double variance = search->work->variance;
    for (size_t a = 0; a < search->n; a++) {
        search->gradient[a] =
            search->unit[a] * (parts->trace[a + 1] - parts->form[a + 1] / variance);
        for (size_t b = 0; b < search->n; b++) {
            double profiled =
                parts->form[a + 1] * parts->form[b + 1] / (variance * variance * freedom);
            search->curvature[a * search->n + b] = search->unit[a] * search->unit[b] *
                                                   (2 * parts->form2[a + 1][b + 1] / variance -
                                                    parts->trace2[a + 1][b + 1] - profiled);
        }
    }
}

static int is_held(const struct search *search, size_t k)
{
    int is_most = search->ratio[k] >= RATIO_MOST * search->unit[k];
    return (!(search->ratio[k] > 0) && search->gradient[k] >= 0) ||
           (is_most && search->gradient[k] <= 0);
}

/* Newton's step in units, with as much of the identity added as makes it lead downhill; that of a
 * ratio held on a bound is 0. */
static int find_step(const struct search *search, double damping, double *step)
{
    size_t n = search->n;
    double matrix[MIXED_COMPONENTS_MAX * MIXED_COMPONENTS_MAX];

    for (size_t a = 0; a < n; a++) {
        step[a] = is_held(search, a) ? 0 : -search->gradient[a];
        for (size_t b = 0; b < n; b++) {
            int apart = is_held(search, a) || is_held(search, b);
            matrix[a * n + b] = apart ? 0 : search->curvature[a * n + b];
        }
        matrix[a * n + a] = is_held(search, a) ? 1 : matrix[a * n + a] + damping;
    }
    if (n == 0)
        return 1;
    gsl_matrix_view factor = gsl_matrix_view_array(matrix, n, n);
    gsl_vector_view vector = gsl_vector_view_array(step, n);
    return gsl_linalg_cholesky_decomp1(&factor.matrix) == 0 &&
           gsl_linalg_cholesky_svx(&factor.matrix, &vector.vector) == 0;
}

/* Where the criterion is almost straight Newton's step is far too long, and where all error is the
 * walk's it is level: no step goes beyond four times where it starts. */
static void move(struct search *search, const double *step)
{
    for (size_t k = 0; k < search->n; k++) {
        double longest = 3 * search->ratio[k] + search->unit[k];
        double moved = search->ratio[k] + fmin(step[k] * search->unit[k], longest);
        search->ratio[k] = fmin(fmax(moved, 0), RATIO_MOST * search->unit[k]);
    }
}

/* Tries one step; 1 when the criterion fell. */
static int take_step(struct search *search, const double *step)
{
    double before[MIXED_COMPONENTS_MAX];

    memcpy(before, search->ratio, sizeof before);
    move(search, step);
    if (mixed_criterion(search->work, search->ratio) < search->criterion)
        return 1;
    memcpy(search->ratio, before, sizeof before);
    return 0;
}

/* What the criterion would fall by if it were the parabola that its derivatives say. */
static double promised_fall(const struct search *search, const double *step)
{
    double promised = 0;

    for (size_t k = 0; k < search->n; k++)
        promised -= search->gradient[k] * step[k] / 2;
    return promised;
}

/* Newton's steps until the next promises nothing; that last one is taken unseen, because the fall is
 * lost in rounding while the ratios still gain digits. */
static enum outcome descend(struct search *search)
{
    double damping = 0;

    for (int i = 0; i < STEPS; i++) {
        double step[MIXED_COMPONENTS_MAX] = {0};
        int is_taken = 0;
        differentiate(search);
        for (int j = 0; j < SHORTENINGS && !is_taken; j++) {
            int is_downhill = find_step(search, damping, step);
            if (is_downhill && promised_fall(search, step) < SETTLED) {
                move(search, step);
                differentiate(search);
                return isfinite(search->criterion) ? OUTCOME_OK : OUTCOME_SINGULAR;
            }
            is_taken = is_downhill && take_step(search, step);
            damping = is_taken ? damping / 10 : fmax(damping * 4, LEAST_DAMPING);
        }
        if (damping < LEAST_DAMPING)
            damping = 0;
        if (!is_taken)
            break;
    }
    return OUTCOME_NO_CONVERGENCE;
}

void mixed_fit_free(struct mixed_fit *fit)
{
    free(fit->coefficient);
    free(fit->covariance);
    free(fit->slope);
    free(fit->lift);
    memset(fit, 0, sizeof *fit);
}

static enum outcome fit_allocate(struct mixed_fit *fit)
{
    size_t square = fit->p * fit->p;

    fit->coefficient = calloc(fit->p, sizeof *fit->coefficient);
    fit->covariance = calloc(square, sizeof *fit->covariance);
    fit->slope = calloc(square * (fit->components + 1), sizeof *fit->slope);
    fit->lift = calloc(square, sizeof *fit->lift);
    return fit->coefficient != NULL && fit->covariance != NULL && fit->slope != NULL &&
                   fit->lift != NULL
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

static int is_on_bound(const struct search *search)
{
    for (size_t k = 0; k < search->n; k++)
        if (is_held(search, k))
            return 1;
    return 0;
}

/* Covariance of the variances' estimates, twice the inverse of the criterion's second derivatives by
 * them: as they are, or as expected. */
static int fill_spread(const struct search *search, const struct mixed_fit *fit, int is_expected,
                       double *spread)
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

static int fill_lift(struct mixed_work *work, const struct search *search, struct mixed_fit *fit)
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

static enum outcome fill_fit(const struct search *search, struct mixed_fit *fit)
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
    struct search search = {.work = &work, .n = data->components};

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
        outcome = find_units(&search);
    if (outcome == OUTCOME_OK) {
        search_lattice(&search);
        outcome = descend(&search);
    }
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
