/* point_taps.h - the surface pressures of a run's points, and which taps are not to be believed.
 *
 * A tap fails at a point when it is frozen (one value from the first sample to the last) or
 * impossible: Cp above stagnation by more than three standard uncertainties, or below the vacuum
 *   Cp < -2 / (1.4 M^2)
 * (p = 0 in Cp = (p - p_static)/q with q = 0.7 p_static M^2). Its number is kept with the state
 * "failed". It fails without a number where its zeros log it and hold no value (tap_zero.h). One flag a
 * tap and a rule for the whole run, with the number of points in it.                                */
#ifndef LAPWING_POINT_TAPS_H
#define LAPWING_POINT_TAPS_H

#include "reduce/flagging.h"
#include "reduce/reduced_point.h"

struct tap_work;

/* Finds the taps of the run and of its zeros once. On OK the caller ends *taps with
 * tap_work_end(). */
enum status tap_work_open(const struct run_work *work, int64_t reduction, struct tap_work **taps,
                          struct fault *fault);
void tap_work_end(struct tap_work *taps); /* NULL is fine */

/* Writes the tap rows of a point that has a freestream; nothing when it has none. */
enum status tap_work_point(struct tap_work *taps, const struct reduced_point *made,
                           struct fault *fault);

/* Writes the flags of all points seen so far. */
enum status tap_work_flags(struct tap_work *taps, struct flagger *flagger, struct fault *fault);

#endif
