/* point_watch.h - what is asked of the samples of every point and answered when the log ends. */
#ifndef LAPWING_POINT_WATCH_H
#define LAPWING_POINT_WATCH_H

#include "ingest/lag_watch.h"
#include "ingest/spike_watch.h"
#include "ingest/trace_watch.h"

struct point_watch {
    struct spike_watch spikes;
    struct lag_watch lags;
    struct trace_watch traces;
    size_t point; /* number in the record of the one at hand */
    double step;  /* s between its rows; NAN: not known */
};

#endif
