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
 * from the model of the whole night or from brackets (measure_evidence.h), the noise from tonight or from the
 * season's earlier entries; what the slopes to the target add, which mountings share, from
 * statistics/shared_error.h. The declared main measure has simultaneous intervals and verdict
 * words; every other measure has intervals of its own and none. Entries that start later change nothing.
 *
 * Where points were left out or taken in, the comparison is made again on the other bases, and what
 * that changes is kept beside (exclusion_effects.h), and so is what the verdicts would be without one return to
 * the baseline or without flagged points (robustness.h).                                               */
enum status stage_compare(const struct night *night, const struct run_group *group, int *fresh,
                          struct fault *fault);

#endif
