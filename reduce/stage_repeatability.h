/* stage_repeatability.h - how well the values of a family repeat in one entry, at three levels. */
#ifndef LAPWING_STAGE_REPEATABILITY_H
#define LAPWING_STAGE_REPEATABILITY_H

#include "reduce/groups.h"
#include "reduce/night.h"

/* Writes a family's rows of the tables repeatability and entry_mean, inside the caller's transaction;
 * *fresh is 0 when nothing it depends on has changed. Quantities and measures are those that are compared
 * (compare_plan.h), values those of the points that the comparison as it stands uses.
 *
 *   back to back       points of one run that follow each other at one target
 *   attitude returned  points of one mounting at one target, with another attitude or a stop between
 *                      them; of "weighted": runs of one mounting. Drift within a mounting is in it
 *   part refitted      a mounting's value, drift taken out: the comparison's own estimate
 *                      (statistics/bracket_noise.h)
 *
 * A level has no row where nothing repeats, or where repeats differ by rounding only. That of "weighted"
 * back to back is put together from its targets (repeat_weighted.h).                              */
enum status stage_repeatability(const struct night *night, const struct run_group *group,
                                int *fresh, struct fault *fault);

#endif
