/* drift_curvature.c - see drift_curvature.h. */
#include "reduce/statistics/drift_curvature.h"

#include <math.h>

static const double FAR_APART = 2;

static enum outcome check(const double *times, const double *values, size_t n)
{
    if (n < 2)
        return OUTCOME_TOO_FEW;
    for (size_t i = 0; i < n; i++)
        if (!isfinite(times[i]) || !isfinite(values[i]))
            return OUTCOME_NOT_FINITE;
    for (size_t i = 0; i + 1 < n; i++)
        if (!(times[i + 1] > times[i]))
            return OUTCOME_SINGULAR;
    return OUTCOME_OK;
}

enum outcome drift_curvature_find(const double *times, const double *values, size_t n,
                                  double noise_variance, struct drift_curvature *curvature)
{
    double sum = 0;

    *curvature = (struct drift_curvature){NAN, NAN};
    enum outcome outcome = check(times, values, n);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (!(noise_variance >= 0) || !isfinite(noise_variance))
        return OUTCOME_NOT_FINITE;
    *curvature = (struct drift_curvature){0, n == 2 ? fabs(values[1] - values[0]) : 0};
    for (size_t i = 0; i + 2 < n; i++) {
        double first = times[i + 1] - times[i], second = times[i + 2] - times[i + 1];
        double whole = first + second;
        double difference = (values[i + 2] - values[i + 1]) / second / whole -
                            (values[i + 1] - values[i]) / first / whole;
        double outer = 1 / (first * whole), last = 1 / (second * whole);
        double inner = 1 / (first * second);
        sum += 4 * difference * difference -
               4 * noise_variance * (outer * outer + inner * inner + last * last);
    }
    if (n > 2)
        curvature->mean_square = fmax(sum / (double)(n - 2), 0);
    return OUTCOME_OK;
}

double drift_curvature_variance(const struct drift_curvature *curvature, double before, double time,
                                double after)
{
    if (!(time >= before && time <= after))
        return (double)NAN;
    if (time == before || time == after)
        return 0;
    double half = (time - before) * (after - time) / 2;
    return curvature->mean_square * half * half + curvature->span * curvature->span / 12;
}

int estimates_disagree(double one, double one_error, double other, double other_error)
{
    return fabs(one - other) > FAR_APART * hypot(one_error, other_error);
}
