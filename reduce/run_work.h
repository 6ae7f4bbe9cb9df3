/* run_work.h - reading all that the points of a run share. */
#ifndef LAPWING_RUN_WORK_H
#define LAPWING_RUN_WORK_H

#include "reduce/reduced_point.h"

/* Makes the recipe and reads the zeros and the tare of work->run, whose data have been read already.
 * NO_RESULT: the science refuses the run as a whole, the reason is in *fault and only the data are
 * there. */
enum status run_work_complete(struct run_work *work, struct fault *fault);

/* Ends what run_data_read() and run_work_complete() left in *work, also after a failure. */
void run_work_end(struct run_work *work);

/* 1 when the run needs a zero and none can be told. Without zeros the taps of ready-made coefficients
 * are taken as they are. */
int run_work_zero_is_missing(const struct run_work *work);

#endif
