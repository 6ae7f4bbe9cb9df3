/* night_model.c - see night_model.h. */
#include "reduce/statistics/night_model.h"

#include <math.h>
#include <stdlib.h>

#include "reduce/statistics/mixed_model.h"

enum { DEGREE = 2 };

struct night {
    const struct night_observation *observations;
    size_t n;
    size_t n_configurations;
    size_t column[NIGHT_CONFIGURATIONS_MAX]; /* of X; 0 (the intercept's): it has none */
    size_t *level;                           /* n: attitude as 0, 1, 2 .. by first appearance */
    size_t levels;
    double first, span; /* of time */
    double *x, *refit, *walk;
    struct mixed_data data;
};

static int is_first_of_mounting(const struct night_observation *observations, size_t i)
{
    for (size_t j = 0; j < i; j++)
        if (observations[j].mounting == observations[i].mounting)
            return 0;
    return 1;
}

static void clear_result(struct night_result *result)
{
    *result = (struct night_result){
        .error_variance = (double)NAN, .refit_variance = (double)NAN, .walk_variance = (double)NAN};
    for (size_t c = 0; c < NIGHT_CONFIGURATIONS_MAX; c++)
        result->deltas[c] = (struct night_delta){OUTCOME_TOO_FEW, NAN, NAN, NAN, 0};
}

static enum outcome check_observations(const struct night *night)
{
    if (night->n_configurations == 0 || night->n_configurations > NIGHT_CONFIGURATIONS_MAX ||
        night->n > MIXED_ROWS_MAX)
        return OUTCOME_SINGULAR;
    for (size_t i = 0; i < night->n; i++) {
        if (!isfinite(night->observations[i].time) || !isfinite(night->observations[i].value))
            return OUTCOME_NOT_FINITE;
        if (night->observations[i].configuration >= night->n_configurations)
            return OUTCOME_SINGULAR;
    }
    return OUTCOME_OK;
}

/* Gives the number of mountings in all. */
static size_t count_mountings(const struct night *night, struct night_result *result)
{
    size_t mountings = 0;

    for (size_t i = 0; i < night->n; i++) {
        size_t c = night->observations[i].configuration;
        if (!is_first_of_mounting(night->observations, i))
            continue;
        mountings++;
        result->baseline_mountings += c == 0;
        result->deltas[c].mountings += c > 0;
    }
    return mountings;
}

static void number_attitudes(struct night *night)
{
    for (size_t i = 0; i < night->n; i++) {
        size_t j = 0;
        while (night->observations[j].attitude != night->observations[i].attitude)
            j++;
        night->level[i] = j == i ? night->levels++ : night->level[j];
    }
}

/* Columns: 1, a configuration each, an attitude each but the first, powers of time about the
 * middle of the night. */
static size_t number_columns(struct night *night, const struct night_result *result)
{
    size_t columns = 1;

    for (size_t c = 1; c < night->n_configurations; c++)
        if (result->deltas[c].mountings > 0)
            night->column[c] = columns++;
    return columns + night->levels - 1 + DEGREE;
}

static void find_span(struct night *night)
{
    double last = night->first = night->observations[0].time;

    for (size_t i = 0; i < night->n; i++) {
        night->first = fmin(night->first, night->observations[i].time);
        last = fmax(last, night->observations[i].time);
    }
    night->span = last - night->first;
}

static void fill_columns(struct night *night)
{
    size_t p = night->data.p;

    for (size_t i = 0; i < night->n; i++) {
        double *row = night->x + i * p;
        size_t column = night->column[night->observations[i].configuration];
        double power = 1;
        row[0] = 1;
        if (column > 0)
            row[column] = 1;
        if (night->level[i] > 0)
            row[p - DEGREE - night->levels + night->level[i]] = 1;
        for (size_t d = 0; d < DEGREE; d++) {
            power *= 2 * (night->observations[i].time - night->first) / night->span - 1;
            row[p - DEGREE + d] = power;
        }
    }
}

/* The walk begins with the night: its level there is the intercept's. */
static void fill_patterns(struct night *night)
{
    size_t n = night->n;

    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++) {
            const struct night_observation *a = &night->observations[i];
            const struct night_observation *b = &night->observations[j];
            night->walk[i * n + j] = (fmin(a->time, b->time) - night->first) / night->span;
            night->refit[i * n + j] = a->mounting == b->mounting;
        }
}

static enum outcome build(struct night *night, struct night_result *result)
{
    size_t n = night->n;

    night->level = calloc(n, sizeof *night->level);
    night->walk = calloc(n * n, sizeof *night->walk);
    night->refit = calloc(n * n, sizeof *night->refit);
    if (night->level == NULL || night->walk == NULL || night->refit == NULL)
        return OUTCOME_NO_MEMORY;
    number_attitudes(night);
    find_span(night);
    if (!(night->span > 0))
        return OUTCOME_SINGULAR;
    size_t mountings = count_mountings(night, result);
    if (result->baseline_mountings < NIGHT_BASELINES_LEAST)
        return OUTCOME_TOO_FEW;
    night->data.n = n;
    night->data.p = number_columns(night, result);
    night->data.components = mountings < n ? 2 : 1;
    size_t unknowns = night->data.p - (night->levels - 1);
    result->spare = mountings > unknowns ? mountings - unknowns : 0;
    night->data.covariance[0] = night->walk;
    night->data.covariance[1] = night->refit;
    night->x = calloc(n * night->data.p, sizeof *night->x);
    if (night->x == NULL)
        return OUTCOME_NO_MEMORY;
    night->data.x = night->x;
    fill_columns(night);
    fill_patterns(night);
    return OUTCOME_OK;
}

