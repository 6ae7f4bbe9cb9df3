/* tap_zero.c - wind-off readings of taps; see tap_zero.h. */
#include "reduce/tap_zero.h"

#include <math.h>

static double static_pressure(const struct zero_reading *reading)
{
    double p = run_data_mean(&reading->data, reading->point, ROLE_STATIC_PRESSURE);
    if (isfinite(p))
        return p;
    return run_data_mean(&reading->data, reading->point, ROLE_TOTAL_PRESSURE) -
           run_data_mean(&reading->data, reading->point, ROLE_TOTAL_MINUS_STATIC);
}

static double value_of(const struct zero_reading *reading, int channel)
{
    if (channel < 0 || reading->point == NULL)
        return (double)NAN;
    double value = reading->point->channels[channel].mean;
    if (reading->data.channels[channel].measured == TAPS_ABSOLUTE)
        value -= static_pressure(reading);
    return value;
}

struct tap_zero tap_zero_at(const struct run_work *work, int before, int after,
                            const struct point_row *point)
{
    const struct zeros *zeros = &work->zeros;
    if (zeros->choice.kind == ZERO_KIND_MISSING && work->run->zero[0] != '\0')
        return (struct tap_zero){TAP_ZERO_SILENT, (double)NAN};
    if (zeros->choice.kind < ZERO_KIND_CONSTANT || (before < 0 && after < 0))
        return (struct tap_zero){TAP_ZERO_NONE, 0};
    double first = value_of(&zeros->before, before);
    if (zeros->choice.kind == ZERO_KIND_CONSTANT)
        return (struct tap_zero){isnan(first) ? TAP_ZERO_SILENT : TAP_ZERO_TAKEN, first};
    double last = value_of(&zeros->after, after);
    if (isnan(first) && isnan(last))
        return (struct tap_zero){TAP_ZERO_SILENT, (double)NAN};
    if (isnan(first) || isnan(last))
        return (struct tap_zero){TAP_ZERO_HELD, isnan(first) ? last : first};
    double fraction = zeros_fraction(zeros, point->time);
    return (struct tap_zero){TAP_ZERO_TAKEN, first + fraction * (last - first)};
}
