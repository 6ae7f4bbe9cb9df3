/* slotted.c - see slotted.h. */
#include "reduce/physics/slotted.h"

#include <math.h>

#include "reduce/physics/line_fit.h"

static const double largest_share = 0.35;

enum outcome slotted_from_series(const double *share, const double *coefficient, size_t n,
                                 struct slotted_factor *found)
{
    struct line_fit line;
    enum outcome outcome = line_fit_make(share, coefficient, n, &line);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (line.lowest <= 0.0 || line.highest >= largest_share)
        return OUTCOME_GEOMETRY;
    if (!(fabs(line.intercept) > 2.0 * line.intercept_u) || line.intercept == 0.0)
        return OUTCOME_SINGULAR;
    double k = line.slope / line.intercept;
    double variance = line.slope_u * line.slope_u - 2.0 * k * line.covariance +
                      k * k * line.intercept_u * line.intercept_u;
    *found = (struct slotted_factor){.factor = k,
                                     .factor_u = sqrt(fmax(variance, 0.0)) / fabs(line.intercept),
                                     .free_air = line.intercept,
                                     .residual_sd = line.residual_sd,
                                     .degrees_of_freedom = line.degrees_of_freedom,
                                     .highest = line.highest};
    return OUTCOME_OK;
}
