/* pile_up.c - see pile_up.h. Few channels have three samples at their extreme: all but the first count
 * is for those.                                                                                    */
#include "ingest/pile_up.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

enum { SAMPLES_MIN = 30, LEVELS = 64, VISITS_MIN = 3 };

static const double away_levels = 2.5;
static const double most_share = 0.95;

size_t range_ends_count(const double *samples, size_t n, struct channel_range range)
{
    size_t count = 0;
    double middle = (range.low + range.high) / 2;
    double limit = 0.995 * ((range.high - range.low) / 2);
    for (size_t i = 0; i < n; i++)
        count += fabs(samples[i] - middle) >= limit; /* never with NAN */
    return count;
}

/* One end of the record, whose samples lie `levels` steps inside of it. */
struct end {
    double extreme;
    double step; /* resolution, negative at the minimum */
};

static double levels_inside(struct end end, double sample)
{
    return (end.extreme - sample) / end.step;
}

static size_t count_at(const double *samples, size_t n, double value)
{
    size_t count = 0;
    for (size_t i = 0; i < n; i++)
        count += samples[i] == value;
    return count;
}

static size_t count_at_next(const double *samples, size_t n, struct end end)
{
    double next = HUGE_VAL;
    size_t count = 0;
    for (size_t i = 0; i < n; i++) {
        double inside = levels_inside(end, samples[i]);
        next = inside > 0 && inside < next ? inside : next;
    }
    for (size_t i = 0; i < n; i++) {
        double inside = levels_inside(end, samples[i]);
        count += inside > 0 && inside < next + 0.5;
    }
    return count;
}

static int is_beyond_chance(const double *samples, size_t n, struct end end, size_t at_end)
{
    size_t levels[LEVELS + 1] = {0};
    size_t sum = 0;
    for (size_t i = 0; i < n; i++) {
        double inside = levels_inside(end, samples[i]);
        if (inside > 0 && inside < LEVELS + 0.5)
            levels[(size_t)(inside + 0.5)]++;
    }
    for (unsigned level = 1; level <= LEVELS; level++) {
        sum += levels[level];
        int is_power = (level & (level - 1)) == 0;
        if (is_power && gsl_cdf_binomial_Q((unsigned)at_end - 1, 1.0 / (level + 1),
                                           (unsigned)(at_end + sum)) <= 1e-5)
            return 1;
    }
    return 0;
}

/* How the record comes to its end: visits, and whether it holds its value elsewhere. */
static int comes_and_goes(const double *samples, size_t n, struct end end)
{
    size_t visits = 0;
    size_t pairs = 0;
    size_t equal = 0;
    int was_away = 1;
    for (size_t i = 0; i < n; i++) {
        double inside = levels_inside(end, samples[i]);
        if (inside == 0 && was_away) {
            visits++;
            was_away = 0;
        }
        was_away = was_away || inside >= away_levels;
        if (i == 0 || inside == 0 || samples[i - 1] == end.extreme)
            continue;
        pairs++;
        equal += samples[i] == samples[i - 1];
    }
    return visits >= VISITS_MIN && 3 * equal <= pairs;
}

/* Wide against its steps, of more than two levels, and no tone. */
static int is_lively(const double *samples, size_t n, double resolution)
{
    double mean = 0;
    double square = 0;
    double fourth = 0;
    double both = 0;
    for (size_t i = 0; i < n; i++)
        mean += (samples[i] - samples[0]) / (double)n;
    mean += samples[0];
    for (size_t i = 0; i < n; i++) {
        double d = samples[i] - mean;
        square += d * d;
        fourth += d * d * d * d;
        if (i > 0 && i + 1 < n)
            both += d * (samples[i - 1] + samples[i + 1] - 2 * mean);
    }
    double residual = 0;
    for (size_t i = 1; i + 1 < n; i++) {
        double e = samples[i - 1] + samples[i + 1] - 2 * mean - both / square * (samples[i] - mean);
        residual += e * e;
    }
    double kurtosis = fourth * (double)n / (square * square);
    int is_tone = kurtosis < 2.3 && residual < 0.15 * square;
    return square >= 4 * resolution * resolution * (double)n && kurtosis >= 1.35 && !is_tone;
}

static size_t piled_up(const double *samples, size_t n, struct end end)
{
    size_t at_end = count_at(samples, n, end.extreme);
    if (at_end < 3 || (double)at_end < 0.005 * (double)n || (double)at_end > most_share * (double)n)
        return 0;
    if (at_end < 3 * count_at_next(samples, n, end) || !is_beyond_chance(samples, n, end, at_end) ||
        !comes_and_goes(samples, n, end))
        return 0;
    return is_lively(samples, n, fabs(end.step)) ? at_end : 0;
}

struct pile_up pile_up_find(const double *samples, size_t n, double minimum, double maximum,
                            double resolution)
{
    struct pile_up none = {0, 0};
    if (n < SAMPLES_MIN || !(resolution > 0))
        return none;
    return (struct pile_up){.low = piled_up(samples, n, (struct end){minimum, -resolution}),
                            .high = piled_up(samples, n, (struct end){maximum, resolution})};
}
