/* shrinkage.c - see shrinkage.h. */
#include "reduce/statistics/shrinkage.h"

#include <math.h>

enum { HALVINGS = 200 };

static double excess(const double *deltas, const double *uncertainties, size_t m, double variance)
{
    double sum = -(double)m;

    for (size_t i = 0; i < m; i++)
        sum += deltas[i] * deltas[i] / (variance + uncertainties[i] * uncertainties[i]);
    return sum;
}

/* The sum falls as the variance grows, and at the largest square it is m at most. */
enum outcome shrinkage_between(const double *deltas, const double *uncertainties, size_t m,
                               double *between_variance)
{
    double lower = 0, upper = 0;

    *between_variance = (double)NAN;
    if (m < 3)
        return OUTCOME_TOO_FEW;
    for (size_t i = 0; i < m; i++) {
        if (!isfinite(deltas[i]) || !isfinite(uncertainties[i]) || !(uncertainties[i] > 0))
            return OUTCOME_NOT_FINITE;
        upper = fmax(upper, deltas[i] * deltas[i]);
    }
    *between_variance = 0;
    if (!(excess(deltas, uncertainties, m, 0) > 0))
        return OUTCOME_OK;
    for (int i = 0; i < HALVINGS && upper - lower > 1e-15 * upper; i++) {
        double middle = 0.5 * (lower + upper);
        if (excess(deltas, uncertainties, m, middle) > 0)
            lower = middle;
        else
            upper = middle;
    }
    *between_variance = 0.5 * (lower + upper);
    return OUTCOME_OK;
}

struct shrunk shrinkage_apply(double delta, double uncertainty, double between_variance)
{
    if (!isfinite(delta) || !isfinite(uncertainty) || !(uncertainty > 0) ||
        !(between_variance >= 0) || !isfinite(between_variance))
        return (struct shrunk){NAN, NAN, NAN};
    double factor = between_variance / (between_variance + uncertainty * uncertainty);
    return (struct shrunk){delta * factor, uncertainty * sqrt(factor), factor};
}
