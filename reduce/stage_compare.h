/* stage_compare.h - a family's runs to deltas, intervals and verdicts. */
#ifndef LAPWING_STAGE_COMPARE_H
#define LAPWING_STAGE_COMPARE_H

#include "reduce/groups.h"
#include "reduce/night.h"

/* Compares the configurations of one family in one entry with their baseline, inside the caller's
 * transaction; *fresh is 0 when nothing it depends on has changed.
 *
 * The unit of evidence is a mounting (mountings.h): its value is the mean over its runs, a run's the
 * mean over its used points at a target, or the weighted sum over the targets. Deltas and noise come
 * from reduce/statistics/bracket.h; what the slopes to the target add, which mountings share, from
 * bracket_shared.h. The declared main measure has simultaneous intervals and verdict
 * words; every other measure has intervals of its own and none.
 *
 * Where points were left out or taken in, the comparison is made again on the other bases, and what
 * that changes is kept beside (exclusion_effects.h).                                               */
enum status stage_compare(const struct night *night, const struct run_group *group, int *fresh,
                          struct fault *fault);

#endif
