/* channel_profile.c - see channel_profile.h. */
#include "reduce/statistics/channel_profile.h"

#include <math.h>
#include <string.h>

#include "reduce/statistics/robust.h"

static const double gain_needed = 20;
static const double gain_of_each = 5;
static const double freedom_most = 8;
static const double noise_scale_least = 0.1;

/* Medians over the runs, point by point. */
static void find_usual(struct channel_profile *profile, const struct profile_run *runs,
                       size_t n_runs, double *work)
{
    for (size_t k = 0; k < profile->n; k++) {
        for (size_t j = 0; j < n_runs; j++)
            work[j] = runs[j].means[k];
        struct robust here = robust_of(work, n_runs);
        profile->usual[k] = here.n < PROFILE_RUNS_MIN ? (double)NAN : here.median;
    }
}

static void find_noise(struct channel_profile *profile, const struct profile_run *runs,
                       size_t n_runs, double *work)
{
    for (size_t j = 0; j < n_runs; j++)
        work[j] = runs[j].deviation > 0 ? log(runs[j].deviation) : (double)NAN;
    struct robust noise = robust_of(work, n_runs);
    profile->noise = noise.n < PROFILE_RUNS_MIN ? (double)NAN : noise.median;
    profile->noise_scale = fmax(noise.scale, noise_scale_least);
}

/* Distances of a run from the usual, their median taken off; gives that median. */
static double distances(const struct channel_profile *profile, const double *means, double *rest)
{
    double kept[PROFILE_POINTS_MAX];
    for (size_t k = 0; k < profile->n; k++)
        kept[k] = rest[k] = means[k] - profile->usual[k];
    double offset = robust_of(kept, profile->n).median;
    for (size_t k = 0; k < profile->n; k++)
        rest[k] -= offset;
    return offset;
}

/* Median of what is not below the median, of at most PROFILE_POINTS_MAX values. */
static double upper_quartile(const double *values, size_t n)
{
    double kept[PROFILE_POINTS_MAX]; /* robust_of() uses up what it is given */
    memcpy(kept, values, n * sizeof *kept);
    double median = robust_of(kept, n).median;
    for (size_t i = 0; i < n; i++)
        kept[i] = values[i] < median ? (double)NAN : values[i];
    return robust_of(kept, n).median;
}

struct channel_profile channel_profile_make(const struct profile_run *runs, size_t n_runs,
                                            size_t n_points, double least, double *work)
{
    struct channel_profile profile = {.n = n_points, .noise = NAN};
    double offsets[PROFILE_POINTS_MAX];
    double scales[PROFILE_POINTS_MAX];
    size_t n = n_runs;
    if (n > PROFILE_POINTS_MAX)
        n = PROFILE_POINTS_MAX;
    profile.freedom = fmin((double)n - 1, freedom_most);
    if (n < PROFILE_RUNS_MIN || n_points > PROFILE_POINTS_MAX)
        return profile;
    find_usual(&profile, runs, n, work);
    find_noise(&profile, runs, n, offsets);
    for (size_t j = 0; j < n; j++) {
        offsets[j] = distances(&profile, runs[j].means, work);
        scales[j] = robust_of(work, n_points).scale;
    }
    struct robust of_runs = robust_of(offsets, n);
    if (of_runs.n < PROFILE_RUNS_MIN)
        return profile;
    profile.run_scale = fmax(of_runs.scale, least);
    profile.point_scale = fmax(upper_quartile(scales, n), least);
    return profile;
}

static double surprise(double distance, double freedom)
{
    return (freedom + 1) / 2 * log1p(distance * distance / freedom);
}

double channel_profile_surprise(const struct channel_profile *profile,
                                const struct profile_run *run, double most)
{
    double rest[PROFILE_POINTS_MAX];
    if (!(profile->run_scale > 0) || !(profile->point_scale > 0))
        return (double)NAN;
    double offset = distances(profile, run->means, rest);
    double sum = surprise(offset / profile->run_scale, profile->freedom);
    if (run->deviation > 0 && !isnan(profile->noise))
        sum += surprise((log(run->deviation) - profile->noise) / profile->noise_scale,
                        profile->freedom);
    for (size_t k = 0; k < profile->n && !(sum > most); k++)
        if (!isnan(rest[k]))
            sum += surprise(rest[k] / profile->point_scale, profile->freedom);
    return sum;
}

/* What the other's profile explains of a column; less than it has to where that is not enough. */
static double gain_of(const struct profile_column *here, const struct profile_column *other)
{
    return here->surprise -
           channel_profile_surprise(other->own, &here->exchanged, here->surprise - gain_of_each);
}

int columns_exchanged(const struct profile_column *a, const struct profile_column *b, double *gain)
{
    if (!(a->surprise >= gain_of_each) || !(b->surprise >= gain_of_each))
        return 0;
    double gain_a = gain_of(a, b);
    double gain_b = gain_a >= gain_of_each ? gain_of(b, a) : (double)NAN;
    if (!(gain_b >= gain_of_each) || !(gain_a + gain_b >= gain_needed))
        return 0;
    if (gain != NULL)
        *gain = gain_a + gain_b;
    return 1;
}
