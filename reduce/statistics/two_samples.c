/* two_samples.c - see two_samples.h. */
#include "reduce/statistics/two_samples.h"

#include <math.h>

#include "reduce/physics/finite.h"

enum outcome sample_summarise(const double *values, size_t n, struct sample_summary *summary)
{
    long double sum = 0, squares = 0;

    *summary = (struct sample_summary){NAN, NAN, 0};
    if (n < 2)
        return OUTCOME_TOO_FEW;
    if (!all_finite(values, n))
        return OUTCOME_NOT_FINITE;
    for (size_t i = 0; i < n; i++)
        sum += (long double)values[i] - values[0];
    long double mean = sum / (long double)n;
    for (size_t i = 0; i < n; i++) {
        long double off = (long double)values[i] - values[0] - mean;
        squares += off * off;
    }
    *summary = (struct sample_summary){(double)(values[0] + mean),
                                       sqrt((double)(squares / (long double)(n - 1))), n};
    return OUTCOME_OK;
}

double effective_freedom(const double *variances, const double *freedoms, size_t n)
{
    double sum = 0, spread = 0;

    for (size_t i = 0; i < n; i++) {
        if (!(variances[i] >= 0) || !isfinite(variances[i]) || !(freedoms[i] > 0))
            return (double)NAN;
        sum += variances[i];
        spread += variances[i] * (variances[i] / freedoms[i]);
    }
    if (!(sum > 0))
        return (double)NAN;
    return spread > 0 ? sum * (sum / spread) : (double)INFINITY;
}

enum outcome two_samples_compare(const struct sample_summary *first,
                                 const struct sample_summary *second, struct two_samples *result)
{
    *result = (struct two_samples){NAN, NAN, NAN, NAN, NAN};
    if (first->n < 2 || second->n < 2)
        return OUTCOME_TOO_FEW;
    if (!isfinite(first->mean) || !isfinite(second->mean) || !isfinite(first->sd) ||
        !isfinite(second->sd))
        return OUTCOME_NOT_FINITE;
    double n1 = (double)first->n, n2 = (double)second->n;
    double v1 = first->sd * first->sd, v2 = second->sd * second->sd;
    if (!(v1 + v2 > 0))
        return OUTCOME_SINGULAR;
    const double variances[] = {v1 / n1, v2 / n2}, freedoms[] = {n1 - 1, n2 - 1};
    result->difference = first->mean - second->mean;
    result->pooled_freedom = n1 + n2 - 2;
    result->pooled_error =
        sqrt(((n1 - 1) * v1 + (n2 - 1) * v2) / result->pooled_freedom * (1 / n1 + 1 / n2));
    result->welch_error = sqrt(variances[0] + variances[1]);
    result->welch_freedom = effective_freedom(variances, freedoms, 2);
    return OUTCOME_OK;
}
