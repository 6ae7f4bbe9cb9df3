/* undeclared_change.h - did something change between two runs that the run sheet does not tell?
 *
 * A run is held against the wind-on run before it, of the same entry and balance, where both declare one
 * configuration and one mounting. The car was not touched, then, and should weigh the same and leave
 * the balance at the same zero:
 *
 *   zero    its zero before against the last zero of the run before
 *   weight  its weight tare against that of the run before, where they are two tare runs, at the
 *           attitude of the run's first point with a number; with weight_tare: fit W and the centre
 *           of gravity are told beside it
 *
 * Steps are weighed by what they do to the metrics. A step is told when it is worth more than the
 * campaign's zero_drift share of the smallest worthwhile delta; that of the zero must also be larger than
 * three times what the drift within either run makes plausible over the time between the zeros. Common
 * practice, no source.                                                                              */
#ifndef LAPWING_UNDECLARED_CHANGE_H
#define LAPWING_UNDECLARED_CHANGE_H

#include "reduce/flagging.h"
#include "reduce/load_probe.h"

/* The run that a run is held against; NULL when there is none. */
const struct run_row *undeclared_reference(const struct night *night, const struct run_row *run);

/* Writes the flags of a run; probe is of the run. */
enum status undeclared_change_flags(const struct run_work *work, const struct load_probe *probe,
                                    struct flagger *flagger, struct fault *fault);

#endif
