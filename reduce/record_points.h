/* record_points.h - the rules on one channel at one point, over all channels of a run. */
#ifndef LAPWING_RECORD_POINTS_H
#define LAPWING_RECORD_POINTS_H

#include "reduce/record_history.h"
#include "reduce/record_run.h"

/* The run is number `at` of its history. Flags what is stuck, clipped, spiked or unusually noisy at some points, and the balance's and the
 * scanner's temperatures. *is_blamed (n_channels, may be NULL) receives 1 for each channel of which
 * half the points are stuck, clipped or spiked: its noise as a whole needs no other reason. */
enum status record_points_judge(struct record_run *run, const struct record_history *history,
                                size_t at, unsigned char *is_blamed, struct fault *fault);

#endif
