/* stage_pressure_map.h - a family's tap pressures at one attitude, and their change. */
#ifndef LAPWING_STAGE_PRESSURE_MAP_H
#define LAPWING_STAGE_PRESSURE_MAP_H

#include "reduce/groups.h"
#include "reduce/night.h"

/* Maps the taps of every configuration of one family in one entry at the campaign's map attitude,
 * inside the caller's transaction; *fresh is 0 when nothing it depends on has changed.
 *
 * A tap's Cp is the mean over runs of its mean over the run's used points; a tap that failed at all of
 * them is dead. Its change and the standard uncertainty of that are bracketed by baseline returns, with
 * mountings as repeats, like those of the coefficients (tap_change.h): the difference of the two means
 * would hold the drift. A configuration outside the returns has Cp and no change.                  */
enum status stage_pressure_map(const struct night *night, const struct run_group *group, int *fresh,
                               struct fault *fault);

#endif