/* By half in chi squared of nothing and half in that of one degree of freedom, as a ratio on its bound has it
 * (Self and Liang, J. Am. Stat. Assoc. 82 (1987)), a walk is found in 5 % of nights that have none. */
static const double PROVEN = 2.7055;

/* What is taken off by a walk that may not be there is not taken off the error: then it is the larger of
 * those with the walk and without. `without` is NULL where the walk is proven, or nothing wanders. */
static double error_of(const struct mixed_fit *without, const double *weights,
                       const struct mixed_estimate *estimate)
{
    if (without == NULL)
        return estimate->standard_error;
    double lift = estimate->standard_error * estimate->standard_error -
                  estimate->plain_error * estimate->plain_error;
    double plain = fmax(estimate->plain_error, mixed_contrast(without, weights).plain_error);
    return sqrt(plain * plain + lift);
}

static void take_deltas(const struct night *night, const struct mixed_fit *fit,
                        const struct mixed_fit *without, double *weights,
                        struct night_result *result)
{
    for (size_t c = 1; c < night->n_configurations; c++) {
        if (night->column[c] == 0)
            continue;
        weights[night->column[c]] = 1;
        struct mixed_estimate estimate = mixed_contrast(fit, weights);
        result->deltas[c].outcome = OUTCOME_OK;
        result->deltas[c].delta = estimate.value;
        result->deltas[c].standard_error = error_of(without, weights, &estimate);
        result->deltas[c].degrees_of_freedom = estimate.degrees_of_freedom;
        weights[night->column[c]] = 0;
    }
    result->error_variance = fit->residual_variance;
    result->walk_variance = fit->variance[0] / night->span;
    if (fit->components > 1)
        result->refit_variance = fit->variance[1];
}

static void correlate(const struct night *night, const struct mixed_fit *fit, double *correlation)
{
    size_t n = night->n_configurations, p = fit->p;

    for (size_t a = 1; a < n; a++)
        for (size_t b = 1; b < n; b++) {
            size_t i = night->column[a], j = night->column[b];
            if (i == 0 || j == 0)
                continue;
            double scale = sqrt(fit->covariance[i * p + i] * fit->covariance[j * p + j]);
            correlation[a * n + b] = a == b ? 1 : fit->covariance[i * p + j] / scale;
        }
}

static void take_weights(const struct night *night, const struct mixed_fit *fit, double *weights)
{
    for (size_t c = 1; c < night->n_configurations; c++)
        for (size_t i = 0; i < night->n && night->column[c] > 0; i++)
            weights[c * night->n + i] = fit->carrier[i * fit->p + night->column[c]];
}

/* The same night as if nothing wandered. Where that cannot be fitted nothing is compared with it. */
static int fit_without_walk(const struct night *night, struct mixed_fit *fit)
{
    struct mixed_data data = night->data;

    data.components--;
    data.covariance[0] = data.covariance[1];
    return mixed_model_fit(&data, fit) == OUTCOME_OK;
}

static void read_fit(const struct night *night, const struct mixed_fit *fit, double *weights,
                     struct night_result *result, double *correlation)
{
    struct mixed_fit without = {0};
    int is_unproven = fit->variance[0] > 0 && fit_without_walk(night, &without) &&
                      without.criterion - fit->criterion < PROVEN;

    take_deltas(night, fit, is_unproven ? &without : NULL, weights, result);
    if (correlation != NULL)
        correlate(night, fit, correlation);
    mixed_fit_free(&without);
}

static enum outcome fit_night(struct night *night, struct night_result *result, double *correlation,
                              double *taken)
{
    struct mixed_fit fit = {0};
    double *values = calloc(night->n, sizeof *values);
    double *weights = calloc(night->data.p, sizeof *weights);
    enum outcome outcome = OUTCOME_NO_MEMORY;

    if (values != NULL && weights != NULL) {
        for (size_t i = 0; i < night->n; i++)
            values[i] = night->observations[i].value;
        night->data.y = values;
        outcome = mixed_model_fit(&night->data, &fit);
    }
    if (outcome == OUTCOME_OK) {
        read_fit(night, &fit, weights, result, correlation);
        if (taken != NULL)
            take_weights(night, &fit, taken);
    }
    mixed_fit_free(&fit);
    free(weights);
    free(values);
    return outcome;
}

enum outcome night_deltas(const struct night_observation *observations, size_t n,
                          size_t n_configurations, struct night_result *result, double *correlation)
{
    return night_deltas_weighted(observations, n, n_configurations, result, correlation, NULL);
}

enum outcome night_deltas_weighted(const struct night_observation *observations, size_t n,
                                   size_t n_configurations, struct night_result *result,
                                   double *correlation, double *weights)
{
    struct night night = {
        .observations = observations, .n = n, .n_configurations = n_configurations};

    clear_result(result);
    if (correlation != NULL)
        for (size_t i = 0; i < n_configurations * n_configurations; i++)
            correlation[i] = 0;
    if (weights != NULL)
        for (size_t i = 0; i < n_configurations * n; i++)
            weights[i] = 0;
    enum outcome outcome = n == 0 ? OUTCOME_TOO_FEW : check_observations(&night);
    if (outcome == OUTCOME_OK)
        outcome = build(&night, result);
    if (outcome == OUTCOME_OK)
        outcome = fit_night(&night, result, correlation, weights);
    if (outcome != OUTCOME_OK)
        clear_result(result);
    free(night.x);
    free(night.refit);
    free(night.walk);
    free(night.level);
    return outcome;
}
