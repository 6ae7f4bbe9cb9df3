/* stage_pressure_map.h - a family's tap pressures at one attitude, and their change. */
#ifndef LAPWING_STAGE_PRESSURE_MAP_H
#define LAPWING_STAGE_PRESSURE_MAP_H

#include "reduce/groups.h"
#include "reduce/night.h"

/* Maps the taps of every configuration of one family in one entry at the campaign's map attitude,
 * inside the caller's transaction; *fresh is 0 when nothing it depends on has changed.
 *
 * A tap's Cp is the mean over runs of its mean over the run's used points; a tap that failed at all of
 * them is dead. The change is against the mean of the baseline's runs without interpolation in time:
 * Cp is referred to the wind of its own point, and drift of scanners is taken off with their zero.
 * delta_cp_u comes from the scatter between runs, when both sides have at least two.               */
enum status stage_pressure_map(const struct night *night, const struct run_group *group, int *fresh,
                               struct fault *fault);

#endif
