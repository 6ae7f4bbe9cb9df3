/* bracket.c - see bracket.h. Every delta is a row of weights over the observations; variances and
 * covariances are inner products of rows, so shared baseline returns are counted as shared. */
#include "reduce/statistics/bracket.h"

#include <math.h>
#include <stdlib.h>

#include "reduce/statistics/bracket_noise.h"

enum outcome bracket_baseline(const struct observation *observations, size_t n, double time,
                              double *value, double *weights)
{
    size_t before = n;
    size_t after = n;

    *value = NAN;
    for (size_t i = 0; i < n; i++)
        weights[i] = 0;
    if (!isfinite(time))
        return OUTCOME_NOT_FINITE;
    for (size_t i = 0; i < n; i++) {
        if (observations[i].configuration != 0)
            continue;
        double at = observations[i].time;
        if (!isfinite(at) || !isfinite(observations[i].value))
            return OUTCOME_NOT_FINITE;
        if (at <= time && (before == n || at > observations[before].time))
            before = i;
        if (at >= time && (after == n || at < observations[after].time))
            after = i;
    }
    if (before == n || after == n)
        return OUTCOME_TOO_FEW;
    double span = observations[after].time - observations[before].time;
    double share = span > 0 ? (time - observations[before].time) / span : 0;
    weights[after] = share;
    weights[before] = 1 - share; /* the same return when time is exactly its own */
    *value = observations[before].value +
             share * (observations[after].value - observations[before].value);
    return OUTCOME_OK;
}

static enum outcome check_observations(const struct observation *observations, size_t n,
                                       size_t n_configurations)
{
    size_t returns = 0;

    if (n > BRACKET_OBSERVATIONS_MAX || n_configurations > BRACKET_CONFIGURATIONS_MAX)
        return OUTCOME_SINGULAR;
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(observations[i].time) || !isfinite(observations[i].value))
            return OUTCOME_NOT_FINITE;
        if (observations[i].configuration >= n_configurations)
            return OUTCOME_SINGULAR;
        returns += observations[i].configuration == 0;
    }
    return returns < 2 ? OUTCOME_TOO_FEW : OUTCOME_OK;
}

static void clear_result(struct bracket_result *result)
{
    for (size_t c = 0; c < BRACKET_CONFIGURATIONS_MAX; c++)
        result->deltas[c] = (struct bracket_delta){OUTCOME_TOO_FEW, NAN, NAN, 0, 0};
    result->noise = (struct bracket_noise){NAN, 0};
    result->baseline_mountings = 0;
}

/* Fills row i with the weights of observation i minus its baseline and counts it. The difference is
 * taken before the weights, so a large common level costs no digits. */
static void compare_mounting(const struct observation *observations, size_t n, size_t i,
                             double *row, struct bracket_delta *delta)
{
    double baseline = NAN;

    if (bracket_baseline(observations, n, observations[i].time, &baseline, row) != OUTCOME_OK) {
        delta->unbracketed++;
        return;
    }
    for (size_t j = 0; j < n; j++)
        row[j] = -row[j];
    row[i] = 1;
    delta->delta = (delta->mountings == 0 ? 0 : delta->delta) + observations[i].value - baseline;
    delta->mountings++;
}

static void compare_all(const struct observation *observations, size_t n, double *bracketed,
                        struct bracket_result *result)
{
    for (size_t i = 0; i < n; i++) {
        size_t configuration = observations[i].configuration;
        if (configuration == 0)
            result->baseline_mountings++;
        else
            compare_mounting(observations, n, i, bracketed + i * n, &result->deltas[configuration]);
    }
}

/* Means over the mountings: the row of each delta, its value and the variance of its row. */
static void take_means(const struct observation *observations, size_t n, size_t n_configurations,
                       const double *bracketed, double *mean, struct bracket_result *result)
{
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++)
            mean[observations[i].configuration * n + j] += bracketed[i * n + j];
    for (size_t c = 1; c < n_configurations; c++) {
        struct bracket_delta *delta = &result->deltas[c];
        if (delta->mountings == 0)
            continue;
        delta->outcome = OUTCOME_OK;
        delta->delta /= (double)delta->mountings;
        delta->variance_factor = 0;
        for (size_t j = 0; j < n; j++) {
            mean[c * n + j] /= (double)delta->mountings;
            delta->variance_factor += mean[c * n + j] * mean[c * n + j];
        }
    }
}

static void correlate(const struct bracket_result *result, size_t n, size_t n_configurations,
                      const double *mean, double *correlation)
{
    for (size_t a = 0; a < n_configurations; a++)
        for (size_t b = 0; b < n_configurations; b++) {
            double covariance = 0;
            correlation[a * n_configurations + b] = 0;
            if (result->deltas[a].outcome != OUTCOME_OK || result->deltas[b].outcome != OUTCOME_OK)
                continue;
            for (size_t j = 0; j < n; j++)
                covariance += mean[a * n + j] * mean[b * n + j];
            correlation[a * n_configurations + b] =
                a == b ? 1
                       : covariance / sqrt(result->deltas[a].variance_factor *
                                           result->deltas[b].variance_factor);
        }
}

enum outcome bracket_deltas(const struct observation *observations, size_t n,
                            size_t n_configurations, struct bracket_result *result,
                            double *correlation)
{
    clear_result(result);
    if (correlation != NULL)
        for (size_t i = 0; i < n_configurations * n_configurations; i++)
            correlation[i] = 0;
    enum outcome outcome = check_observations(observations, n, n_configurations);
    if (outcome != OUTCOME_OK)
        return outcome;

    double *bracketed = calloc(n * n, sizeof *bracketed);
    double *mean = calloc(n_configurations * n, sizeof *mean);
    struct bracket_noise noise = {NAN, 0};
    outcome = OUTCOME_NO_MEMORY;
    if (bracketed != NULL && mean != NULL) {
        compare_all(observations, n, bracketed, result);
        outcome = bracket_noise_estimate(observations, n, bracketed, n_configurations, &noise);
    }
    if (outcome == OUTCOME_OK) {
        take_means(observations, n, n_configurations, bracketed, mean, result);
        result->noise = noise;
        if (correlation != NULL)
            correlate(result, n, n_configurations, mean, correlation);
    } else {
        clear_result(result);
    }
    free(mean);
    free(bracketed);
    return outcome;
}

void bracket_weights(const struct observation *observations, size_t n, size_t n_configurations,
                     const struct bracket_result *result, double *weights)
{
    double here[BRACKET_OBSERVATIONS_MAX];
    double baseline = NAN;

    for (size_t i = 0; i < n_configurations * n; i++)
        weights[i] = 0;
    for (size_t i = 0; i < n; i++) {
        size_t c = observations[i].configuration;
        if (c == 0 ||
            bracket_baseline(observations, n, observations[i].time, &baseline, here) != OUTCOME_OK)
            continue;
        double mountings = (double)result->deltas[c].mountings;
        weights[c * n + i] += 1 / mountings;
        for (size_t j = 0; j < n; j++)
            weights[c * n + j] -= here[j] / mountings;
    }
}
