/* evidence_estimate.c - see evidence_estimate.h. */
#include "reduce/evidence_estimate.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"
#include "reduce/statistics/drift_curvature.h"
#include "reduce/statistics/single_baseline.h"

/* Scatter below this share of the values is rounding of the arithmetic. */
static const double SAME_VALUE = 1e-12;

/* One method's estimates with all that they have in common. */
struct estimated {
    struct delta_estimate *deltas; /* n_configurations */
    double *correlation;           /* n_configurations squared */
    double *weights;               /* n_configurations x observations */
};

struct estimating {
    struct evidence *evidence;
    size_t n_configurations;
    struct variance_estimate tonight, season;
    struct estimated bracket, night;
    struct night_result result;
};

static enum status estimated_make(size_t n_configurations, size_t n, struct estimated *made,
                                  struct fault *fault)
{
    void *deltas = NULL;
    void *correlation = NULL;
    void *weights = NULL;
    enum status status = array_make(&deltas, n_configurations, sizeof *made->deltas, fault);
    if (status == OK)
        status = array_make(&correlation, n_configurations * n_configurations,
                            sizeof *made->correlation, fault);
    if (status == OK)
        status = array_make(&weights, n_configurations * n, sizeof *made->weights, fault);
    made->deltas = deltas;
    made->correlation = correlation;
    made->weights = weights;
    return status;
}

static void estimated_end(struct estimated *made)
{
    free(made->deltas);
    free(made->correlation);
    free(made->weights);
}

/* Values given to a few digits may repeat exactly; the noise is then hidden by the rounding. */
static int are_identical(const struct evidence *evidence)
{
    double largest = 0;
    for (size_t i = 0; i < evidence->n; i++)
        largest = fmax(largest, fabs(evidence->observations[i].value));
    return evidence->bracket.noise.degrees_of_freedom > 0 &&
           evidence->bracket.noise.standard_deviation <= SAME_VALUE * largest;
}

static enum outcome bracket_all(struct estimating *work)
{
    struct evidence *evidence = work->evidence;
    size_t n = work->n_configurations;
    evidence->is_single = evidence->counted[0] == 1;
    if (evidence->is_single)
        return single_baseline_deltas(evidence->observations, evidence->n, n, &evidence->bracket,
                                      work->bracket.correlation, work->bracket.weights);
    enum outcome outcome = bracket_deltas(evidence->observations, evidence->n, n,
                                          &evidence->bracket, work->bracket.correlation);
    if (outcome == OUTCOME_OK)
        bracket_weights(evidence->observations, evidence->n, n, &evidence->bracket,
                        work->bracket.weights);
    return outcome;
}

static void choose_noise(struct estimating *work)
{
    struct evidence *evidence = work->evidence;
    work->tonight = (struct variance_estimate){(double)NAN, 0};
    evidence->repeats_identical = are_identical(evidence);
    if (evidence_has_noise(evidence))
        work->tonight = (struct variance_estimate){evidence->bracket.noise.standard_deviation *
                                                       evidence->bracket.noise.standard_deviation,
                                                   evidence->bracket.noise.degrees_of_freedom};
    evidence->noise_source =
        variance_choose(work->tonight, work->season, EVIDENCE_FREEDOM_LEAST, &evidence->noise);
}

/* The returns in order of time; those of one time as their mean, since a line through them is none. */
static size_t sort_returns(const struct evidence *evidence, double *times, double *values)
{
    size_t n = 0;
    size_t at_once[BRACKET_OBSERVATIONS_MAX] = {0};
    for (size_t i = 0; i < evidence->n; i++) {
        const struct observation *one = &evidence->observations[i];
        size_t at = n;
        if (one->configuration != 0)
            continue;
        while (at > 0 && times[at - 1] >= one->time)
            at--;
        if (at < n && times[at] <= one->time) {
            values[at] += (one->value - values[at]) / (double)++at_once[at];
            continue;
        }
        memmove(times + at + 1, times + at, (n - at) * sizeof *times);
        memmove(values + at + 1, values + at, (n - at) * sizeof *values);
        memmove(at_once + at + 1, at_once + at, (n - at) * sizeof *at_once);
        times[at] = one->time;
        values[at] = one->value;
        at_once[at] = 1;
        n++;
    }
    return n;
}

/* What the bend of the drift adds to one bracketed observation, in the mean over the mountings; 0 with a
 * single baseline, from which no bracket misses anything. */
static void add_bends(const struct estimating *work, double *bends)
{
    const struct evidence *evidence = work->evidence;
    double times[BRACKET_OBSERVATIONS_MAX];
    double values[BRACKET_OBSERVATIONS_MAX];
    struct drift_curvature curvature;
    size_t n = sort_returns(evidence, times, values);
    double noise = evidence->noise.freedom > 0 ? evidence->noise.variance : 0;
    if (evidence->is_single)
        return;
    enum outcome outcome = drift_curvature_find(times, values, n, noise, &curvature);
    for (size_t i = 0; i < evidence->n; i++) {
        const struct observation *one = &evidence->observations[i];
        size_t after = 0;
        while (after < n && times[after] < one->time)
            after++;
        if (one->configuration == 0 || after == n || (after == 0 && times[0] > one->time))
            continue;
        double bend = outcome == OUTCOME_OK ? 0 : (double)NAN;
        if (outcome == OUTCOME_OK && after > 0)
            bend = drift_curvature_variance(&curvature, times[after - 1], one->time, times[after]);
        bends[one->configuration] +=
            bend / (double)evidence->bracket.deltas[one->configuration].mountings;
    }
}

