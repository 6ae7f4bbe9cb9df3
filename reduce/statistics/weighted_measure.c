/* weighted_measure.c - see weighted_measure.h. */
#include "reduce/statistics/weighted_measure.h"

#include <math.h>
#include <stdlib.h>

static const double SUM_WITHIN = 1e-6;

/* Weights of either sign. Values without weight do not count, whatever they are. */
static enum outcome combine(const double *weights, const double *values, const double *covariance,
                            size_t n, struct weighted_measure *measure)
{
    double value = 0, variance = 0, scale = 0;

    for (size_t i = 0; i < n; i++) {
        if (weights[i] == 0)
            continue;
        value += weights[i] * values[i];
        for (size_t j = 0; j < n; j++)
            if (weights[j] != 0)
                variance += weights[i] * weights[j] * covariance[i * n + j];
        scale += weights[i] * weights[i] * fabs(covariance[i * n + i]);
    }
    if (!isfinite(value) || !isfinite(variance))
        return OUTCOME_NOT_FINITE;
    if (variance < -1e-12 * scale)
        return OUTCOME_SINGULAR;
    measure->value = value;
    measure->standard = sqrt(fmax(variance, 0));
    return OUTCOME_OK;
}

/* Sum 1, none negative; coverage from those with a value. */
static enum outcome check_weights(const double *weights, const double *values, size_t n,
                                  double *coverage)
{
    double sum = 0;

    *coverage = 0;
    if (n == 0)
        return OUTCOME_TOO_FEW;
    for (size_t i = 0; i < n; i++) {
        if (!(weights[i] >= 0))
            return OUTCOME_GEOMETRY;
        sum += weights[i];
        *coverage += isnan(values[i]) ? 0 : weights[i];
    }
    if (!(fabs(sum - 1) <= SUM_WITHIN))
        return OUTCOME_GEOMETRY;
    for (size_t i = 0; i < n; i++)
        if (weights[i] > 0 && isnan(values[i]))
            return OUTCOME_UNMEASURED;
    return OUTCOME_OK;
}

enum outcome weighted_average(const double *weights, const double *values, const double *covariance,
                              size_t n, struct weighted_measure *measure)
{
    *measure = (struct weighted_measure){NAN, NAN, 0};
    enum outcome outcome = check_weights(weights, values, n, &measure->coverage);
    return outcome == OUTCOME_OK ? combine(weights, values, covariance, n, measure) : outcome;
}

static double dot(const double *weights, const double *values, size_t n)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        sum += weights[i] > 0 ? weights[i] * values[i] : 0;
    return sum;
}

enum outcome weighted_ratio(const double *upper_weights, const double *lower_weights,
                            const double *values, const double *covariance, size_t n,
                            struct weighted_measure *measure)
{
    double upper_coverage = 0, lower_coverage = 0;

    *measure = (struct weighted_measure){NAN, NAN, 0};
    enum outcome outcome = check_weights(upper_weights, values, n, &upper_coverage);
    if (outcome == OUTCOME_OK || outcome == OUTCOME_UNMEASURED) {
        enum outcome lower = check_weights(lower_weights, values + n, n, &lower_coverage);
        outcome = lower != OUTCOME_OK ? lower : outcome;
    }
    measure->coverage = fmin(upper_coverage, lower_coverage);
    if (outcome != OUTCOME_OK)
        return outcome;
    double upper = dot(upper_weights, values, n), lower = dot(lower_weights, values + n, n);
    if (lower == 0)
        return OUTCOME_SINGULAR;
    double *slopes = calloc(2 * n, sizeof *slopes);
    if (slopes == NULL)
        return OUTCOME_NO_MEMORY;
    for (size_t i = 0; i < n; i++) {
        slopes[i] = upper_weights[i] / lower;
        slopes[n + i] = -lower_weights[i] * (upper / lower) / lower;
    }
    outcome = combine(slopes, values, covariance, 2 * n, measure);
    if (outcome == OUTCOME_OK)
        measure->value = upper / lower;
    free(slopes);
    return outcome;
}

enum outcome package_interaction(const double *deltas, const double *covariance, size_t n,
                                 size_t package, const size_t *parts, size_t n_parts,
                                 struct weighted_measure *interaction)
{
    *interaction = (struct weighted_measure){NAN, NAN, 1};
    if (n_parts == 0)
        return OUTCOME_TOO_FEW;
    if (package >= n)
        return OUTCOME_GEOMETRY;
    double *weights = calloc(n, sizeof *weights);
    if (weights == NULL)
        return OUTCOME_NO_MEMORY;
    enum outcome outcome = OUTCOME_OK;
    weights[package] = 1;
    for (size_t i = 0; i < n_parts && outcome == OUTCOME_OK; i++) {
        outcome = parts[i] < n && weights[parts[i]] == 0 ? OUTCOME_OK : OUTCOME_GEOMETRY;
        if (outcome == OUTCOME_OK)
            weights[parts[i]] = -1;
    }
    if (outcome == OUTCOME_OK)
        outcome = combine(weights, deltas, covariance, n, interaction);
    free(weights);
    return outcome;
}
