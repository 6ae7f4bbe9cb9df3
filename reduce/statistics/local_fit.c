/* local_fit.c - see local_fit.h.
 *
 * The level of each run is taken out by weighted centring within the run, which leaves the slopes
 * exactly as if every run had a column of its own (Frisch and Waugh 1933). Singular values decide
 * on the rank. The weights say how near a point is, not how good; so the variances are those of
 * equally good points under these weights, not the inverse normal matrix. */
#include "reduce/statistics/local_fit.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/statistics/neighbours.h"

/* Columns of unit length: a smallest singular value below this share of the largest is rounding. */
static const double RANK_LIMIT = 1e-7;

struct term {
    size_t axis;
    int square;    /* 1: x^2/2, so that its coefficient is the second derivative */
    double length; /* of its column */
};

struct fit {
    const struct local_points *points;
    const struct neighbours *near;
    struct term term[2 * LOCAL_AXES_MAX];
    gsl_matrix *left;     /* used x terms: sqrt(w) times the centred terms, then U of its SVD */
    gsl_matrix *right;    /* terms x terms: V */
    gsl_vector *singular; /* terms */
    gsl_vector *work;     /* terms */
    gsl_vector *value;    /* used: sqrt(w) times the centred values, then the residuals */
    gsl_vector *coefficient;
    double *run_weight; /* of each group: sum of its weights */
    double *run_sum;    /* of each group: room */
};

static enum outcome fit_allocate(struct fit *fit)
{
    size_t used = fit->near->used;
    size_t terms = fit->near->terms;

    fit->left = gsl_matrix_alloc(used, terms);
    fit->right = gsl_matrix_alloc(terms, terms);
    fit->singular = gsl_vector_alloc(terms);
    fit->work = gsl_vector_alloc(terms);
    fit->value = gsl_vector_alloc(used);
    fit->coefficient = gsl_vector_alloc(terms);
    fit->run_weight = calloc(fit->near->groups, sizeof *fit->run_weight);
    fit->run_sum = calloc(fit->near->groups, sizeof *fit->run_sum);
    return fit->left != NULL && fit->right != NULL && fit->singular != NULL && fit->work != NULL &&
                   fit->value != NULL && fit->coefficient != NULL && fit->run_weight != NULL &&
                   fit->run_sum != NULL
               ? OUTCOME_OK
               : OUTCOME_NO_MEMORY;
}

static void fit_free(struct fit *fit)
{
    free(fit->run_sum);
    free(fit->run_weight);
    gsl_vector_free(fit->coefficient);
    gsl_vector_free(fit->value);
    gsl_vector_free(fit->work);
    gsl_vector_free(fit->singular);
    gsl_matrix_free(fit->right);
    gsl_matrix_free(fit->left);
}

static void list_terms(struct fit *fit)
{
    size_t n = 0;

    for (size_t a = 0; a < fit->points->axes; a++) {
        if (fit->near->varies[a])
            fit->term[n++] = (struct term){a, 0, 1};
        if (fit->near->bears_square[a])
            fit->term[n++] = (struct term){a, 1, 1};
    }
}

static double term_at(const struct fit *fit, const struct term *term, size_t point)
{
    double x = fit->points->coordinate[point * fit->points->axes + term->axis] /
               fit->points->scale[term->axis];

    return term->square ? 0.5 * x * x : x;
}

static void weigh_runs(struct fit *fit)
{
    const struct neighbours *near = fit->near;

    for (size_t i = 0; i < near->used; i++)
        fit->run_weight[near->run[i]] += near->weight[i];
}

/* Takes the weighted mean of its run off every entry and multiplies by the root of its weight. */
static void centre(const struct fit *fit, gsl_vector *column)
{
    const struct neighbours *near = fit->near;

    for (size_t g = 0; g < near->groups; g++)
        fit->run_sum[g] = 0;
    for (size_t i = 0; i < near->used; i++)
        fit->run_sum[near->run[i]] += near->weight[i] * gsl_vector_get(column, i);
    for (size_t i = 0; i < near->used; i++) {
        double mean = fit->run_sum[near->run[i]] / fit->run_weight[near->run[i]];
        gsl_vector_set(column, i, sqrt(near->weight[i]) * (gsl_vector_get(column, i) - mean));
    }
}

