/* point_tares.h - all that is taken off a point by tare: weight, belt, support and interference. */
#ifndef LAPWING_POINT_TARES_H
#define LAPWING_POINT_TARES_H

#include "reduce/flagging.h"
#include "reduce/reduced_point.h"

/* Into the inputs of a point at an attitude as it was logged: no tare knows of a turn of the flow. model[6] (may be NULL) is the rigid weight's part, NAN
 * without one. 0 when something is not known there; then *note (may be NULL) refuses the point. */
int point_tares(const struct run_work *work, const struct point_row *point,
                const double attitude[ATTITUDE_COUNT], struct tunnel_inputs *inputs,
                double model[6], struct flag_note *note);

/* What is missing of the belt's tare, and what it leaves out: once a run. */
enum status belt_tare_flags(const struct run_work *work, struct flagger *flagger,
                            struct fault *fault);

#endif
