/* channel_lag.c - see channel_lag.h. */
#include "reduce/statistics/channel_lag.h"

#include <math.h>

const double lag_limit = 0.25;

static const double above_zero = 5;     /* standard deviations */
static const double above_unlagged = 4; /* standard deviations */
static const double same_share = 0.2;
static const double same_least = 0.05; /* s */

enum { LATE_LOADS_MIN = 3, SAMPLES_MIN = 10 };

/* A correlation of 1 is beyond artanh; what rounding makes of it is not to decide anything. */
static double fisher(double correlation)
{
    return atanh(fmin(fabs(correlation), 0.999999));
}

int channel_is_late(const struct channel_lag *channel)
{
    if (!(fabs(channel->lag) >= lag_limit) || !(channel->samples >= SAMPLES_MIN) ||
        !isfinite(channel->correlation))
        return 0;
    double deviation = 1 / sqrt(channel->samples - 3);
    double here = fisher(channel->correlation);
    double unlagged =
        isfinite(channel->zero_lag_correlation) ? fisher(channel->zero_lag_correlation) : 0;
    return here > above_zero * deviation && here - unlagged > above_unlagged * deviation;
}

static int same_lag(double a, double b)
{
    return fabs(a - b) <= fmax(same_share * fabs(a), same_least);
}

int wind_is_late(const struct channel_lag *loads, size_t n, double *lag)
{
    for (size_t i = 0; i < n; i++) {
        size_t agreeing = 0;
        if (!channel_is_late(&loads[i]))
            continue;
        for (size_t k = 0; k < n; k++)
            agreeing += channel_is_late(&loads[k]) && same_lag(loads[i].lag, loads[k].lag);
        if (agreeing < LATE_LOADS_MIN || 2 * agreeing < n)
            continue;
        *lag = -loads[i].lag;
        return 1;
    }
    return 0;
}
