/* variance_levels.h - how well a number repeats, at four levels, and which figure is used tonight.
 *
 * From the least to the most that is done between two measurements: nothing (back to back), the
 * attitude left and returned to, the part taken off and refitted, a new entry. What is stored for a
 * measure and a facility is a pooled variance at each level with its degrees of freedom: of single
 * measurements about the mean of those between which no more than that was done. */
#ifndef LAPWING_VARIANCE_LEVELS_H
#define LAPWING_VARIANCE_LEVELS_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

enum variance_level {
    VARIANCE_BACK_TO_BACK,
    VARIANCE_RETURNED,
    VARIANCE_REFITTED,
    VARIANCE_NEW_ENTRY,
    VARIANCE_LEVELS
};

struct variance_estimate {
    double variance; /* NAN when freedom is 0 */
    double freedom;
};

/* "back to back", "attitude returned", "part refitted", "new entry" */
const char *variance_level_words(enum variance_level level);

/* Scatter within groups of values, pooled: sum of squares about the groups' means over n - groups.
 * Groups of one say nothing and do no harm. Freedom 0 when nothing repeats or a value is not finite. */
struct variance_estimate variance_within(const double *values, const size_t *group, size_t n);

/* Several estimates of one variance, weighted by their degrees of freedom; those with none do not
 * count. Source: NIST/SEMATECH e-Handbook of Statistical Methods, 2.4.3.1, pooling. */
struct variance_estimate variance_pool(const struct variance_estimate *estimates, size_t n);

/* What a level adds to the one below: whole minus lower / per, where each measurement at the level
 * is the mean of per >= 1 measurements of the lower one. At least 0; degrees of freedom are
 * Satterthwaite's for the difference, those of whole when it is 0. NAN without both.
 * Source: Satterthwaite, "An Approximate Distribution of Estimates of Variance Components" (1946). */
struct variance_estimate variance_component(struct variance_estimate whole,
                                            struct variance_estimate lower, double per);

/* A single measurement at the level above lower, whole as in variance_component(): what that level adds,
 * and lower in full,
 *
 *   variance = whole + (1 - 1 / per) lower,  not less than lower,
 *
 * with Satterthwaite's degrees of freedom, those of whole where it adds nothing. With per 1 lower need not be known, and whole is it. */
struct variance_estimate variance_single(struct variance_estimate whole,
                                         struct variance_estimate lower, double per);

enum variance_source { VARIANCE_NOBODYS, VARIANCE_TONIGHTS, VARIANCE_SEASONS };

/* Tonight's own when it has least_freedom degrees (common practice, no source: 8), else the season's
 * when it has more than tonight's, else tonight's. */
enum variance_source variance_choose(struct variance_estimate tonight,
                                     struct variance_estimate season, double least_freedom,
                                     struct variance_estimate *chosen);

struct delta_effort {
    double points, returns, refits; /* a side, each >= 1 */
    double entries;                 /* 0: both sides in one entry; else those of each side */
};

/* Variance of a delta of two sides of equal effort from what each level adds,
 *
 *   u^2 = 2 (v_0 / points + v_1 / returns + v_2 / refits + v_3 / entries)
 *
 * the last only with entries > 0. The refit's share does not fall with points. Components of freedom 0
 * that are needed make it NAN. Freedom: Satterthwaite's. Source: common practice, no source. */
struct variance_estimate variance_of_delta(const struct variance_estimate added[VARIANCE_LEVELS],
                                           struct delta_effort effort);

#endif
