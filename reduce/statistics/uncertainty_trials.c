/* uncertainty_trials.c - see uncertainty_trials.h. */
#include "reduce/statistics/uncertainty_trials.h"

#include <gsl/gsl_linalg.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/physics/finite.h"

enum { TRIALS_LEAST = 100, TRIALS_MOST = 1000000 };

static const double ANSWERED_LEAST = 0.99;

struct trials {
    const struct trial_request *request;
    gsl_rng *random;
    double factor[UNCERTAINTY_SOURCES_MAX * UNCERTAINTY_SOURCES_MAX]; /* of the correlation */
    double *first, *second, *delta;                                   /* answers */
    size_t answered;
};

/* Of standard deviation one. */
static double draw_shape(gsl_rng *random, enum error_shape shape)
{
    const double pi = 3.141592653589793;

    switch (shape) {
    case SHAPE_RECTANGULAR:
        return sqrt(3) * (2 * gsl_rng_uniform(random) - 1);
    case SHAPE_TRIANGULAR:
        return sqrt(6) * (gsl_rng_uniform(random) + gsl_rng_uniform(random) - 1);
    case SHAPE_ARCSINE:
        return sqrt(2) * sin(pi * (2 * gsl_rng_uniform(random) - 1));
    case SHAPE_NORMAL:
        break;
    }
    return gsl_ran_gaussian(random, 1);
}

static void draw_all(const struct trials *trials, double *error)
{
    const struct error_budget *budget = trials->request->budget;
    double own[UNCERTAINTY_SOURCES_MAX] = {0};

    for (size_t i = 0; i < budget->n; i++)
        own[i] = draw_shape(trials->random, budget->sources[i].shape);
    for (size_t i = 0; i < budget->n; i++) {
        error[i] = budget->correlation == NULL ? own[i] : 0;
        for (size_t j = 0; j <= i && budget->correlation != NULL; j++)
            error[i] += trials->factor[i * budget->n + j] * own[j];
    }
}

static int find_with(const struct trial_request *request, const double *inputs, const double *error,
                     double *value)
{
    double moved[UNCERTAINTY_INPUTS_MAX], outputs[UNCERTAINTY_OUTPUTS_MAX] = {0};

    memcpy(moved, inputs, request->point->inputs * sizeof *moved);
    for (size_t i = 0; i < request->budget->n; i++) {
        const struct error_source *source = &request->budget->sources[i];
        moved[source->input] +=
            error[i] * source->standard * (source->is_relative ? fabs(inputs[source->input]) : 1);
    }
    if (!request->point->find(moved, outputs, request->point->context))
        return 0;
    *value = outputs[request->output];
    return isfinite(*value);
}

static void run_trials(struct trials *trials)
{
    const struct trial_request *request = trials->request;
    double one[UNCERTAINTY_SOURCES_MAX] = {0}, other[UNCERTAINTY_SOURCES_MAX] = {0};

    for (size_t k = 0; k < request->trials; k++) {
        size_t at = trials->answered;
        draw_all(trials, one);
        int has_answer = find_with(request, request->first, one, &trials->first[at]);
        if (request->second != NULL) {
            draw_all(trials, other);
            for (size_t i = 0; i < request->budget->n; i++)
                if (uncertainty_is_shared(request->budget->sources[i].reach, request->share))
                    other[i] = one[i];
            has_answer &= find_with(request, request->second, other, &trials->second[at]);
            trials->delta[at] = trials->second[at] - trials->first[at];
        }
        trials->answered += has_answer ? 1U : 0U;
    }
}

static struct drawn summarise(double *values, size_t n)
{
    double mean = gsl_stats_mean(values, 1, n);
    struct drawn drawn = {mean, gsl_stats_sd_m(values, 1, n, mean), NAN, NAN};

    gsl_sort(values, 1, n);
    drawn.lower = gsl_stats_quantile_from_sorted_data(values, 1, n, 0.025);
    drawn.upper = gsl_stats_quantile_from_sorted_data(values, 1, n, 0.975);
    return drawn;
}

