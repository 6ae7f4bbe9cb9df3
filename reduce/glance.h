/* glance.h - one run, right after it: what it gives, against which limits, and whether to repeat it.
 *
 * Reduces the run, the earlier runs of its configuration and the run before it, and brings the
 * configuration to its targets, all inside one transaction that is rolled back: the zero after the run
 * is usually still to come, so nothing made here may stay in the season. What a night reduced already
 * is taken as it is.                                                                               */
#ifndef LAPWING_REDUCE_GLANCE_H
#define LAPWING_REDUCE_GLANCE_H

#include "schema/glance.h"
#include "schema/store.h"

/* Fills and judges *glance from the season of a folder, in which the run was ingested. NOT_FOUND: no
 * season, or the run is not in it. BAD_INPUT: the campaign is wrong. The caller ends *glance with
 * glance_end(), whatever the status. */
enum status glance_run(const char *folder, const char *run, struct glance *glance,
                       struct fault *fault);

/* The same in an open season, which must not be within a transaction. */
enum status glance_in_season(struct store *store, const struct campaign *campaign, const char *run,
                             struct glance *glance, struct fault *fault);

#endif
