/* variance_ratio.c - see variance_ratio.h. */
#include "reduce/statistics/variance_ratio.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

static int has_scatter(struct variance_estimate estimate)
{
    return estimate.freedom > 0 && isfinite(estimate.freedom) && estimate.variance > 0 &&
           isfinite(estimate.variance);
}

struct variance_ratio variance_ratio(struct variance_estimate first,
                                     struct variance_estimate second, double chance)
{
    const double nothing = (double)NAN;
    if (!has_scatter(first) || !has_scatter(second) || !(chance > 0 && chance < 0.5))
        return (struct variance_ratio){nothing, nothing, nothing, 0};
    struct variance_ratio ratio = {
        .ratio = first.variance / second.variance,
        .lower = gsl_cdf_fdist_Pinv(chance, first.freedom, second.freedom),
        .upper = gsl_cdf_fdist_Qinv(chance, first.freedom, second.freedom),
    };
    ratio.is_unlike = ratio.ratio < ratio.lower || ratio.ratio > ratio.upper;
    return ratio;
}