/* Correlations of the budget as uncertainty_contributions() wants them, and normal. */
static enum outcome factor_correlation(struct trials *trials)
{
    const struct error_budget *budget = trials->request->budget;

    if (budget->correlation == NULL)
        return OUTCOME_OK;
    for (size_t i = 0; i < budget->n; i++)
        for (size_t j = 0; j < budget->n; j++) {
            trials->factor[i * budget->n + j] = budget->correlation[i * budget->n + j];
            if (i != j && budget->correlation[i * budget->n + j] != 0 &&
                budget->sources[i].shape != SHAPE_NORMAL)
                return OUTCOME_SINGULAR;
        }
    gsl_matrix_view factor = gsl_matrix_view_array(trials->factor, budget->n, budget->n);
    return gsl_linalg_cholesky_decomp1(&factor.matrix) == 0 ? OUTCOME_OK : OUTCOME_SINGULAR;
}

/* The steps' own checks, made at both points. */
static enum outcome check(const struct trial_request *request)
{
    double contribution[UNCERTAINTY_SOURCES_MAX * UNCERTAINTY_OUTPUTS_MAX];

    if (request->trials < TRIALS_LEAST)
        return OUTCOME_TOO_FEW;
    if (request->trials > TRIALS_MOST || request->output >= request->point->outputs)
        return OUTCOME_SINGULAR;
    enum outcome outcome = uncertainty_contributions(request->point, request->first,
                                                     request->budget, contribution, NULL);
    if ((outcome == OUTCOME_OK || outcome == OUTCOME_UNMEASURED) && request->second != NULL)
        outcome = uncertainty_contributions(request->point, request->second, request->budget,
                                            contribution, NULL);
    return outcome == OUTCOME_UNMEASURED ? OUTCOME_OK : outcome;
}

static enum outcome finish(struct trials *trials, struct trial_result *result)
{
    const struct trial_request *request = trials->request;

    result->failed = request->trials - trials->answered;
    if ((double)trials->answered < ANSWERED_LEAST * (double)request->trials)
        return OUTCOME_TOO_FEW;
    result->first = summarise(trials->first, trials->answered);
    if (request->second != NULL) {
        result->second = summarise(trials->second, trials->answered);
        result->delta = summarise(trials->delta, trials->answered);
    }
    return OUTCOME_OK;
}

enum outcome uncertainty_draw(const struct trial_request *request, struct trial_result *result)
{
    const struct drawn none = {NAN, NAN, NAN, NAN};
    struct trials trials = {.request = request};

    *result = (struct trial_result){none, none, none, 0};
    enum outcome outcome = check(request);
    if (outcome == OUTCOME_OK)
        outcome = factor_correlation(&trials);
    if (outcome != OUTCOME_OK)
        return outcome;
    trials.random = gsl_rng_alloc(gsl_rng_mt19937);
    trials.first = calloc(request->trials, sizeof *trials.first);
    trials.second = calloc(request->trials, sizeof *trials.second);
    trials.delta = calloc(request->trials, sizeof *trials.delta);
    outcome = OUTCOME_NO_MEMORY;
    if (trials.random != NULL && trials.first != NULL && trials.second != NULL &&
        trials.delta != NULL) {
        gsl_rng_set(trials.random, request->seed);
        run_trials(&trials);
        outcome = finish(&trials, result);
    }
    if (trials.random != NULL)
        gsl_rng_free(trials.random);
    free(trials.first);
    free(trials.second);
    free(trials.delta);
    return outcome;
}

int uncertainty_agrees(const struct drawn *drawn, double value, double standard, double multiplier)
{
    if (!(standard > 0) || !isfinite(standard))
        return 0;
    double unit = pow(10, floor(log10(standard)) - 1);
    return fabs(value - multiplier * standard - drawn->lower) <= unit / 2 &&
           fabs(value + multiplier * standard - drawn->upper) <= unit / 2;
}
