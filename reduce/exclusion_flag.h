/* exclusion_flag.h - the flag on a verdict that rests on what was left out or taken in. */
#ifndef LAPWING_EXCLUSION_FLAG_H
#define LAPWING_EXCLUSION_FLAG_H

#include "reduce/delta_reading.h"
#include "reduce/exclusion_points.h"
#include "reduce/flagging.h"

struct exclusion_flip {
    const struct family *family;
    const struct exclusion_points *points;
    enum basis basis;
    size_t configuration, measure;
    const struct delta_reading *with, *without;
};

/* 1 when the verdict words differ; none is a word of its own. */
int exclusion_flips(const struct delta_reading *with, const struct delta_reading *without);

/* Writes verdict-rests-on-exclusion with both verdicts and the points that differ, each with who decided
 * or which rule. */
enum status exclusion_flag_write(struct flagger *flagger, const struct campaign *campaign,
                                 const struct exclusion_flip *flip, struct fault *fault);

#endif