static void find_night(struct estimating *work)
{
    struct evidence *evidence = work->evidence;
    if (evidence->repeats_identical)
        return;
    (void)night_deltas_weighted(evidence->runs, evidence->n_runs, work->n_configurations,
                                &work->result, work->night.correlation, work->night.weights);
}

static void choose_headlines(struct estimating *work, const double *bends)
{
    struct evidence *evidence = work->evidence;
    for (size_t c = 1; c < work->n_configurations; c++) {
        const struct bracket_delta *bracket = &evidence->bracket.deltas[c];
        struct delta_headline *chosen = &evidence->headlines[c];
        *chosen = delta_headline_choose(&work->result.deltas[c], work->result.baseline_mountings,
                                        work->result.spare, bracket, bends[c], work->tonight,
                                        work->season, EVIDENCE_FREEDOM_LEAST);
        int is_night = chosen->source == HEADLINE_NIGHT;
        work->night.deltas[c] = is_night ? chosen->headline : chosen->beside;
        work->bracket.deltas[c] = is_night ? chosen->beside : chosen->headline;
    }
}

/* The bracket's correlation is that of its scatter; what bends is each delta's own. */
static void bend_correlation(const struct estimating *work)
{
    const struct evidence *evidence = work->evidence;
    size_t n = work->n_configurations;
    for (size_t a = 1; a < n; a++)
        for (size_t b = 1; b < n; b++) {
            double whole =
                work->bracket.deltas[a].standard_error * work->bracket.deltas[b].standard_error;
            if (a == b || !(whole > 0))
                continue;
            work->bracket.correlation[a * n + b] *=
                evidence->noise.variance *
                sqrt(evidence->bracket.deltas[a].variance_factor *
                     evidence->bracket.deltas[b].variance_factor) /
                whole;
        }
}

/* Estimates of two methods are taken as uncorrelated, which makes simultaneous intervals wider (Sidak 1967,
 * see statistics/shared_error.h). */
static void take_headlines(const struct estimating *work)
{
    struct evidence *evidence = work->evidence;
    size_t n = work->n_configurations;
    for (size_t a = 1; a < n; a++) {
        struct delta_headline *chosen = &evidence->headlines[a];
        int is_night = chosen->source == HEADLINE_NIGHT;
        chosen->headline = is_night ? work->night.deltas[a] : work->bracket.deltas[a];
        chosen->beside = is_night ? work->bracket.deltas[a] : work->night.deltas[a];
        for (size_t b = 1; b < n; b++) {
            const struct estimated *of = is_night ? &work->night : &work->bracket;
            double *r = &evidence->correlation[a * n + b];
            *r = chosen->source == work->evidence->headlines[b].source ? of->correlation[a * n + b]
                                                                       : 0;
        }
    }
}

static void estimate(struct estimating *work)
{
    struct evidence *evidence = work->evidence;
    double bends[BRACKET_CONFIGURATIONS_MAX] = {0};
    add_bends(work, bends);
    find_night(work);
    choose_headlines(work, bends);
    bend_correlation(work);
    shared_error_add(evidence->shared, evidence->n, work->bracket.weights, work->n_configurations,
                     work->bracket.deltas, work->bracket.correlation);
    shared_error_add(evidence->run_shared, evidence->n_runs, work->night.weights,
                     work->n_configurations, work->night.deltas, work->night.correlation);
    take_headlines(work);
}

enum status evidence_estimate(struct evidence *evidence, size_t n_configurations,
                              const struct variance_estimate *season, struct fault *fault)
{
    struct estimating work = {.evidence = evidence, .n_configurations = n_configurations};
    work.season = season == NULL ? (struct variance_estimate){(double)NAN, 0} : *season;
    for (size_t c = 0; c < NIGHT_CONFIGURATIONS_MAX; c++)
        work.result.deltas[c].outcome = OUTCOME_TOO_FEW;
    enum status status = estimated_make(n_configurations, evidence->n, &work.bracket, fault);
    if (status == OK)
        status = estimated_make(n_configurations, evidence->n_runs, &work.night, fault);
    if (status == OK) {
        evidence->outcome = bracket_all(&work);
        if (evidence->outcome == OUTCOME_OK)
            choose_noise(&work);
        if (evidence->outcome == OUTCOME_OK && season != NULL)
            estimate(&work);
    }
    if (evidence->outcome == OUTCOME_NO_MEMORY)
        status = FAIL(fault, NO_MEMORY, "no memory for the comparison of %zu configurations",
                      n_configurations);
    estimated_end(&work.bracket);
    estimated_end(&work.night);
    return status;
}
