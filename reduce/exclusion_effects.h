/* exclusion_effects.h - what leaving out and taking in changed, delta by delta.
 *
 * The comparison is made on two more bases (reduce/point_state.h): with everything in, as if nobody had
 * decided and no rule had failed, and by the rules alone, as if nobody had decided. A basis that gives
 * the numbers of one already looked at is not kept.                                                */
#ifndef LAPWING_EXCLUSION_EFFECTS_H
#define LAPWING_EXCLUSION_EFFECTS_H

#include "reduce/compare_plan.h"
#include "reduce/delta_reading.h"
#include "reduce/flagging.h"
#include "reduce/season_knowledge.h"

struct exclusion_request {
    const struct night *night;
    const struct run_group *group;
    const struct family *stands; /* as it stands */
    const struct compare_plan *plan;
    const struct season_knowledge *season;
    struct flagger *flagger;
    int64_t reduction; /* of the compare stage */
    double
        significance; /* delta_reading.h; 0 where intervals are simultaneous by their own correlations */
};

/* Writes exclusion_effect, a row where a point or a number differs, and a flag for each configuration
 * whose verdict does. Nothing when nothing was left out or taken in. */
enum status exclusion_effects_write(const struct exclusion_request *request, struct fault *fault);

/* Reads the deltas that a family gives, by the plan and the season of the request: readings[1] to
 * [n_configurations - 1]. */
enum status exclusion_read(const struct exclusion_request *request, const struct family *family,
                           enum quantity quantity, size_t measure, struct delta_reading *readings,
                           struct fault *fault);

#endif
