/* target_flags.h - what the target stage has to say about its points. */
#ifndef LAPWING_TARGET_FLAGS_H
#define LAPWING_TARGET_FLAGS_H

#include "reduce/flagging.h"
#include "reduce/groups.h"
#include "reduce/target_pass.h"

struct target_flagging {
    const struct night *night;
    const struct run_group *group;
    int may_carry; /* as of the pass */
    struct flagger flagger;
};

/* Writes the flags of the pass as it stands: points at no target, off target, or without a value
 * there; coordinates that were not logged, once a run; and what became of decisions to restore. */
enum status target_flags_write(struct target_flagging *flagging, const struct target_pass *pass,
                               struct fault *fault);

#endif
