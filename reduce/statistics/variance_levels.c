/* variance_levels.c - see variance_levels.h. */
#include "reduce/statistics/variance_levels.h"

#include <math.h>

#include "reduce/physics/finite.h"
#include "reduce/statistics/two_samples.h"

static const struct variance_estimate unknown = {(double)NAN, 0};

const char *variance_level_words(enum variance_level level)
{
    static const char *const words[] = {"back to back", "attitude returned", "part refitted",
                                        "new entry"};
    return (size_t)level < VARIANCE_LEVELS ? words[level] : "unknown";
}

static int is_known(struct variance_estimate estimate)
{
    return estimate.freedom > 0 && estimate.variance >= 0 && isfinite(estimate.variance);
}

/* Sum of squares about the mean of the group that begins at first; gives the group's size. */
static size_t add_squares(const double *values, const size_t *group, size_t n, size_t first,
                          double *squares)
{
    double mean = 0, members = 0;

    for (size_t i = first; i < n; i++)
        if (group[i] == group[first]) {
            mean += values[i] - values[first];
            members++;
        }
    mean /= members;
    for (size_t i = first; i < n; i++)
        if (group[i] == group[first])
            *squares += (values[i] - values[first] - mean) * (values[i] - values[first] - mean);
    return (size_t)members;
}

static int is_first(const size_t *group, size_t i)
{
    for (size_t j = 0; j < i; j++)
        if (group[j] == group[i])
            return 0;
    return 1;
}

struct variance_estimate variance_within(const double *values, const size_t *group, size_t n)
{
    double squares = 0, freedom = 0;

    if (!all_finite(values, n))
        return unknown;
    for (size_t i = 0; i < n; i++)
        if (is_first(group, i))
            freedom += (double)add_squares(values, group, n, i, &squares) - 1;
    return freedom > 0 ? (struct variance_estimate){squares / freedom, freedom} : unknown;
}

struct variance_estimate variance_pool(const struct variance_estimate *estimates, size_t n)
{
    double sum = 0, freedom = 0;

    for (size_t i = 0; i < n; i++) {
        if (!is_known(estimates[i]))
            continue;
        sum += estimates[i].variance * estimates[i].freedom;
        freedom += estimates[i].freedom;
    }
    return freedom > 0 ? (struct variance_estimate){sum / freedom, freedom} : unknown;
}

struct variance_estimate variance_component(struct variance_estimate whole,
                                            struct variance_estimate lower, double per)
{
    if (!is_known(whole) || !is_known(lower) || !(per >= 1))
        return unknown;
    double share = lower.variance / per;
    double added = whole.variance - share;
    if (!(added > 0))
        return (struct variance_estimate){0, whole.freedom};
    double spread = whole.variance * whole.variance / whole.freedom + share * share / lower.freedom;
    return (struct variance_estimate){added, added * added / spread};
}

struct variance_estimate variance_single(struct variance_estimate whole,
                                         struct variance_estimate lower, double per)
{
    static const double rounding = 1e-9;

    if (!is_known(whole) || !(per >= 1))
        return unknown;
    if (per <= 1 + rounding && !is_known(lower))
        return whole;
    if (!is_known(lower))
        return unknown;
    const double shares[] = {whole.variance, (1 - 1 / per) * lower.variance};
    const double freedoms[] = {whole.freedom, lower.freedom};
    double sum = shares[0] + shares[1];
    if (!(sum > lower.variance))
        return (struct variance_estimate){lower.variance, whole.freedom};
    return (struct variance_estimate){sum, effective_freedom(shares, freedoms, 2)};
}

enum variance_source variance_choose(struct variance_estimate tonight,
                                     struct variance_estimate season, double least_freedom,
                                     struct variance_estimate *chosen)
{
    int has_tonight = is_known(tonight) && tonight.variance > 0;
    int has_season = is_known(season) && season.variance > 0;

    *chosen = unknown;
    if (!has_tonight && !has_season)
        return VARIANCE_NOBODYS;
    if (has_season &&
        (!has_tonight || (tonight.freedom < least_freedom && season.freedom > tonight.freedom))) {
        *chosen = season;
        return VARIANCE_SEASONS;
    }
    *chosen = tonight;
    return VARIANCE_TONIGHTS;
}

struct variance_estimate variance_of_delta(const struct variance_estimate added[VARIANCE_LEVELS],
                                           struct delta_effort effort)
{
    const double over[VARIANCE_LEVELS] = {effort.points, effort.returns, effort.refits,
                                          effort.entries};
    size_t levels = effort.entries > 0 ? VARIANCE_LEVELS : VARIANCE_NEW_ENTRY;
    double shares[VARIANCE_LEVELS], freedoms[VARIANCE_LEVELS];
    double sum = 0;

    for (size_t k = 0; k < levels; k++) {
        if (!is_known(added[k]) || !(over[k] >= 1))
            return unknown;
        shares[k] = 2 * added[k].variance / over[k];
        freedoms[k] = added[k].freedom;
        sum += shares[k];
    }
    double freedom = effective_freedom(shares, freedoms, levels);
    return freedom > 0 ? (struct variance_estimate){sum, freedom} : unknown;
}
