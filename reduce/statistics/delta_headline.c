/* delta_headline.c - see delta_headline.h. */
#include "reduce/statistics/delta_headline.h"

#include <math.h>

#include "reduce/statistics/drift_curvature.h"
#include "reduce/statistics/two_samples.h"

static const struct delta_estimate nothing = {(double)NAN, (double)NAN, 0};

static int is_known(const struct delta_estimate *estimate)
{
    return isfinite(estimate->delta) && isfinite(estimate->standard_error) &&
           estimate->degrees_of_freedom > 0;
}

/* The bend is found from few triples of returns; its part is taken as known, which only the noise's share
 * of the degrees of freedom tells. Each mounting misses by itself, so the mean misses less. */
static struct delta_estimate bracketed(const struct bracket_delta *bracket,
                                       double curvature_variance, struct variance_estimate noise)
{
    if (bracket->outcome != OUTCOME_OK || !(noise.freedom > 0) || !(curvature_variance >= 0))
        return nothing;
    const double parts[] = {noise.variance * bracket->variance_factor,
                            curvature_variance / (double)bracket->mountings};
    const double freedoms[] = {noise.freedom, INFINITY};
    return (struct delta_estimate){bracket->delta, sqrt(parts[0] + parts[1]),
                                   effective_freedom(parts, freedoms, 2)};
}

struct delta_headline delta_headline_choose(const struct night_delta *night,
                                            size_t baseline_mountings,
                                            const struct bracket_delta *bracket,
                                            double curvature_variance,
                                            struct variance_estimate tonight,
                                            struct variance_estimate season, double least_freedom)
{
    struct variance_estimate noise;
    struct delta_headline chosen = {HEADLINE_NOBODYS, nothing, nothing, VARIANCE_NOBODYS, 0};
    struct delta_estimate whole = nothing;

    chosen.noise = variance_choose(tonight, season, least_freedom, &noise);
    struct delta_estimate local = bracketed(bracket, curvature_variance, noise);
    if (night->outcome == OUTCOME_OK && baseline_mountings >= NIGHT_BASELINES_LEAST)
        whole =
            (struct delta_estimate){night->delta, night->standard_error, night->degrees_of_freedom};
    if (is_known(&whole)) {
        chosen.source = HEADLINE_NIGHT;
        chosen.headline = whole;
        chosen.beside = local;
    } else if (is_known(&local)) {
        chosen.source = HEADLINE_BRACKET;
        chosen.headline = local;
    }
    chosen.disagree = is_known(&chosen.headline) && is_known(&chosen.beside) &&
                      estimates_disagree(chosen.headline.delta, chosen.headline.standard_error,
                                         chosen.beside.delta, chosen.beside.standard_error);
    return chosen;
}