static enum outcome fill(struct fit *fit)
{
    const struct neighbours *near = fit->near;

    weigh_runs(fit);
    for (size_t t = 0; t < near->terms; t++) {
        gsl_vector_view column = gsl_matrix_column(fit->left, t);
        for (size_t i = 0; i < near->used; i++)
            gsl_vector_set(&column.vector, i, term_at(fit, &fit->term[t], near->order[i]));
        double raw = gsl_blas_dnrm2(&column.vector);
        centre(fit, &column.vector);
        double length = gsl_blas_dnrm2(&column.vector);
        if (!(length > RANK_LIMIT * raw))
            return OUTCOME_SINGULAR;
        gsl_vector_scale(&column.vector, 1 / length);
        fit->term[t].length = length;
    }
    for (size_t i = 0; i < near->used; i++)
        gsl_vector_set(fit->value, i, fit->points->value[near->order[i]]);
    centre(fit, fit->value);
    return OUTCOME_OK;
}

/* U'y / singular values into `work`, coefficients of the unit columns, residuals into `value`. */
static enum outcome solve(struct fit *fit)
{
    size_t terms = fit->near->terms;

    if (gsl_linalg_SV_decomp(fit->left, fit->right, fit->singular, fit->work) != GSL_SUCCESS)
        return OUTCOME_SINGULAR;
    if (!(gsl_vector_get(fit->singular, terms - 1) > RANK_LIMIT * gsl_vector_get(fit->singular, 0)))
        return OUTCOME_SINGULAR;
    int status = gsl_blas_dgemv(CblasTrans, 1, fit->left, fit->value, 0, fit->work);
    if (status == GSL_SUCCESS)
        status = gsl_blas_dgemv(CblasNoTrans, -1, fit->left, fit->work, 1, fit->value);
    gsl_vector_div(fit->work, fit->singular);
    if (status == GSL_SUCCESS)
        status = gsl_blas_dgemv(CblasNoTrans, 1, fit->right, fit->work, 0, fit->coefficient);
    return status == GSL_SUCCESS ? OUTCOME_OK : OUTCOME_SINGULAR;
}

/* Diagonal element of P, which projects on the runs' levels and the terms. */
static double leverage(const struct fit *fit, size_t i)
{
    double sum = fit->near->weight[i] / fit->run_weight[fit->near->run[i]];

    for (size_t t = 0; t < fit->near->terms; t++)
        sum += gsl_matrix_get(fit->left, i, t) * gsl_matrix_get(fit->left, i, t);
    return sum;
}

/* Sum over the groups of (sum of a point's part over the group)^2 / (its weight)^power. */
static double sum_of_runs(const struct fit *fit, double power)
{
    double sum = 0;

    for (size_t g = 0; g < fit->near->groups; g++)
        if (fit->run_weight[g] > 0)
            sum += fit->run_sum[g] * fit->run_sum[g] / pow(fit->run_weight[g], power);
    return sum;
}

/* Sum of w_i w_j P_ij^2 over all pairs without walking them: P = A + U U', with A the runs' levels,
 *   sum w w A^2       = sum over runs of (sum w^2)^2 / W^2
 *   sum w w A (U U')  = sum over runs and terms of (sum w^(3/2) U_t)^2 / W
 *   sum w w (U U')^2  = sum over pairs of terms of (sum w U_s U_t)^2 */
