/* yaw_offset.h - at which yaw a car's side force is zero, told of every run that sweeps the yaw.
 *
 * Nothing is corrected for it: the flow's turn, the turntable's zero and the car's own asymmetry look
 * alike, and only a reference body with its mirror image tells them apart (flow_angularity.h).      */
#ifndef LAPWING_YAW_OFFSET_H
#define LAPWING_YAW_OFFSET_H

#include "reduce/flagging.h"
#include "reduce/reduced_point.h"

struct yaw_watch {
    double *yaw, *side, *drag; /* of the points added; owned, room for all of the run's */
    double (*height)[2];       /* front and rear, m; owned */
    size_t n;
};

/* On OK the caller ends *watch with yaw_watch_end(). */
enum status yaw_watch_open(const struct run_work *work, struct yaw_watch *watch,
                           struct fault *fault);
void yaw_watch_end(struct yaw_watch *watch);

/* Takes a point that has a yaw and a side force. */
void yaw_watch_add(struct yaw_watch *watch, const struct reduced_point *made);

/* The largest sweep at one pair of ride heights, as near as `capture`: four points or more, on both sides
 * of 0. Gives 1 with the note filled when the yaw of no side force differs from 0 by more than two
 * standard uncertainties. */
int yaw_watch_check(const struct yaw_watch *watch, const struct run_work *work,
                    struct flag_note *note);

#endif
