/* channel_swap.h - do two channels of one run each look like the other's history?
 *
 * Three kinds of evidence for each of both: level, range and noise, each with Student's t about the
 * other runs' median with their robust scale. Channels must be kept in the same unit; the caller sees
 * to that.                                                                                         */
#ifndef LAPWING_CHANNEL_SWAP_H
#define LAPWING_CHANNEL_SWAP_H

#include "reduce/statistics/channel_history.h"

/* What the other runs say of a channel, made once and held against many. */
struct channel_usual {
    double level, level_scale;
    double range, range_scale; /* natural logarithms */
    double noise, noise_scale; /* natural logarithms of the sd */
    double degrees_of_freedom;
    int known; /* 0: fewer than HISTORY_RUNS_MIN others have a level */
};

struct channel_usual channel_usual_make(const struct channel_signature *others, size_t n);

/* 1 when swapping explains both: the log-likelihood gains 20 in all and 5 for each alone, and each
 * lies within 6 scales of the other's history in all its evidence. Evidence that the run or either
 * history lacks does not count. *gain (may be NULL) receives the
 * sum; NAN where either history is not known. */
int channels_swapped(const struct channel_signature *a, const struct channel_usual *usual_a,
                     const struct channel_signature *b, const struct channel_usual *usual_b,
                     double *gain);

#endif
