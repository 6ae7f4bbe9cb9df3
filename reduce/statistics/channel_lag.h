/* channel_lag.h - does a channel follow the wind late?
 *
 * Ingest correlates every channel with the run's wind pressure over a span of lags and keeps the best
 * (table `channel`): lag in s, positive when the channel is later than the wind; the correlation
 * there and at lag 0; and how many independent samples stand behind them.                          */
#ifndef LAPWING_CHANNEL_LAG_H
#define LAPWING_CHANNEL_LAG_H

#include <stddef.h>

struct channel_lag {
    double lag;                  /* s; NAN where not judged */
    double correlation;          /* at that lag */
    double zero_lag_correlation; /* without it */
    double samples;              /* independent samples behind both */
};

extern const double lag_limit; /* 0.25 s */

/* 1 when |lag| >= 0.25 s, the correlation there is above zero by 5 standard deviations and above the
 * one without a lag by 4, on Fisher's scale z = artanh r, sd 1 / sqrt(samples - 3) (Fisher, On the
 * probable error of a coefficient of correlation deduced from a small sample, Metron 1, 1921).
 * Correlations are compared by size: a load falls or rises with q by its sign. */
int channel_is_late(const struct channel_lag *channel);

/* 1 when the wind channel itself is the late one: at least half of the n load channels, and three at
 * least, are "late" by the same lag within 20 % (or 0.05 s) and of one sign: *lag receives it, turned
 * round, s. Channels that are not load channels do not vote. */
int wind_is_late(const struct channel_lag *loads, size_t n, double *lag);

#endif
