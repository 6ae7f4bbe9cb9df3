/* sweep_watch.h - points by attained attitude: which rows of a sweep belong together.
 *
 * The rule, in full. A window is as wide as the map says; window k is about k times that width:
 *
 *   k = floor(x / width + 1/2),   so that window k holds  (k - 1/2) width <= x < (k + 1/2) width
 *
 * A stay is an unbroken series of rows whose coordinate is in one and the same window. It is broken by
 * a row in another window, however short, and by a row whose coordinate is missing; a row without time
 * has the time of the row before. A row belongs to a point when its stay has lasted `settle` already:
 *
 *   time of the row - time of the first row of the stay >= settle
 *
 * so that the first rows of a stay belong to none (with settle 0 all of them belong). The point ends
 * with its stay; what comes after is another point, in the same window too. A coordinate with hold:
 * blank keeps its window over empty cells for as long as `settle`; then they break the stay.
 *
 * What follows from it. Step and hold without labels: each hold is a point, less its first `settle`;
 * the moves between pass their windows too fast to settle. A slow sweep: a point each window, less its
 * first `settle`, on the way up and on the way down. A fast one, where a window is passed in less than
 * `settle`: no point at all. At a window's edge noise makes the coordinate hop between two windows and
 * every hop begins a new stay: rows belong to a point only where a stay between two hops outlasts
 * `settle`. That is on purpose, since nobody could say which of both attitudes was held; heights to be
 * held belong near whole multiples of the width, and the width is to be several times the noise. A
 * pause of the logger within a stay does not break it; the time-gaps flag tells of pauses.           */
#ifndef LAPWING_SWEEP_WATCH_H
#define LAPWING_SWEEP_WATCH_H

#include <stddef.h>

struct sweep_watch {
    double width;   /* of a window, m or rad */
    double settle;  /* s */
    double window;  /* k; NAN before the first row and after a break */
    double since;   /* s, time of the stay's first row */
    double seen;    /* s, time of the last row with a coordinate */
    double now;     /* s, of the last row that has a time; NAN before it */
    size_t stay;    /* number of the stay, from 1 */
    double longest; /* s, of all stays that have ended or go on */
};

struct sweep_watch sweep_watch_for(double width, double settle);

/* Takes the next row: its coordinate, NAN when it is missing, and its time, NAN when it has none.
 * Returns 1 when the row belongs to the stay that goes on, whose number is then watch->stay. */
int sweep_watch_take(struct sweep_watch *watch, double coordinate, double time);

/* Takes a row whose coordinate is not written (hold: blank). Returns the same. */
int sweep_watch_blank(struct sweep_watch *watch, double time);

#endif
