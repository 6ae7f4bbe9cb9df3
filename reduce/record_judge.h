/* record_judge.h - the channels of one run against their own history. */
#ifndef LAPWING_RECORD_JUDGE_H
#define LAPWING_RECORD_JUDGE_H

#include "reduce/record_history.h"
#include "reduce/record_run.h"

/* Flags what channel_history.h and channel_swap.h find. Where more than half of the run's channels (taps
 * apart), or the wind and half of the loads, are away from their history, the run differs: that is said
 * once and no level is judged. Taps that all tell the same are told of once. is_blamed: of each channel,
 * 1 where its noise has been explained by spikes and the like. */
enum status record_judge(struct record_run *run, const struct record_history *history, size_t at,
                         const unsigned char *is_blamed, struct fault *fault);

#endif
