/* delta_reading.c - interval and verdict of a delta; see delta_reading.h. */
#include "reduce/delta_reading.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "reduce/statistics/detectable.h"
#include "reduce/statistics/student.h"

const double delta_few_degrees = 3;

/* Common practice, no source. */
static const double pairs_power = 0.8;

int delta_has_few_degrees(const struct delta_reading *reading)
{
    return isfinite(reading->half_width) && reading->degrees_of_freedom < delta_few_degrees;
}

struct delta_freedom_text delta_freedom_text(const struct delta_reading *reading)
{
    struct delta_freedom_text freedom;
    double shown = round(10 * reading->degrees_of_freedom) / 10;
    int is_under = reading->degrees_of_freedom < delta_few_degrees && shown >= delta_few_degrees;
    (void)snprintf(freedom.text, sizeof freedom.text, "%s%g degree%s of freedom",
                   is_under ? "just under " : "", shown, shown == 1 ? "" : "s");
    return freedom;
}

static int has_delta(const struct evidence *evidence, size_t configuration)
{
    return evidence->outcome == OUTCOME_OK && evidence->counted[configuration] > 0 &&
           evidence->bracket.deltas[configuration].outcome == OUTCOME_OK;
}

static int is_known(const struct delta_estimate *estimate)
{
    return isfinite(estimate->delta) && isfinite(estimate->standard_error) &&
           estimate->degrees_of_freedom > 0;
}

struct delta_multiplier delta_simultaneous(const struct evidence *evidence, size_t n_configurations,
                                           double confidence, double significance)
{
    double correlation[BRACKET_CONFIGURATIONS_MAX * BRACKET_CONFIGURATIONS_MAX];
    size_t with_delta[BRACKET_CONFIGURATIONS_MAX];
    size_t n = 0;
    struct delta_multiplier made = {(double)NAN, (double)INFINITY};
    for (size_t i = 1; i < n_configurations && i < BRACKET_CONFIGURATIONS_MAX; i++) {
        const struct delta_estimate *headline = &evidence->headlines[i].headline;
        if (!has_delta(evidence, i) || !is_known(headline))
            continue;
        with_delta[n++] = i;
        made.degrees_of_freedom = fmin(made.degrees_of_freedom, headline->degrees_of_freedom);
    }
    if (n == 0)
        return made;
    if (significance > 0) {
        made.multiplier = student_multiplier(1 - significance, made.degrees_of_freedom);
        return made;
    }
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++)
            correlation[i * n + j] =
                evidence->correlation[with_delta[i] * n_configurations + with_delta[j]];
    if (simultaneous_multiplier(correlation, n, confidence, made.degrees_of_freedom,
                                &made.multiplier) != OUTCOME_OK)
        made.multiplier = (double)NAN;
    return made;
}

double delta_significance(const struct delta_reading *reading)
{
    if (!isfinite(reading->half_width))
        return (double)NAN;
    return 2 * gsl_cdf_tdist_Q(reading->multiplier, reading->degrees_of_freedom);
}

static void give_reason(struct delta_reading *reading, const char *reason)
{
    (void)snprintf(reading->reason, sizeof reading->reason, "%s", reason);
}

