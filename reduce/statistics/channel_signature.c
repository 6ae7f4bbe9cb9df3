/* channel_signature.c - a run of a channel in a few numbers; see channel_history.h. */
#include "reduce/statistics/channel_history.h"

#include <math.h>

#include "reduce/statistics/record_rules.h"
#include "reduce/statistics/robust.h"

enum { POINTS_MAX = 256, FEW_SAMPLES = 10 };

/* One number of a point; NAN leaves it out. */
typedef double point_number(const struct channel_statistics *point);

static double samples_of(const struct channel_statistics *point)
{
    return point->n > 0 ? point->n : (double)NAN;
}

static double mean_of(const struct channel_statistics *point)
{
    return point->mean;
}

static double deviation_of(const struct channel_statistics *point)
{
    return point->sd > 0 ? point->sd : (double)NAN;
}

static double local_deviation_of(const struct channel_statistics *point)
{
    return point->sd > 0 && point->local_deviation > 0 ? point->local_deviation : (double)NAN;
}

static double sluggishness_of(const struct channel_statistics *point)
{
    return point->sd > 0 && point->n_effective > 0 ? point->n / point->n_effective : (double)NAN;
}

static double step_of(const struct channel_statistics *point)
{
    return point->resolution > 0 ? point->resolution : (double)NAN;
}

/* Every stride-th point, so that a long run is seen from end to end. */
static struct robust gather(const struct channel_statistics *points, size_t n, point_number *number)
{
    double values[POINTS_MAX];
    size_t stride = (n + POINTS_MAX - 1) / POINTS_MAX;
    size_t taken = 0;
    for (size_t i = 0; i < n; i += stride)
        values[taken++] = number(&points[i]);
    return robust_of(values, taken);
}

static double independent_samples(const struct channel_statistics *points, size_t n)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        if (points[i].sd > 0)
            sum += points[i].n_effective > FEW_SAMPLES ? points[i].n_effective : FEW_SAMPLES;
    return sum;
}

struct channel_signature channel_signature_make(const struct channel_statistics *points, size_t n)
{
    struct robust samples = gather(points, n, samples_of);
    struct robust means = gather(points, n, mean_of);
    struct record_shares shares = record_shares_of(points, n);
    return (struct channel_signature){
        .points = (double)samples.n,
        .samples = samples.median,
        .level = means.median,
        .range = means.n > 1 ? means.maximum - means.minimum : (double)NAN,
        .deviation = gather(points, n, deviation_of).median,
        .local_deviation = gather(points, n, local_deviation_of).median,
        .sluggishness = gather(points, n, sluggishness_of).median,
        .step = gather(points, n, step_of).median,
        .independent = independent_samples(points, n),
        .constant = record_constant_share(&shares, NULL),
        .repeat_share = record_repeat_share(&shares, NULL),
    };
}
