/* delta_reading.c - interval and verdict of a delta; see delta_reading.h. */
#include "reduce/delta_reading.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/statistics/student.h"
#include "reduce/statistics/verdict.h"

const double delta_few_degrees = 3;

int delta_has_few_degrees(const struct delta_reading *reading)
{
    return isfinite(reading->half_width) && reading->degrees_of_freedom < delta_few_degrees;
}

static int has_delta(const struct evidence *evidence, size_t configuration)
{
    return evidence->outcome == OUTCOME_OK && evidence->counted[configuration] > 0 &&
           evidence->bracket.deltas[configuration].outcome == OUTCOME_OK;
}

struct delta_multiplier delta_simultaneous(const struct evidence *evidence, size_t n_configurations,
                                           double confidence)
{
    double correlation[BRACKET_CONFIGURATIONS_MAX * BRACKET_CONFIGURATIONS_MAX];
    size_t with_delta[BRACKET_CONFIGURATIONS_MAX];
    size_t n = 0;
    struct delta_multiplier made = {(double)NAN, (double)INFINITY};
    if (!evidence_has_noise(evidence))
        return made;
    for (size_t i = 1; i < n_configurations && i < BRACKET_CONFIGURATIONS_MAX; i++) {
        if (!has_delta(evidence, i) || isnan(evidence->uncertainty.standard[i]))
            continue;
        with_delta[n++] = i;
        made.degrees_of_freedom =
            fmin(made.degrees_of_freedom, evidence->uncertainty.degrees_of_freedom[i]);
    }
    if (n == 0)
        return made;
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++)
            correlation[i * n + j] =
                evidence->correlation[with_delta[i] * n_configurations + with_delta[j]];
    if (simultaneous_multiplier(correlation, n, confidence, made.degrees_of_freedom,
                                &made.multiplier) != OUTCOME_OK)
        made.multiplier = (double)NAN;
    return made;
}

static void give_reason(struct delta_reading *reading, const char *reason)
{
    (void)snprintf(reading->reason, sizeof reading->reason, "%s", reason);
}

/* Why there is no delta at all. */
static void read_nothing(const struct evidence *evidence, size_t configuration,
                         struct delta_reading *reading)
{
    if (evidence->counted[configuration] == 0 && evidence->undefined[configuration] > 0)
        give_reason(reading, "undefined at its points: no delta");
    else if (evidence->counted[configuration] == 0 && evidence->left_out[configuration] > 0)
        give_reason(reading, "left out at this attitude: no delta");
    else if (evidence->counted[configuration] == 0)
        give_reason(reading, "not measured at this attitude");
    else if (evidence->counted[0] == 0 && evidence->undefined[0] > 0)
        give_reason(reading, "undefined at the baseline's points: no delta");
    else if (evidence->counted[0] == 0 && evidence->left_out[0] > 0)
        give_reason(reading, "baseline left out at this attitude: no delta");
    else if (evidence->counted[0] == 0)
        give_reason(reading, "baseline not measured at this attitude: no verdict");
    else if (evidence->counted[0] == 1)
        give_reason(reading, "baseline returned once: no verdict");
    else
        give_reason(reading, "not bracketed by baseline returns");
}

static void draw_interval(const struct evidence *evidence, size_t configuration, double confidence,
                          const struct delta_multiplier *simultaneous,
                          struct delta_reading *reading)
{
    if (evidence->repeats_identical) {
        give_reason(reading, "repeats are identical: resolution not known");
        return;
    }
    if (!evidence_has_noise(evidence)) {
        give_reason(reading, "no repeats: no interval");
        return;
    }
    double freedom = evidence->uncertainty.degrees_of_freedom[configuration];
    struct delta_multiplier single = {student_multiplier(confidence, freedom), freedom};
    const struct delta_multiplier *used = simultaneous != NULL ? simultaneous : &single;
    reading->standard_uncertainty = evidence->uncertainty.standard[configuration];
    reading->degrees_of_freedom = used->degrees_of_freedom;
    reading->multiplier = used->multiplier;
    reading->half_width = reading->multiplier * reading->standard_uncertainty;
    reading->lower = reading->delta - reading->half_width;
    reading->upper = reading->delta + reading->half_width;
    if (isnan(reading->standard_uncertainty))
        give_reason(reading, "the step to the target has no uncertainty: no interval");
    else if (isnan(reading->half_width))
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

/* An interval from very few repeats is honest but may be wide or narrow by luck of the estimate. */
static void add_caveat(struct delta_reading *reading)
{
    double shown = floor(10 * reading->degrees_of_freedom + 1e-6) / 10;
    if (delta_has_few_degrees(reading))
        (void)snprintf(reading->reason, sizeof reading->reason, "only %g degree%s of freedom",
                       shown, shown == 1 ? "" : "s");
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
    add_caveat(reading);
}

void delta_read(const struct evidence *evidence, size_t configuration, double confidence,
                const struct delta_multiplier *simultaneous, const struct metric *metric,
                struct delta_reading *reading)
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
    draw_interval(evidence, configuration, confidence, simultaneous, reading);
    if (metric != NULL && isfinite(reading->half_width))
        read_verdict(evidence, metric, reading);
}

void delta_read_all(const struct evidence *evidence, size_t n_configurations, double confidence,
                    const struct metric *metric, struct delta_reading *readings)
{
    struct delta_multiplier simultaneous = {(double)NAN, (double)NAN};
    if (metric != NULL)
        simultaneous = delta_simultaneous(evidence, n_configurations, confidence);
    for (size_t i = 1; i < n_configurations; i++)
        delta_read(evidence, i, confidence, metric == NULL ? NULL : &simultaneous, metric,
                   &readings[i]);
}
