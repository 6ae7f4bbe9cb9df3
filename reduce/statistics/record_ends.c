/* record_ends.c - ends that the points of a channel share; see record_rules.h. */
#include <gsl/gsl_cdf.h>
#include <math.h>

#include "reduce/statistics/record_rules.h"

static const double chance = 1e-4;
static const double steps_a_deviation = 3;
static const double beyond_a_crest = 1.5; /* deviations */
static const double reach = 0.5;          /* deviations: inside of it ends of noise get no rarer */

/* Ends at one side, counted outwards: sign * value. */
struct side {
    double sign, step, outermost;
};

static double end_of(const struct channel_statistics *point, const struct side *side)
{
    return side->sign > 0 ? point->maximum : -point->minimum;
}

static int counts(const struct channel_statistics *point, const struct side *side)
{
    return point->sd >= steps_a_deviation * side->step &&
           end_of(point, side) - side->sign * point->mean >= beyond_a_crest * point->sd;
}

static size_t points_within(const struct channel_statistics *points, size_t n,
                            const struct side *side, double levels)
{
    size_t within = 0;
    for (size_t i = 0; i < n; i++)
        within += counts(&points[i], side) &&
                  side->outermost - end_of(&points[i], side) < (levels + 0.5) * side->step;
    return within;
}

/* The smallest sd of the points at the end. */
static double least_deviation(const struct channel_statistics *points, size_t n,
                              const struct side *side)
{
    double least = HUGE_VAL;
    for (size_t i = 0; i < n; i++)
        if (counts(&points[i], side) && end_of(&points[i], side) >= side->outermost)
            least = fmin(least, points[i].sd);
    return least;
}

/* Points at the end where it is shared, else 0. */
static size_t sharing(const struct channel_statistics *points, size_t n, struct side *side)
{
    side->outermost = -HUGE_VAL;
    for (size_t i = 0; i < n; i++)
        if (points[i].n > 0)
            side->outermost = fmax(side->outermost, end_of(&points[i], side));
    size_t at_end = points_within(points, n, side, 0);
    if (at_end < RECORD_SHARING_MIN)
        return 0;
    double most = reach * least_deviation(points, n, side) / side->step;
    for (unsigned levels = 1; levels <= most; levels *= 2) {
        size_t within = points_within(points, n, side, levels);
        if (gsl_cdf_binomial_Q((unsigned)at_end - 1, 1.0 / (levels + 1), (unsigned)within) <=
            chance)
            return at_end;
    }
    return 0;
}

struct record_ends record_shared_ends(const struct channel_statistics *points, size_t n)
{
    struct record_ends ends = {(double)NAN, (double)NAN, 0, 0};
    double step = HUGE_VAL;
    for (size_t i = 0; i < n; i++)
        if (points[i].resolution < step)
            step = points[i].resolution;
    if (!isfinite(step))
        return ends;
    struct side low = {-1, step, 0};
    struct side high = {1, step, 0};
    ends.at_low = (double)sharing(points, n, &low);
    ends.at_high = (double)sharing(points, n, &high);
    if (ends.at_low > 0)
        ends.low = -low.outermost;
    if (ends.at_high > 0)
        ends.high = high.outermost;
    return ends;
}

struct record_judgement record_clipped_alike(const struct channel_statistics *point,
                                             const struct record_ends *ends)
{
    struct record_judgement judgement = {.limit = RECORD_SHARING_MIN};
    judgement.value = fmax(point->minimum <= ends->low ? ends->at_low : 0,
                           point->maximum >= ends->high ? ends->at_high : 0);
    judgement.raised = judgement.value > 0;
    return judgement;
}
