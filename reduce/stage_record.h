/* stage_record.h - the record stage: are the raw records of an entry measurements at all? */
#ifndef LAPWING_STAGE_RECORD_H
#define LAPWING_STAGE_RECORD_H

#include "reduce/night.h"
#include "schema/fault.h"

/* All usable runs of one entry at one facility, zeros and tares too. */
struct record_group {
    char *subject;               /* "facility/entry" */
    const struct run_row **runs; /* in run-sheet order */
    size_t n_runs;
};

struct record_groups {
    struct record_group *groups; /* in the order of their first run in the sheet */
    size_t n_groups;
};

/* Groups the night. On OK the caller ends *groups with record_groups_end(). */
enum status record_groups_make(const struct night *night, struct record_groups *groups,
                               struct fault *fault);
void record_groups_end(struct record_groups *groups);

/* Judges the records of a group and writes their flags, one a run, a channel and a rule. *fresh is 0
 * when nothing it depends on has changed. The states of points are the point stage's own, by the same
 * rules (record_state.h). */
enum status stage_record(const struct night *night, const struct record_group *group, int *fresh,
                         struct fault *fault);

#endif
