/* scale.c - see scale.h. */
#include "report/scale.h"

#include <math.h>

int scale_takes(double value)
{
    return fabs(value) < 1e15;
}

void scale_widen(double value, double *low, double *high)
{
    if (!scale_takes(value))
        return;
    *low = fmin(*low, value);
    *high = fmax(*high, value);
}

struct scale scale_make(double from, double to, double start, double end)
{
    struct scale scale = {from, to, start, end};

    if (!scale_takes(from) || !scale_takes(to)) {
        scale.from = 0;
        scale.to = 1;
    } else if (!(fabs(to - from) > 0)) {
        scale.from = from - 0.5;
        scale.to = to + 0.5;
    }
    return scale;
}

double scale_at(const struct scale *scale, double value)
{
    double share = (value - scale->from) / (scale->to - scale->from);

    return scale->start + share * (scale->end - scale->start);
}

double scale_nice_step(double width)
{
    static const double nice[] = {1, 2, 5, 10};
    double power = pow(10, floor(log10(width)));
    const double slack = 1 + 1e-9;

    for (int i = 0; i < 3; i++)
        if (nice[i] * power * slack >= width)
            return nice[i] * power;
    return nice[3] * power;
}

static int decimals_of(double step)
{
    int decimals = -(int)floor(log10(step) + 1e-9);

    return decimals > 0 ? decimals : 0;
}

struct ticks scale_ticks(const struct scale *scale, int wanted)
{
    double low = fmin(scale->from, scale->to);
    double high = fmax(scale->from, scale->to);
    struct ticks ticks = {.n = 0};
    const double slack = 1e-9;

    ticks.step = scale_nice_step((high - low) / wanted);
    ticks.decimals = decimals_of(ticks.step);
    double first = ceil(low / ticks.step - slack);
    while (ticks.n < SCALE_TICKS_MAX) {
        double value = (first + ticks.n) * ticks.step;
        if (value > high + slack * ticks.step)
            break;
        ticks.value[ticks.n++] = value + 0.0; /* -0 becomes 0 */
    }
    return ticks;
}

void scale_nice_range(double *low, double *high, int wanted)
{
    if (!scale_takes(*low) || !scale_takes(*high) || !(*high > *low))
        return;
    double step = scale_nice_step((*high - *low) / wanted);
    *low = step * floor(*low / step);
    *high = step * ceil(*high / step);
}
