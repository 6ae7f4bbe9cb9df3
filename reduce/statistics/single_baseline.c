/* single_baseline.c - see single_baseline.h. */
#include "reduce/statistics/single_baseline.h"

#include <math.h>
#include <string.h>

static void clear(size_t n, size_t n_configurations, struct bracket_result *result,
                  double *correlation, double *weights)
{
    *result = (struct bracket_result){.noise = {(double)NAN, 0}};
    for (size_t c = 0; c < BRACKET_CONFIGURATIONS_MAX; c++)
        result->deltas[c] = (struct bracket_delta){OUTCOME_TOO_FEW, (double)NAN, (double)NAN, 0, 0};
    memset(correlation, 0, n_configurations * n_configurations * sizeof *correlation);
    memset(weights, 0, n_configurations * n * sizeof *weights);
}

/* *baseline is the place of the only one. */
static enum outcome check(const struct observation *observations, size_t n, size_t n_configurations,
                          size_t *baseline)
{
    size_t returns = 0;

    if (n > BRACKET_OBSERVATIONS_MAX || n_configurations > BRACKET_CONFIGURATIONS_MAX)
        return OUTCOME_SINGULAR;
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(observations[i].time) || !isfinite(observations[i].value))
            return OUTCOME_NOT_FINITE;
        if (observations[i].configuration >= n_configurations)
            return OUTCOME_SINGULAR;
        if (observations[i].configuration > 0)
            continue;
        *baseline = i;
        returns++;
    }
    return returns == 1 ? OUTCOME_OK : OUTCOME_TOO_FEW;
}

static void add_up(const struct observation *observations, size_t n, double baseline,
                   struct bracket_result *result)
{
    for (size_t i = 0; i < n; i++) {
        struct bracket_delta *delta = &result->deltas[observations[i].configuration];
        if (observations[i].configuration == 0)
            continue;
        delta->delta =
            (delta->mountings == 0 ? 0 : delta->delta) + observations[i].value - baseline;
        delta->mountings++;
    }
}

enum outcome single_baseline_deltas(const struct observation *observations, size_t n,
                                    size_t n_configurations, struct bracket_result *result,
                                    double *correlation, double *weights)
{
    size_t baseline = 0;

    if (n > BRACKET_OBSERVATIONS_MAX || n_configurations > BRACKET_CONFIGURATIONS_MAX)
        return OUTCOME_SINGULAR;
    clear(n, n_configurations, result, correlation, weights);
    enum outcome outcome = check(observations, n, n_configurations, &baseline);
    if (outcome != OUTCOME_OK)
        return outcome;
    result->baseline_mountings = 1;
    add_up(observations, n, observations[baseline].value, result);
    for (size_t c = 1; c < n_configurations; c++) {
        struct bracket_delta *delta = &result->deltas[c];
        double mountings = (double)delta->mountings;
        if (delta->mountings == 0)
            continue;
        delta->outcome = OUTCOME_OK;
        delta->delta /= mountings;
        delta->variance_factor = 1 + 1 / mountings;
        for (size_t j = 0; j < n; j++)
            weights[c * n + j] = observations[j].configuration == c ? 1 / mountings : 0;
        weights[c * n + baseline] = -1;
    }
    for (size_t a = 1; a < n_configurations; a++)
        for (size_t b = 1; b < n_configurations; b++)
            if (result->deltas[a].outcome == OUTCOME_OK && result->deltas[b].outcome == OUTCOME_OK)
                correlation[a * n_configurations + b] =
                    a == b ? 1
                           : 1 / sqrt(result->deltas[a].variance_factor *
                                      result->deltas[b].variance_factor);
    return OUTCOME_OK;
}
