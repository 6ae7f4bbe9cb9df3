/* repeatability.h - how well a facility repeats: what its entries say together.
 *
 * Each entry keeps variances at three levels (stage_repeatability.h). Entries are pooled by their degrees
 * of freedom. The fourth level, a new entry, is found here, from configurations that were in several
 * entries (statistics/entry_variance.h), with the refit's pooled variance as the entry's own error.
 *
 * What campaign.yaml declares (repeatability:) is one more estimate, pooled by the degrees of freedom it is
 * declared to be worth. It is counted in declared and not among the entries, and it is known at any
 * moment. A figure declared for an attitude stands in place of one declared for any.               */
#ifndef LAPWING_REPEATABILITY_H
#define LAPWING_REPEATABILITY_H

#include <stddef.h>

#include "reduce/night.h"
#include "reduce/statistics/variance_levels.h"
#include "schema/fault.h"
#include "schema/store.h"

/* Of single measurements, about the mean of those between which no more was done than the level says.
 * What is measured is a point at the two lower levels (of "weighted": a run, one pass over all attitudes),
 * and a mounting's value at the two upper ones. */
struct repeatability {
    struct variance_estimate level[VARIANCE_LEVELS]; /* freedom 0: not known */
    size_t entries;                                  /* measured, that say something of any level */
    size_t level_entries[VARIANCE_LEVELS];           /* of each */
    size_t declared[VARIANCE_LEVELS];                /* 1: a declared figure is pooled in */
};

/* What is known of a quantity ("CL") at a target (a name, or "weighted") from the entries of the facility
 * that started before a moment: s since 1970-01-01T00:00:00Z, INFINITY for all of them. For what was known
 * before an entry, give repeatability_entry_start() of it: then it is not among them. */
enum status repeatability_read(struct store *store, const char *facility, const char *quantity,
                               const char *target, double before, struct repeatability *known,
                               struct fault *fault);

/* Start of the first run of a run's entry, of any kind, readable or not. */
double repeatability_entry_start(const struct night *night, const struct run_row *of);

/* Writes the table repeatability_season anew: every facility, quantity and target, all entries. In a
 * transaction of its own. */
enum status repeatability_season_write(struct store *store, struct fault *fault);

#endif