static double square_of_projection(const struct fit *fit)
{
    const struct neighbours *near = fit->near;
    double total = 0;

    memset(fit->run_sum, 0, near->groups * sizeof *fit->run_sum);
    for (size_t i = 0; i < near->used; i++)
        fit->run_sum[near->run[i]] += near->weight[i] * near->weight[i];
    total += sum_of_runs(fit, 2);
    for (size_t t = 0; t < near->terms; t++) {
        memset(fit->run_sum, 0, near->groups * sizeof *fit->run_sum);
        for (size_t i = 0; i < near->used; i++)
            fit->run_sum[near->run[i]] +=
                near->weight[i] * sqrt(near->weight[i]) * gsl_matrix_get(fit->left, i, t);
        total += 2 * sum_of_runs(fit, 1);
        for (size_t s = 0; s < near->terms; s++) {
            double sum = 0;
            for (size_t i = 0; i < near->used; i++)
                sum += near->weight[i] * gsl_matrix_get(fit->left, i, s) *
                       gsl_matrix_get(fit->left, i, t);
            total += sum * sum;
        }
    }
    return total;
}

/* Variance of one point: r'r over its expectation, the trace of M (see the header); and the degrees of
 * freedom of that. The trace is positive, for there are more points than runs and terms. */
static void residual_variance(const struct fit *fit, double *variance, double *freedom)
{
    const struct neighbours *near = fit->near;
    double sum = 0;
    double trace = 0;
    double trace_of_square = square_of_projection(fit);

    for (size_t i = 0; i < near->used; i++) {
        double own = leverage(fit, i);
        sum += gsl_vector_get(fit->value, i) * gsl_vector_get(fit->value, i);
        trace += near->weight[i] * (1 - own);
        trace_of_square += near->weight[i] * near->weight[i] * (1 - 2 * own);
    }
    *variance = sum / trace;
    *freedom = trace * trace / trace_of_square;
}

/* Weight of point i in coefficient t of the unit columns: a row of V S^-1 U'. */
static double share_of_point(const struct fit *fit, size_t t, size_t i)
{
    double share = 0;

    for (size_t k = 0; k < fit->near->terms; k++)
        share += gsl_matrix_get(fit->right, t, k) * gsl_matrix_get(fit->left, i, k) /
                 gsl_vector_get(fit->singular, k);
    return share;
}

/* Row of a term in the covariance: slopes first. */
static size_t place_of(const struct fit *fit, const struct term *term)
{
    return term->axis + (term->square ? fit->points->axes : 0);
}

/* What the coefficient of the unit column is divided by to be one of the given coordinates. */
static double unit_of(const struct fit *fit, const struct term *term)
{
    double scale = fit->points->scale[term->axis];

    return term->length * (term->square ? scale * scale : scale);
}

static void write_covariance(const struct fit *fit, double variance,
                             struct local_gradient *gradient)
{
    const struct neighbours *near = fit->near;
    size_t width = 2 * fit->points->axes;

    for (size_t s = 0; s < near->terms; s++)
        for (size_t t = 0; t < near->terms; t++) {
            const struct term *one = &fit->term[s];
            const struct term *other = &fit->term[t];
            double sum = 0;
            for (size_t i = 0; i < near->used; i++)
                sum += near->weight[i] * share_of_point(fit, s, i) * share_of_point(fit, t, i);
            gradient->covariance[place_of(fit, one) * width + place_of(fit, other)] =
                variance * sum / (unit_of(fit, one) * unit_of(fit, other));
        }
}

static void write_span(const struct fit *fit, struct local_gradient *gradient)
{
    size_t axes = fit->points->axes;

    for (size_t a = 0; a < axes; a++) {
        gradient->lowest[a] = INFINITY;
        gradient->highest[a] = -INFINITY;
        for (size_t i = 0; i < fit->near->used; i++) {
            double x = fit->points->coordinate[fit->near->order[i] * axes + a];
            gradient->lowest[a] = fmin(gradient->lowest[a], x);
            gradient->highest[a] = fmax(gradient->highest[a], x);
        }
    }
}

