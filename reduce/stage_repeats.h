/* stage_repeats.h - the stage that holds stated uncertainties against what repeats show.
 *
 * Runs of one configuration that were made again (check standards, a curve run twice) are paired point by
 * point (stated_pairs.h); how many pairs agree within the uncertainty that the log states for each is
 * counted (statistics/repeat_agreement.h), and it is flagged where this is too small or too large. */
#ifndef LAPWING_STAGE_REPEATS_H
#define LAPWING_STAGE_REPEATS_H

#include "reduce/stage_record.h"

/* Compares the repeats of an entry. *fresh is 0 when nothing it depends on has changed. Only a campaign
 * with a section repeats has such a stage. */
enum status stage_repeats(const struct night *night, const struct record_group *group, int *fresh,
                          struct fault *fault);

/* Prints what the stage flagged of the uncertainties stated in the latest entry, a line each. */
enum status repeats_print(struct store *store, struct fault *fault);

#endif
