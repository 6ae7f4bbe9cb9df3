/* stage_target.h - a configuration's points brought to the declared attitudes. */
#ifndef LAPWING_STAGE_TARGET_H
#define LAPWING_STAGE_TARGET_H

#include "reduce/groups.h"
#include "reduce/night.h"

/* Brings the points of one configuration in one entry to their targets, inside the caller's
 * transaction; *fresh is 0 when nothing it depends on has changed.
 *
 * A point belongs to the nearest target within capture on every coordinate that target names. Within
 * tolerance it is at target. Within cap it is carried there along the slopes of a local fit through
 * the configuration's own points (all usable runs of the entry, each run with its own level). Beyond
 * the cap, or where the fit refuses, it keeps its attained value and is not compared.
 *
 * Points that a rule failed or that somebody excluded are brought along and not compared, and no slope
 * rests on them. A decision to restore a point beyond the cap carries it all the same, where a slope
 * holds. What the configuration would be without decisions and failures is kept beside, where it
 * differs (table target_other).                                                                    */
enum status stage_target(const struct night *night, const struct run_group *group, int *fresh,
                         struct fault *fault);

#endif
