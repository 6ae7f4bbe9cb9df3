/* uncertainty.c - see uncertainty.h. */
#include "reduce/statistics/uncertainty.h"

#include <math.h>
#include <string.h>

#include "reduce/physics/finite.h"
#include "reduce/statistics/two_samples.h"

static const double BENT = 0.1;
static const double ROUNDING = 1e-12;

static enum outcome check_source(const struct measured_point *point,
                                 const struct error_source *source)
{
    if (source->input >= point->inputs)
        return OUTCOME_SINGULAR;
    return isfinite(source->standard) && source->standard > 0 && source->freedom > 0
               ? OUTCOME_OK
               : OUTCOME_NOT_FINITE;
}

static int correlations_hold(const struct error_budget *budget)
{
    for (size_t i = 0; i < budget->n; i++)
        for (size_t j = 0; j < budget->n; j++) {
            double r = budget->correlation[i * budget->n + j];
            int is_alike = budget->sources[i].reach == budget->sources[j].reach;
            double mirrored = budget->correlation[j * budget->n + i];
            if (!(fabs(r) <= 1 + ROUNDING) || !(fabs(r - mirrored) <= ROUNDING) ||
                (i == j && !(fabs(r - 1) <= ROUNDING)) || (r != 0 && !is_alike))
                return 0;
        }
    return 1;
}

static enum outcome check(const struct measured_point *point, const double *inputs,
                          const struct error_budget *budget)
{
    if (point->inputs > UNCERTAINTY_INPUTS_MAX || point->outputs > UNCERTAINTY_OUTPUTS_MAX ||
        budget->n > UNCERTAINTY_SOURCES_MAX)
        return OUTCOME_SINGULAR;
    if (!all_finite(inputs, point->inputs))
        return OUTCOME_NOT_FINITE;
    for (size_t i = 0; i < budget->n; i++) {
        enum outcome outcome = check_source(point, &budget->sources[i]);
        if (outcome != OUTCOME_OK)
            return outcome;
    }
    return budget->correlation == NULL || correlations_hold(budget) ? OUTCOME_OK : OUTCOME_SINGULAR;
}

/* Outputs with one source's error at so many standard uncertainties. */
static int find_at(const struct measured_point *point, const double *inputs,
                   const struct error_source *source, double steps, double *outputs)
{
    double moved[UNCERTAINTY_INPUTS_MAX];

    memcpy(moved, inputs, point->inputs * sizeof *moved);
    moved[source->input] +=
        steps * source->standard * (source->is_relative ? fabs(inputs[source->input]) : 1);
    return point->find(moved, outputs, point->context) && all_finite(outputs, point->outputs);
}

enum outcome uncertainty_contributions(const struct measured_point *point, const double *inputs,
                                       const struct error_budget *budget, double *contribution,
                                       double *bend)
{
    double middle[UNCERTAINTY_OUTPUTS_MAX] = {0};
    double above[UNCERTAINTY_OUTPUTS_MAX] = {0}, below[UNCERTAINTY_OUTPUTS_MAX] = {0};
    enum outcome outcome = check(point, inputs, budget);

    if (outcome != OUTCOME_OK)
        return outcome;
    if (!point->find(inputs, middle, point->context) || !all_finite(middle, point->outputs))
        return OUTCOME_UNMEASURED;
    for (size_t i = 0; i < budget->n; i++) {
        if (!find_at(point, inputs, &budget->sources[i], 1, above) ||
            !find_at(point, inputs, &budget->sources[i], -1, below))
            return OUTCOME_UNMEASURED;
        for (size_t k = 0; k < point->outputs; k++) {
            contribution[i * point->outputs + k] = (above[k] - below[k]) / 2;
            if (bend != NULL)
                bend[i * point->outputs + k] = (above[k] + below[k]) / 2 - middle[k];
        }
    }
    return OUTCOME_OK;
}

static double correlation_of(const struct error_budget *budget, size_t i, size_t j)
{
    return budget->correlation != NULL ? budget->correlation[i * budget->n + j] : (double)(i == j);
}

/* c'R c with Satterthwaite's freedom over the sources' own variances, or the least with correlations. */
static struct combined combine(const struct error_budget *budget, const double *own,
                               double variance)
{
    double freedoms[UNCERTAINTY_SOURCES_MAX];
    double least = INFINITY;
    struct combined combined = {sqrt(fmax(variance, 0)), INFINITY};

    for (size_t i = 0; i < budget->n; i++) {
        freedoms[i] = budget->sources[i].freedom;
        if (own[i] > 0)
            least = fmin(least, freedoms[i]);
    }
    if (budget->correlation != NULL)
        combined.freedom = least;
    else if (variance > 0)
        combined.freedom = effective_freedom(own, freedoms, budget->n);
    return combined;
}

double uncertainty_covariance(const struct error_budget *budget, const double *contribution,
                              size_t outputs, size_t one, size_t other)
{
    double sum = 0;

    for (size_t i = 0; i < budget->n; i++)
        for (size_t j = 0; j < budget->n; j++)
            sum += contribution[i * outputs + one] * correlation_of(budget, i, j) *
                   contribution[j * outputs + other];
    return sum;
}

struct combined uncertainty_absolute(const struct error_budget *budget, const double *contribution,
                                     size_t outputs, size_t output)
{
    double own[UNCERTAINTY_SOURCES_MAX];

    for (size_t i = 0; i < budget->n; i++)
        own[i] = contribution[i * outputs + output] * contribution[i * outputs + output];
    return combine(budget, own,
                   uncertainty_covariance(budget, contribution, outputs, output, output));
}

int uncertainty_is_shared(enum error_reach reach, enum points_share share)
{
    switch (reach) {
    case REACH_POINT:
        return 0;
    case REACH_RUN:
        return share == SHARE_RUN;
    case REACH_ENTRY:
        return share != SHARE_NOTHING;
    case REACH_ALWAYS:
        break;
    }
    return 1;
}

/* Correlated sources have one reach, so shared and unshared ones never mix. */
struct combined uncertainty_delta(const struct error_budget *budget, const double *first,
                                  const double *second, size_t outputs, size_t output,
                                  enum points_share share)
{
    double own[UNCERTAINTY_SOURCES_MAX];
    double variance = 0;

    for (size_t i = 0; i < budget->n; i++) {
        double a = first[i * outputs + output], b = second[i * outputs + output];
        int is_shared = uncertainty_is_shared(budget->sources[i].reach, share);
        own[i] = is_shared ? (b - a) * (b - a) : a * a + b * b;
        for (size_t j = 0; j < budget->n; j++) {
            double c = first[j * outputs + output], d = second[j * outputs + output];
            double product = is_shared ? (b - a) * (d - c) : a * c + b * d;
            variance += product * correlation_of(budget, i, j);
        }
    }
    return combine(budget, own, variance);
}

int uncertainty_is_bent(const struct error_budget *budget, const double *contribution,
                        const double *bend, size_t outputs, size_t output)
{
    double sum = 0;

    for (size_t i = 0; i < budget->n; i++)
        sum += bend[i * outputs + output] * bend[i * outputs + output];
    return sqrt(sum) > BENT * uncertainty_absolute(budget, contribution, outputs, output).standard;
}
