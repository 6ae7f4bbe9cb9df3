/* delta_headline.c - see delta_headline.h. */
#include "reduce/statistics/delta_headline.h"

#include <math.h>

#include "reduce/statistics/drift_curvature.h"

static const struct delta_estimate nothing = {(double)NAN, (double)NAN, 0};

static int is_known(const struct delta_estimate *estimate)
{
    return isfinite(estimate->delta) && isfinite(estimate->standard_error) &&
           estimate->degrees_of_freedom > 0;
}

/* Each mounting misses the bend by itself, so the mean misses less. */
static struct delta_estimate bracketed(const struct bracket_delta *bracket,
                                       double curvature_variance, struct variance_estimate noise)
{
    if (bracket->outcome != OUTCOME_OK || !(noise.freedom > 0) || !(curvature_variance >= 0))
        return nothing;
    double scatter = noise.variance * bracket->variance_factor;
    double bend = curvature_variance / (double)bracket->mountings;
    return (struct delta_estimate){bracket->delta, sqrt(scatter + bend), noise.freedom};
}

static struct delta_estimate of_whole_night(const struct night_delta *night,
                                            size_t baseline_mountings, size_t spare)
{
    if (night->outcome != OUTCOME_OK || baseline_mountings < NIGHT_BASELINES_LEAST ||
        spare < BESIDE_SPARE)
        return nothing;
    return (struct delta_estimate){night->delta, night->standard_error, night->degrees_of_freedom};
}

/* A model with little to spare stands beside a bracket, and leads only where there is none. */
static int is_too_short(size_t spare, const struct delta_estimate *local)
{
    return spare < HEADLINE_SPARE && is_known(local);
}

/* The season knows the noise better than a short night's model does. */
static int season_knows_better(const struct delta_estimate *whole, enum variance_source noise,
                               const struct delta_estimate *local, double least_freedom)
{
    return noise == VARIANCE_SEASONS && is_known(local) &&
           whole->degrees_of_freedom < least_freedom &&
           local->degrees_of_freedom > whole->degrees_of_freedom;
}

struct delta_headline delta_headline_choose(const struct night_delta *night,
                                            size_t baseline_mountings, size_t spare,
                                            const struct bracket_delta *bracket,
                                            double curvature_variance,
                                            struct variance_estimate tonight,
                                            struct variance_estimate season, double least_freedom)
{
    struct variance_estimate noise;
    struct delta_headline chosen = {HEADLINE_NOBODYS, nothing, nothing, VARIANCE_NOBODYS, 0};
    struct delta_estimate whole = of_whole_night(night, baseline_mountings, spare);

    chosen.noise = variance_choose(tonight, season, least_freedom, &noise);
    struct delta_estimate local = bracketed(bracket, curvature_variance, noise);
    if (is_known(&whole) && !is_too_short(spare, &local) &&
        !season_knows_better(&whole, chosen.noise, &local, least_freedom)) {
        chosen.source = HEADLINE_NIGHT;
        chosen.headline = whole;
        chosen.beside = local;
    } else if (is_known(&local)) {
        chosen.source = HEADLINE_BRACKET;
        chosen.headline = local;
        chosen.beside = whole;
    }
    chosen.disagree = is_known(&chosen.headline) && is_known(&chosen.beside) &&
                      estimates_disagree(chosen.headline.delta, chosen.headline.standard_error,
                                         chosen.beside.delta, chosen.beside.standard_error);
    return chosen;
}
