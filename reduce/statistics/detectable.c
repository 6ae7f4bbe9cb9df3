/* detectable.c - see detectable.h. */
#include "reduce/statistics/detectable.h"

#include <math.h>

#include "reduce/statistics/student.h"

double detectable_difference(struct variance_estimate noise, double factor,
                             struct assurance assurance)
{
    if (!(noise.freedom > 0) || !(noise.variance >= 0) || !isfinite(noise.variance) ||
        !(factor > 0) || !isfinite(factor) || !(assurance.power >= 0.5 && assurance.power < 1))
        return (double)NAN;
    double found = student_multiplier(1 - assurance.significance, noise.freedom);
    /* one-sided: the two-sided multiplier of 2 power - 1 */
    double sure =
        assurance.power > 0.5 ? student_multiplier(2 * assurance.power - 1, noise.freedom) : 0;
    return (found + sure) * sqrt(noise.variance * factor);
}

size_t detectable_pairs(struct variance_estimate noise, double difference, int own_noise,
                        struct assurance assurance)
{
    if (!(difference > 0))
        return 0;
    for (size_t n = own_noise ? 2 : 1; n <= PAIRS_MAX; n++) {
        struct variance_estimate used = noise;
        if (own_noise)
            used.freedom = (double)n - 1;
        double found = detectable_difference(used, 2 / (double)n, assurance);
        if (isnan(found))
            return 0;
        if (found <= difference)
            return n;
    }
    return 0;
}

static double of_mountings(size_t mountings, size_t baseline_mountings)
{
    return 1 / (double)mountings + 1 / (double)baseline_mountings;
}

size_t detectable_pairs_needed(struct variance_estimate delta, size_t mountings,
                               size_t baseline_mountings, double worthwhile,
                               struct assurance assurance)
{
    if (mountings == 0 || baseline_mountings == 0 || !(worthwhile > 0))
        return 0;
    double now = of_mountings(mountings, baseline_mountings);
    for (size_t n = 1; n <= PAIRS_MAX; n++) {
        double share = of_mountings(mountings + n, baseline_mountings + n) / now;
        double found = detectable_difference(delta, share, assurance);
        if (isnan(found))
            return 0;
        if (found <= worthwhile)
            return n;
    }
    return 0;
}
