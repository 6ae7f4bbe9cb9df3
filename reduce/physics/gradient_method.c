/* gradient_method.c - see gradient_method.h. */
#include "reduce/physics/gradient_method.h"

#include <math.h>

#include "reduce/physics/finite.h"

enum outcome gradient_sensitivity_of(const struct gradient_pair *pair, double u,
                                     struct gradient_sensitivity *found)
{
    const double *g = pair->gradient, *c = pair->coefficient;
    if (!all_finite(g, 2) || !all_finite(c, 2) || !isfinite(u))
        return OUTCOME_NOT_FINITE;
    if (u < 0.0)
        return OUTCOME_GEOMETRY;
    double apart = g[1] - g[0];
    if (!(fabs(apart) > 1e-12 * fmax(fabs(g[0]), fabs(g[1]))))
        return OUTCOME_SINGULAR;
    *found = (struct gradient_sensitivity){.slope = (c[1] - c[0]) / apart,
                                           .slope_u = sqrt(2.0) * u / fabs(apart),
                                           .lowest = fmin(g[0], g[1]),
                                           .highest = fmax(g[0], g[1])};
    return OUTCOME_OK;
}

static int is_far_outside(const struct gradient_sensitivity *sensitivity, double gradient)
{
    double apart = sensitivity->highest - sensitivity->lowest;
    return gradient < sensitivity->lowest - apart || gradient > sensitivity->highest + apart;
}

enum outcome gradient_part(const struct gradient_sensitivity *sensitivity, double gradient,
                           double *part, int *beyond)
{
    double found = sensitivity->slope * gradient;
    if (!isfinite(found))
        return OUTCOME_NOT_FINITE;
    *part = found;
    *beyond = is_far_outside(sensitivity, gradient) || is_far_outside(sensitivity, 0.0);
    return OUTCOME_OK;
}