/* One more caveat, after a semicolon. */
static void add_reason(struct delta_reading *reading, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
static void add_reason(struct delta_reading *reading, const char *format, ...)
{
    size_t used = strlen(reading->reason);
    va_list values;
    if (used > 0 && used + 2 < sizeof reading->reason)
        used += (size_t)snprintf(reading->reason + used, sizeof reading->reason - used, "; ");
    va_start(values, format);
    (void)vsnprintf(reading->reason + used, sizeof reading->reason - used, format, values);
    va_end(values);
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
    else
        give_reason(reading, "not bracketed by baseline returns");
}

/* Why there is a delta and no interval. */
static void read_no_interval(const struct evidence *evidence, size_t configuration,
                             struct delta_reading *reading)
{
    int has_estimate = evidence->headlines[configuration].source != HEADLINE_NOBODYS;
    if (has_estimate)
        give_reason(reading, "the step to the target has no uncertainty: no interval");
    else if (evidence->is_single)
        give_reason(reading, "baseline measured once and no earlier entry tells the noise: no "
                             "interval");
    else if (evidence->repeats_identical)
        give_reason(reading, "repeats are identical: resolution not known");
    else
        give_reason(reading, "no repeats, in this entry or in the season: no interval");
}

static void name_method(const struct evidence *evidence, const struct delta_headline *headline,
                        struct delta_reading *reading)
{
    int is_season =
        headline->source == HEADLINE_BRACKET && evidence->noise_source == VARIANCE_SEASONS;
    reading->method = headline->source == HEADLINE_NIGHT ? "whole night" : "local bracket";
    reading->noise_source = is_season ? "season" : "tonight";
    reading->beside = headline->beside;
    reading->disagrees = headline->disagree;
}

static void draw_interval(const struct evidence *evidence, size_t configuration, double confidence,
                          const struct delta_multiplier *simultaneous,
                          struct delta_reading *reading)
{
    const struct delta_headline *headline = &evidence->headlines[configuration];
    if (!is_known(&headline->headline)) {
        read_no_interval(evidence, configuration, reading);
        return;
    }
    double freedom = headline->headline.degrees_of_freedom;
    struct delta_multiplier single = {student_multiplier(confidence, freedom), freedom};
    const struct delta_multiplier *used = simultaneous != NULL ? simultaneous : &single;
    name_method(evidence, headline, reading);
    reading->delta = headline->headline.delta;
    reading->standard_uncertainty = headline->headline.standard_error;
    reading->degrees_of_freedom = used->degrees_of_freedom;
    reading->multiplier = used->multiplier;
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

/* Earlier entries, or none where campaign.yaml declares the noise. */
static void say_borrowed(const struct evidence *evidence, const struct delta_rule *rule,
                         struct delta_reading *reading)
{
    if (reading->noise_source[0] != 's')
        return;
    if (rule->entries == 0)
        add_reason(reading, "noise borrowed, as declared: %.3g degrees of freedom",
                   evidence->noise.freedom);
    else
        add_reason(reading, "noise borrowed from the season: %zu entr%s, %.3g degrees of freedom",
                   rule->entries, rule->entries == 1 ? "y" : "ies", evidence->noise.freedom);
}

/* An interval from very few repeats is honest but may be wide or narrow by luck of the estimate. */
static void add_caveat(struct delta_reading *reading)
{
    if (delta_has_few_degrees(reading))
        add_reason(reading, "only %s", delta_freedom_text(reading).text);
}

/* Pairs that would find what is worthwhile, from the very interval that is drawn: its significance for one
 * delta, its standard uncertainty and its degrees of freedom. */
static void count_pairs(const struct metric *metric, struct delta_reading *reading)
{
    const struct assurance assurance = {delta_significance(reading), pairs_power};
    const struct variance_estimate delta = {
        reading->standard_uncertainty * reading->standard_uncertainty, reading->degrees_of_freedom};
    reading->pairs_needed = detectable_pairs_needed(
        delta, reading->mountings, reading->baseline_mountings, metric->worthwhile, assurance);
    if (reading->pairs_needed > 0)
        add_reason(reading, "about %zu more pair%s would find a worthwhile change",
                   reading->pairs_needed, reading->pairs_needed == 1 ? "" : "s");
}

/* 1 when the noise has the refit of the configuration in it; else the reason says what is missing. */
static int may_be_judged(const struct evidence *evidence, struct delta_reading *reading)
{
    int is_season = reading->noise_source[0] == 's';
    if (evidence->is_single)
        give_reason(reading, "baseline measured once, drift not told: no verdict");
    else if (is_season)
        return 1;
    else if (reading->mountings < 2)
        give_reason(reading, "parts not refitted: no verdict (1 mounting)");
    else
        return reading->baseline_mountings >= 2;
    return 0;
}

static void read_verdict(const struct evidence *evidence, const struct metric *metric,
                         struct delta_reading *reading)
{
    struct verdict_reading words =
        verdict_read(reading->lower, reading->upper, metric->worthwhile,
                     direction_of(metric->better), evidence->baseline_mean, metric->toward);
    reading->verdict = verdict_words(words.verdict);
    reading->word = words.verdict;
    reading->real_but_small = words.real_but_small;
    if (words.verdict == VERDICT_CANNOT_TELL)
        count_pairs(metric, reading);
    add_caveat(reading);
}

static void clear(struct delta_reading *reading)
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
    reading->shrunk = nothing;
    reading->shrunk_uncertainty = nothing;
    reading->beside = (struct delta_estimate){nothing, nothing, nothing};
    reading->word = VERDICT_CANNOT_TELL;
    reading->method = "";
    reading->noise_source = "";
}

void delta_read(const struct evidence *evidence, size_t configuration,
                const struct delta_rule *rule, const struct delta_multiplier *simultaneous,
                struct delta_reading *reading)
{
    clear(reading);
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
    draw_interval(evidence, configuration, rule->confidence, simultaneous, reading);
    if (!isfinite(reading->half_width))
        return;
    if (rule->metric != NULL && may_be_judged(evidence, reading))
        read_verdict(evidence, rule->metric, reading);
    say_borrowed(evidence, rule, reading);
}

void delta_read_all(const struct evidence *evidence, size_t n_configurations,
                    const struct delta_rule *rule, struct delta_reading *readings)
{
    struct delta_multiplier simultaneous = {(double)NAN, (double)NAN};
    if (rule->metric != NULL)
        simultaneous =
            delta_simultaneous(evidence, n_configurations, rule->confidence, rule->significance);
    for (size_t i = 1; i < n_configurations; i++)
        delta_read(evidence, i, rule, rule->metric == NULL ? NULL : &simultaneous, &readings[i]);
}
