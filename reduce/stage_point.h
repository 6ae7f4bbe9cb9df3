/* stage_point.h - every point of a wind-on run to corrected coefficients, with ledger, taps, flags. */
#ifndef LAPWING_STAGE_POINT_H
#define LAPWING_STAGE_POINT_H

#include <stdint.h>

#include "reduce/night.h"

enum run_ending { RUN_REDUCED, RUN_UP_TO_DATE, RUN_REFUSED };

/* Reduces one wind-on run, inside the caller's transaction. A run whose inputs have not changed is
 * left alone; one that the science refuses as a whole (two kinds of loads, no calibration, no zero)
 * is written with its flags and without numbers. */
enum status stage_point(const struct night *night, const struct run_row *run,
                        enum run_ending *ending, struct fault *fault);

#endif
