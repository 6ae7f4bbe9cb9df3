/* zero_flags.h - what is worth knowing about the zeros that a run was given: once a run.
 *
 * zero-first-point: a zero run of several points of which none is named. zero-extrapolated: a point of
 * the run, or of its weight tare, lies outside the time between two zeros by more than 5 % of it.    */
#ifndef LAPWING_ZERO_FLAGS_H
#define LAPWING_ZERO_FLAGS_H

#include "reduce/flagging.h"
#include "reduce/reduced_point.h"

/* Writes the flags of a run whose zeros and tare are read. */
enum status zero_flags(const struct run_work *work, struct flagger *flagger, struct fault *fault);

#endif
