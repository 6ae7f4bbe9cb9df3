/* control_limits.c - see control_limits.h. */
#include "report/control_limits.h"

#include <math.h>

static const double d2_of_two = 1.128;

struct control_limits control_limits(const double *values, size_t n)
{
    struct control_limits out = {(double)NAN, (double)NAN, (double)NAN, (double)NAN, 0, 0};
    double sum = 0;
    double ranges = 0;

    for (size_t i = 0; i < n; i++) {
        sum += values[i];
        ranges += i > 0 ? fabs(values[i] - values[i - 1]) : 0;
    }
    if (n > 0)
        out.centre = sum / (double)n;
    if (n < CONTROL_LEAST)
        return out;
    out.has_limits = 1;
    out.moving_range = ranges / (double)(n - 1);
    out.lower = out.centre - 3 * out.moving_range / d2_of_two;
    out.upper = out.centre + 3 * out.moving_range / d2_of_two;
    for (size_t i = 0; i < n; i++)
        out.outside += values[i] < out.lower || values[i] > out.upper;
    return out;
}
