/* sweep_watch.c - see sweep_watch.h. */
#include "ingest/sweep_watch.h"

#include <math.h>

struct sweep_watch sweep_watch_for(double width, double settle)
{
    const double none = (double)NAN;
    return (struct sweep_watch){
        .width = width, .settle = settle, .window = none, .since = none, .seen = none, .now = none};
}

/* 1 when the stay has lasted long enough. Times of rows are decimal fractions: 0.7 - 0.2 is a little less
 * than 0.5, and a row of the log must not hang on that. */
static int is_settled(struct sweep_watch *watch)
{
    static const double rounding = 1e-9; /* s */
    double stayed = watch->now - watch->since;
    watch->longest = fmax(watch->longest, stayed);
    return watch->settle == 0 || stayed >= watch->settle - rounding;
}

static void tell_time(struct sweep_watch *watch, double time)
{
    if (!isnan(time))
        watch->now = time;
}

int sweep_watch_take(struct sweep_watch *watch, double coordinate, double time)
{
    double window = floor(coordinate / watch->width + 0.5); /* NAN stays NAN */
    tell_time(watch, time);
    watch->seen = watch->now;
    if (window != watch->window) { /* also after a break, where it is NAN */
        watch->window = window;
        watch->since = watch->now;
        watch->stay++;
    }
    if (isnan(watch->since)) /* the log began without a time */
        watch->since = watch->now;
    return !isnan(window) && is_settled(watch);
}

int sweep_watch_blank(struct sweep_watch *watch, double time)
{
    tell_time(watch, time);
    if (isnan(watch->window))
        return 0;
    if (!(watch->now - watch->seen <= watch->settle)) {
        watch->window = (double)NAN;
        return 0;
    }
    return is_settled(watch);
}
