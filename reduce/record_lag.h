/* record_lag.h - do the channels of a run follow the wind in time? */
#ifndef LAPWING_RECORD_LAG_H
#define LAPWING_RECORD_LAG_H

#include "reduce/record_run.h"

/* Flags late-channel for each channel of a wind-on run that follows the wind late, or ahead of it
 * (channel_is_late()); where the loads are all ahead alike, the wind's own channel in their place
 * (wind_is_late()). Only where the wind moves within the points is there anything to tell. */
enum status record_lag_judge(const struct record_run *run, struct fault *fault);

#endif
