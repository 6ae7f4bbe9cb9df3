/* zero_flags.h - what is worth knowing about the zeros that a run was given: once a run.
 *
 * zero-with-wind: a zero of the run, or of its weight tare, whose q is above 0.5 % of the run's median q
 * and above what pressure sensors show in still air; the weight tare's own points are not asked. Common
 * practice, no source. zero-first-point: a zero run of several points of which none is named. zero-extrapolated: a point of
 * the run, or of its weight tare, lies outside the time between two zeros by more than 5 % of it.    */
#ifndef LAPWING_ZERO_FLAGS_H
#define LAPWING_ZERO_FLAGS_H

#include "reduce/flagging.h"
#include "reduce/reduced_point.h"

/* Writes the flags of a run whose zeros and tare are read; q is the median of its points, Pa, NAN where
 * coefficients need none. */
enum status zero_flags(const struct run_work *work, double q, struct flagger *flagger,
                       struct fault *fault);

#endif
