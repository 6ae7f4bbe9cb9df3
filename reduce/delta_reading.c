/* delta_reading.c - interval and verdict of a delta; see delta_reading.h. */
#include "reduce/delta_reading.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/statistics/student.h"
#include "reduce/statistics/verdict.h"

static int has_delta(const struct evidence *evidence, size_t configuration)
{
    return evidence->outcome == OUTCOME_OK && evidence->counted[configuration] > 0 &&
           evidence->bracket.deltas[configuration].outcome == OUTCOME_OK;
}

double delta_simultaneous_multiplier(const struct evidence *evidence, size_t n_configurations,
                                     double confidence)
{
    double correlation[BRACKET_CONFIGURATIONS_MAX * BRACKET_CONFIGURATIONS_MAX];
    size_t with_delta[BRACKET_CONFIGURATIONS_MAX];
    size_t n = 0;
    double multiplier = (double)NAN;
    double freedom = evidence->bracket.noise.degrees_of_freedom;
    for (size_t i = 1; i < n_configurations && i < BRACKET_CONFIGURATIONS_MAX; i++)
        if (has_delta(evidence, i))
            with_delta[n++] = i;
    if (n == 0 || !(freedom > 0))
        return multiplier;
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++)
            correlation[i * n + j] =
                evidence->correlation[with_delta[i] * n_configurations + with_delta[j]];
    if (simultaneous_multiplier(correlation, n, confidence, freedom, &multiplier) != OUTCOME_OK)
        return (double)NAN;
    return multiplier;
}

static void give_reason(struct delta_reading *reading, const char *reason)
{
    (void)snprintf(reading->reason, sizeof reading->reason, "%s", reason);
}

/* Why there is no delta at all. */
static void read_nothing(const struct evidence *evidence, size_t configuration,
                         struct delta_reading *reading)
{
    if (evidence->n == 0 || evidence->counted[configuration] == 0)
        give_reason(reading, "not measured at this attitude");
    else if (evidence->counted[0] == 0)
        give_reason(reading, "baseline not measured at this attitude: no verdict");
    else if (evidence->counted[0] == 1)
        give_reason(reading, "baseline returned once: no verdict");
    else
        give_reason(reading, "not bracketed by baseline returns");
}

static void draw_interval(const struct evidence *evidence, double confidence, double simultaneous,
                          int is_main, struct delta_reading *reading)
{
    double freedom = evidence->bracket.noise.degrees_of_freedom;
    if (!(freedom > 0)) {
        give_reason(reading, "no repeats: no interval");
        return;
    }
    reading->degrees_of_freedom = freedom;
    reading->multiplier = is_main ? simultaneous : student_multiplier(confidence, freedom);
    reading->half_width = reading->multiplier * reading->standard_uncertainty;
    reading->lower = reading->delta - reading->half_width;
    reading->upper = reading->delta + reading->half_width;
    if (isnan(reading->half_width))
        give_reason(reading, "the deltas' correlation has no quantile: no interval");
}

static enum direction direction_of(enum better better)
{
    static const enum direction table[] = {
        [BETTER_HIGHER] = DIRECTION_HIGHER,
        [BETTER_LOWER] = DIRECTION_LOWER,
        [BETTER_TOWARD] = DIRECTION_TOWARD,
        [BETTER_UNDECLARED] = DIRECTION_NONE,
    };
    return table[better];
}

static void read_verdict(const struct evidence *evidence, const struct metric *metric,
                         struct delta_reading *reading)
{
    if (reading->mountings < 2) {
        give_reason(reading, "parts not refitted: no verdict (1 mounting)");
        return;
    }
    if (reading->baseline_mountings < 2) {
        give_reason(reading, "baseline returned once: no verdict");
        return;
    }
    struct verdict_reading words =
        verdict_read(reading->lower, reading->upper, metric->worthwhile,
                     direction_of(metric->better), evidence->baseline_mean, metric->toward);
    reading->verdict = verdict_words(words.verdict);
    reading->real_but_small = words.real_but_small;
}

void delta_read(const struct evidence *evidence, size_t configuration, double confidence,
                double simultaneous, const struct metric *metric, struct delta_reading *reading)
{
    const double nothing = (double)NAN;
    memset(reading, 0, sizeof *reading);
    reading->delta = nothing;
    reading->standard_uncertainty = nothing;
    reading->degrees_of_freedom = nothing;
    reading->half_width = nothing;
    reading->lower = nothing;
    reading->upper = nothing;
    reading->multiplier = nothing;
    if (configuration >= BRACKET_CONFIGURATIONS_MAX) {
        give_reason(reading, "the family has more configurations than can be compared at once");
        return;
    }
    reading->mountings = evidence->counted[configuration];
    reading->baseline_mountings = evidence->counted[0];
    if (!has_delta(evidence, configuration)) {
        read_nothing(evidence, configuration, reading);
        return;
    }
    const struct bracket_delta *found = &evidence->bracket.deltas[configuration];
    reading->delta = found->delta;
    reading->mountings = found->mountings;
    if (evidence->bracket.noise.degrees_of_freedom > 0)
        reading->standard_uncertainty =
            evidence->bracket.noise.standard_deviation * sqrt(found->variance_factor);
    draw_interval(evidence, confidence, simultaneous, metric != NULL, reading);
    if (metric != NULL && isfinite(reading->half_width))
        read_verdict(evidence, metric, reading);
}
