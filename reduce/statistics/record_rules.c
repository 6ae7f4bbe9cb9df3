/* record_rules.c - see record_rules.h. */
#include "reduce/statistics/record_rules.h"

#include <math.h>
#include <stddef.h>

#include "reduce/statistics/robust.h"

const double record_chance_limit = 1e-6;
const double record_repeat_limit = 0.5;
const double record_clipped_limit = 0.005;
const double record_spiked_limit = 0.001;
const double record_missing_limit = 0.01;
const double record_stuck_fail_share = 0.02;

enum { FEW_SAMPLES = 10, NOISE_POINTS_MIN = 4, NOISE_POINTS_MAX = 256 };

static const double noise_factor = 3;
static const double noise_deviations = 7;
static const double trend_uncertainties = 3.5;
static const double drift_uncertainties = 2.33; /* normal quantile of 0.99 */

static const struct record_judgement silent = {0, 0, (double)NAN, (double)NAN};

/* Laplace's rule of succession. */
static double succession(double repeated, double neighbours)
{
    return (repeated + 1) / (neighbours + 2);
}

static double outside(const struct channel_statistics *point)
{
    return point->n - point->stuck;
}

static void add_shares(struct record_shares *shares, const struct channel_statistics *point,
                       double sign)
{
    if (isfinite(point->repeated) && outside(point) > 0) {
        shares->repeated += sign * point->repeated;
        shares->neighbours += sign * outside(point);
    }
    if (point->n > 1) {
        shares->judged += sign;
        shares->constant += sign * (point->sd == 0);
    }
}

struct record_shares record_shares_of(const struct channel_statistics *points, size_t n)
{
    struct record_shares shares = {0, 0, 0, 0};
    for (size_t i = 0; i < n; i++)
        add_shares(&shares, &points[i], 1);
    return shares;
}

static struct record_shares without(const struct record_shares *all,
                                    const struct channel_statistics *except)
{
    struct record_shares shares = *all;
    if (except != NULL)
        add_shares(&shares, except, -1);
    return shares;
}

double record_repeat_share(const struct record_shares *all, const struct channel_statistics *except)
{
    struct record_shares shares = without(all, except);
    return shares.neighbours > 0 ? succession(shares.repeated, shares.neighbours) : (double)NAN;
}

double record_constant_share(const struct record_shares *all,
                             const struct channel_statistics *except)
{
    struct record_shares shares = without(all, except);
    return shares.judged > 0 ? shares.constant / shares.judged : (double)NAN;
}

static double share_here(const struct channel_statistics *point)
{
    double enough = fmin(RECORD_OUTSIDE_MIN, point->n / 2);
    if (!isfinite(point->repeated) || !(outside(point) >= enough))
        return (double)NAN;
    return succession(point->repeated, outside(point));
}

/* More equal neighbours outside the run than the channel has elsewhere: beyond three standard deviations
 * of their count, and beyond the one that a short record may have by chance. */
static int repeats_more_here(const struct channel_statistics *point, double share_elsewhere)
{
    double expected = outside(point) * share_elsewhere;
    return point->repeated > expected + 3 * sqrt(expected) + 1;
}

static double share_of(const struct channel_statistics *point, double share_elsewhere)
{
    if (isnan(share_elsewhere))
        return share_here(point);
    if (!repeats_more_here(point, share_elsewhere))
        return share_elsewhere;
    return fmax(share_here(point), share_elsewhere); /* of one NAN, the other */
}

struct record_judgement record_stuck(const struct channel_statistics *point, double share_elsewhere)
{
    double p = share_of(point, share_elsewhere);
    if (!(p <= record_repeat_limit) || !(point->stuck > 1))
        return silent;
    struct record_judgement stuck = {.value = point->stuck,
                                     .limit = 1 + log(record_chance_limit / point->n) / log(p)};
    stuck.raised = stuck.value > stuck.limit;
    stuck.spoilt = stuck.raised && point->stuck >= record_stuck_fail_share * point->n;
    return stuck;
}

static struct record_judgement share_judgement(double count, double of, double limit)
{
    struct record_judgement judgement = {.value = count / of, .limit = limit};
    judgement.raised = judgement.value >= limit;
    return judgement;
}

struct record_judgement record_clipped(const struct channel_statistics *point)
{
    struct record_judgement judgement =
        share_judgement(point->clipped, point->n, record_clipped_limit);
    judgement.spoilt = judgement.raised;
    return judgement;
}

struct record_judgement record_spiked(const struct channel_statistics *point)
{
    return share_judgement(point->spiked, point->n, record_spiked_limit);
}

struct record_judgement record_missing(const struct channel_statistics *point)
{
    struct record_judgement judgement =
        share_judgement(point->n_missing, point->n + point->n_missing, record_missing_limit);
    judgement.raised = judgement.value > judgement.limit;
    return judgement;
}

struct record_judgement record_trend(double delta, double u, double limit)
{
    struct record_judgement trend = {.value = fabs(delta), .limit = limit};
    trend.raised = trend.value > limit && trend.value > trend_uncertainties * 2 * u;
    return trend;
}

struct record_judgement record_drift(double effect, double u, double limit)
{
    double bound = fabs(effect) + drift_uncertainties * (isfinite(u) ? u : 0);
    struct record_judgement drift = {.value = bound, .limit = limit};
    drift.raised = drift.value > limit;
    return drift;
}

/* Samples behind a standard deviation; where they cannot be estimated, as few as that means. */
static double samples_behind(const struct channel_statistics *point)
{
    return point->n_effective > FEW_SAMPLES ? point->n_effective : FEW_SAMPLES;
}

struct record_judgement record_noise(const struct channel_statistics *points, size_t n,
                                     size_t point)
{
    double logs[NOISE_POINTS_MAX];
    size_t others = 0;
    for (size_t i = 0; i < n && others < NOISE_POINTS_MAX; i++)
        if (i != point && points[i].sd > 0)
            logs[others++] = log(points[i].sd);
    struct robust usual = robust_of(logs, others);
    if (usual.n < NOISE_POINTS_MIN || !(points[point].sd > 0))
        return silent;
    double chance = sqrt(1 / samples_behind(&points[point])); /* of two ln sd, 1/(2 n) each */
    double bound = fmax(log(noise_factor), noise_deviations * fmax(usual.scale, chance));
    double distance = log(points[point].sd) - usual.median;
    return (struct record_judgement){.raised = fabs(distance) > bound,
                                     .value = exp(distance),
                                     .limit = exp(distance < 0 ? -bound : bound)};
}
