/* history_usual.h - middle and width of one number of a channel's other runs. */
#ifndef LAPWING_HISTORY_USUAL_H
#define LAPWING_HISTORY_USUAL_H

#include "reduce/statistics/channel_history.h"
#include "reduce/statistics/robust.h"

enum usual_number {
    USUAL_LEVEL,        /* as it is */
    USUAL_REPEAT_SHARE, /* as it is */
    USUAL_RANGE,        /* natural logarithms from here on; what is not positive is left out */
    USUAL_NOISE,
    USUAL_SLUGGISHNESS,
    USUAL_STEP
};

/* The number of one run, its logarithm where the others' is; NAN where there is none. */
double usual_number(const struct channel_signature *run, enum usual_number number);

/* Of n runs; of more than 512 runs 512 are taken, evenly spaced. */
struct robust usual_of(const struct channel_signature *others, size_t n, enum usual_number number);

#endif
