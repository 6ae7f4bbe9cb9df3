/* verdict.c - see verdict.h. */
#include "reduce/statistics/verdict.h"

#include <math.h>
#include <stddef.h>

/* Sense of a step to one end of the interval: +1 better, -1 worse, 0 neither or not declared. */
static int sense_of_step(double step, enum direction direction, double baseline, double toward)
{
    double nearer;

    switch (direction) {
    case DIRECTION_HIGHER:
        return (step > 0) - (step < 0);
    case DIRECTION_LOWER:
        return (step < 0) - (step > 0);
    case DIRECTION_TOWARD:
        nearer = fabs(baseline - toward) - fabs(baseline + step - toward);
        return (nearer > 0) - (nearer < 0);
    case DIRECTION_NONE:
        break;
    }
    return 0;
}

/* A real change: both ends must be better, or both worse, to be called so. */
static enum verdict changed_for(double lower, double upper, enum direction direction,
                                double baseline, double toward)
{
    int at_lower = sense_of_step(lower, direction, baseline, toward);
    int at_upper = sense_of_step(upper, direction, baseline, toward);

    if (at_lower != at_upper || at_lower == 0)
        return VERDICT_CHANGED;
    return at_lower > 0 ? VERDICT_GAIN : VERDICT_LOSS;
}

struct verdict_reading verdict_read(double lower, double upper, double worthwhile,
                                    enum direction direction, double baseline, double toward)
{
    struct verdict_reading reading = {VERDICT_CANNOT_TELL, 0};
    int zero_is_outside = lower > 0 || upper < 0;

    if (!isfinite(lower) || !isfinite(upper) || lower > upper)
        return reading;
    if (!isfinite(worthwhile) || worthwhile <= 0)
        return reading;
    if (lower >= -worthwhile && upper <= worthwhile) {
        reading.verdict = VERDICT_NO_CHANGE;
        reading.real_but_small = zero_is_outside;
        return reading;
    }
    if (zero_is_outside)
        reading.verdict = changed_for(lower, upper, direction, baseline, toward);
    return reading;
}

const char *verdict_words(enum verdict verdict)
{
    static const char *const words[] = {
        [VERDICT_NO_CHANGE] = "no change that matters",
        [VERDICT_GAIN] = "gain",
        [VERDICT_LOSS] = "loss",
        [VERDICT_CHANGED] = "changed",
        [VERDICT_CANNOT_TELL] = "can't tell yet",
    };
    size_t row = (size_t)verdict;

    return row < sizeof words / sizeof words[0] ? words[row] : words[VERDICT_CANNOT_TELL];
}