static void write_gradient(const struct fit *fit, struct local_gradient *gradient)
{
    double variance = 0;
    double freedom = 0;

    residual_variance(fit, &variance, &freedom);
    for (size_t t = 0; t < fit->near->terms; t++) {
        const struct term *term = &fit->term[t];
        double coefficient = gsl_vector_get(fit->coefficient, t) / unit_of(fit, term);
        if (term->square)
            gradient->curvature[term->axis] = coefficient;
        else
            gradient->slope[term->axis] = coefficient;
        gradient->varies[term->axis] = 1;
    }
    gradient->residual_sd = sqrt(variance);
    gradient->degrees_of_freedom = freedom;
    gradient->used = fit->near->used;
    write_covariance(fit, variance, gradient);
    write_span(fit, gradient);
}

static enum outcome fit_with(const struct local_points *points, int squares,
                             struct local_gradient *gradient)
{
    struct neighbours near;
    struct fit fit = {.points = points, .near = &near};
    enum outcome outcome = neighbours_choose(points, squares, &near);

    if (outcome == OUTCOME_OK) {
        list_terms(&fit);
        outcome = fit_allocate(&fit);
        if (outcome == OUTCOME_OK)
            outcome = fill(&fit);
        if (outcome == OUTCOME_OK)
            outcome = solve(&fit);
        if (outcome == OUTCOME_OK)
            write_gradient(&fit, gradient);
        fit_free(&fit);
    }
    neighbours_free(&near);
    return outcome;
}

static enum outcome check_points(const struct local_points *points)
{
    if (points->axes < 1 || points->axes > LOCAL_AXES_MAX)
        return OUTCOME_SINGULAR;
    for (size_t a = 0; a < points->axes; a++)
        if (!isfinite(points->scale[a]) || points->scale[a] <= 0)
            return OUTCOME_NOT_FINITE;
    for (size_t i = 0; i < points->n * points->axes; i++)
        if (!isfinite(points->coordinate[i]))
            return OUTCOME_NOT_FINITE;
    for (size_t i = 0; i < points->n; i++)
        if (!isfinite(points->value[i]))
            return OUTCOME_NOT_FINITE;
    return OUTCOME_OK;
}

enum outcome local_gradient_fit(const struct local_points *points, struct local_gradient *gradient)
{
    *gradient = (struct local_gradient){.residual_sd = NAN};
    enum outcome outcome = check_points(points);
    if (outcome != OUTCOME_OK)
        return outcome;
    outcome = fit_with(points, 1, gradient);
    if (outcome == OUTCOME_TOO_FEW || outcome == OUTCOME_SINGULAR)
        outcome = fit_with(points, 0, gradient);
    return outcome;
}

enum outcome local_gradient_carry(const struct local_gradient *gradient, const double *step,
                                  size_t axes, double *change, double *uncertainty)
{
    double moved[2 * LOCAL_AXES_MAX] = {0}; /* by the slopes, then by the squares */
    double sum = 0;
    double variance = 0;

    *change = *uncertainty = NAN;
    if (axes > LOCAL_AXES_MAX)
        return OUTCOME_SINGULAR;
    for (size_t a = 0; a < axes; a++) {
        if (!isfinite(step[a]))
            return OUTCOME_NOT_FINITE;
        if (step[a] != 0 && !gradient->varies[a])
            return OUTCOME_SINGULAR;
        moved[a] = step[a];
        moved[axes + a] = 0.5 * step[a] * step[a];
        sum += gradient->slope[a] * moved[a] + gradient->curvature[a] * moved[axes + a];
    }
    for (size_t a = 0; a < 2 * axes; a++)
        for (size_t b = 0; b < 2 * axes; b++)
            variance += moved[a] * gradient->covariance[a * 2 * axes + b] * moved[b];
    *change = sum;
    *uncertainty = sqrt(fmax(variance, 0));
    return OUTCOME_OK;
}

double local_gradient_beyond(const struct local_gradient *gradient, size_t axis)
{
    double outside = fmax(gradient->lowest[axis], -gradient->highest[axis]);

    return outside > 0 ? outside / (gradient->highest[axis] - gradient->lowest[axis]) : 0;
}
