/* history_usual.c - see history_usual.h. */
#include "reduce/statistics/history_usual.h"

#include <math.h>

enum { RUNS_MAX = 512 };

static double positive_log(double value)
{
    return value > 0 ? log(value) : (double)NAN;
}

double usual_number(const struct channel_signature *run, enum usual_number number)
{
    switch (number) {
    case USUAL_LEVEL:
        return run->level;
    case USUAL_REPEAT_SHARE:
        return run->repeat_share;
    case USUAL_RANGE:
        return positive_log(run->range);
    case USUAL_NOISE:
        return positive_log(run->deviation);
    case USUAL_SLUGGISHNESS:
        return positive_log(run->sluggishness);
    case USUAL_STEP:
        return positive_log(run->step);
    }
    return (double)NAN;
}

struct robust usual_of(const struct channel_signature *others, size_t n, enum usual_number number)
{
    double values[RUNS_MAX];
    size_t stride = (n + RUNS_MAX - 1) / RUNS_MAX;
    size_t taken = 0;
    for (size_t i = 0; i < n; i += stride)
        values[taken++] = usual_number(&others[i], number);
    return robust_of(values, taken);
}
