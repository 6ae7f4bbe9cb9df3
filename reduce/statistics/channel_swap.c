/* channel_swap.c - see channel_swap.h. */
#include "reduce/statistics/channel_swap.h"

#include <math.h>

#include "reduce/statistics/history_usual.h"

static const double gain_needed = 20;
static const double gain_of_each = 5;
static const double likeness = 6;              /* scales */
static const double level_scale_least = 0.005; /* of the level */
static const double range_scale_least = 0.1;
static const double noise_scale_least = 0.1;
static const double freedom_most = 8;

struct channel_usual channel_usual_make(const struct channel_signature *others, size_t n)
{
    struct robust level = usual_of(others, n, USUAL_LEVEL);
    struct robust range = usual_of(others, n, USUAL_RANGE);
    struct robust noise = usual_of(others, n, USUAL_NOISE);
    struct channel_usual usual = {
        .level = level.median,
        .level_scale = fmax(level.scale, level_scale_least * fabs(level.median)),
        .range = range.n < HISTORY_RUNS_MIN ? (double)NAN : range.median,
        .range_scale = fmax(range.scale, range_scale_least),
        .noise = noise.n < HISTORY_RUNS_MIN ? (double)NAN : noise.median,
        .noise_scale = fmax(noise.scale, noise_scale_least),
        .degrees_of_freedom = fmin((double)level.n - 1, freedom_most),
    };
    usual.known = level.n >= HISTORY_RUNS_MIN && usual.level_scale > 0;
    return usual;
}

/* One kind of evidence under one history. */
struct belief {
    double usual, scale, freedom;
};

/* Logarithm of Student's density, without the part that depends on the degrees of freedom alone. */
static double log_density(double value, const struct belief *belief)
{
    double distance = (value - belief->usual) / belief->scale;
    return -(belief->freedom + 1) / 2 * log1p(distance * distance / belief->freedom) -
           log(belief->scale);
}

/* What the other's history explains better than the channel's own, of one kind of evidence. */
static double gain_of(double value, struct belief own, struct belief other, double *farthest)
{
    if (!isfinite(value) || !isfinite(own.usual) || !isfinite(other.usual))
        return 0;
    *farthest = fmax(*farthest, fabs(value - other.usual) / other.scale);
    return log_density(value, &other) - log_density(value, &own);
}

static double gain_of_channel(const struct channel_signature *run, const struct channel_usual *own,
                              const struct channel_usual *other, double *farthest)
{
    double freedom = own->degrees_of_freedom;
    double freedom_of_other = other->degrees_of_freedom;
    *farthest = 0;
    return gain_of(run->level, (struct belief){own->level, own->level_scale, freedom},
                   (struct belief){other->level, other->level_scale, freedom_of_other}, farthest) +
           gain_of(usual_number(run, USUAL_RANGE),
                   (struct belief){own->range, own->range_scale, freedom},
                   (struct belief){other->range, other->range_scale, freedom_of_other}, farthest) +
           gain_of(usual_number(run, USUAL_NOISE),
                   (struct belief){own->noise, own->noise_scale, freedom},
                   (struct belief){other->noise, other->noise_scale, freedom_of_other}, farthest);
}

int channels_swapped(const struct channel_signature *a, const struct channel_usual *usual_a,
                     const struct channel_signature *b, const struct channel_usual *usual_b,
                     double *gain)
{
    double far_a = 0;
    double far_b = 0;
    double sum = (double)NAN;
    int is_swapped = 0;
    if (usual_a->known && usual_b->known) {
        double gain_a = gain_of_channel(a, usual_a, usual_b, &far_a);
        double gain_b = gain_of_channel(b, usual_b, usual_a, &far_b);
        sum = gain_a + gain_b;
        is_swapped = sum >= gain_needed && gain_a >= gain_of_each && gain_b >= gain_of_each &&
                     far_a <= likeness && far_b <= likeness;
    }
    if (gain != NULL)
        *gain = sum;
    return is_swapped;
}
