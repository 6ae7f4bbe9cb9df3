/* stage_noise_check.h - does the facility repeat tonight as it did before? */
#ifndef LAPWING_STAGE_NOISE_CHECK_H
#define LAPWING_STAGE_NOISE_CHECK_H

#include "reduce/groups.h"
#include "reduce/night.h"

/* Holds a family's scatter of the main measure (without one, of the first metric at the first target), level
 * by level, beside what was known before the entry began, and flags a level that is unlike it: F test at
 * 1 %, half of it either way (statistics/variance_ratio.h), with three degrees of freedom on both sides at least,
 * common practice, no source. Inside the caller's transaction; *fresh is 0 when nothing it depends
 * on has changed. A stage of its own, because it needs the repeatability of all earlier entries, which
 * the run sheet may name later. */
enum status stage_noise_check(const struct night *night, const struct run_group *group, int *fresh,
                              struct fault *fault);

#endif
