/* plausibility.h - gates that are wide on purpose: a number outside is probably in another unit, sign,
 * scale or axis. Outside means a flag with a question, never an edit.
 *
 * Ranges are common practice, no source. Areas and heights are brought to full size by the model's
 * scale first. A run is flagged once a gate, with its farthest value and the number of points.     */
#ifndef LAPWING_PLAUSIBILITY_H
#define LAPWING_PLAUSIBILITY_H

#include "reduce/flagging.h"
#include "reduce/reduced_point.h"

enum { PLAUSIBILITY_GATES = 12 };

struct plausibility_watch {
    size_t points;                      /* points that were asked */
    size_t outside[PLAUSIBILITY_GATES]; /* points outside the gate */
    double worst[PLAUSIBILITY_GATES];   /* value farthest out */
};

/* Asks a point that has numbers. */
void plausibility_add(struct plausibility_watch *watch, const struct run_work *work,
                      const struct reduced_point *made);

/* 1 when the run is to be flagged for this gate, 0 <= gate < PLAUSIBILITY_GATES; then *note is filled. */
int plausibility_check(const struct plausibility_watch *watch, size_t gate,
                       const struct run_work *work, struct flag_note *note);

#endif
