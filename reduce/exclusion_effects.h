/* exclusion_effects.h - what leaving out and taking in changed, delta by delta.
 *
 * The comparison is made on two more bases (reduce/point_state.h): with everything in, as if nobody had
 * decided and no rule had failed, and by the rules alone, as if nobody had decided. A basis that gives
 * the numbers of one already looked at is not kept.                                                */
#ifndef LAPWING_EXCLUSION_EFFECTS_H
#define LAPWING_EXCLUSION_EFFECTS_H

#include "reduce/compare_plan.h"
#include "reduce/flagging.h"

struct exclusion_request {
    const struct night *night;
    const struct run_group *group;
    const struct family *stands; /* as it stands */
    const struct compare_plan *plan;
    struct flagger *flagger;
    int64_t reduction; /* of the compare stage */
};

/* Writes exclusion_effect, a row where a point or a number differs, and a flag for each configuration
 * whose verdict does. Nothing when nothing was left out or taken in. */
enum status exclusion_effects_write(const struct exclusion_request *request, struct fault *fault);

#endif
