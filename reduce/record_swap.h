/* record_swap.h - which channels of a run stand in each other's place? */
#ifndef LAPWING_RECORD_SWAP_H
#define LAPWING_RECORD_SWAP_H

#include "reduce/record_history.h"
#include "reduce/record_run.h"
#include "reduce/statistics/channel_swap.h"

/* Flags pairs of channels that are exchanged, by their profile over the points where the other runs
 * visit the same points (channel_profile.h; the sixteen nearest runs, 128 points), and by level, range
 * and noise as a whole where both are kept in one unit (channel_swap.h). usual: of each channel.
 * is_swapped receives 1 for each channel that is told of. */
enum status record_swaps_judge(struct record_run *run, const struct record_history *history,
                               size_t at, const struct channel_usual *usual,
                               unsigned char *is_swapped, struct fault *fault);

#endif
