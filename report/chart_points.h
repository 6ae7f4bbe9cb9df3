/* chart_points.h - the points of one run in the order they were made.
 *
 * Above, the value of each point. Below, on a scale of its own, how far each sits from where it should:
 * from the mean of earlier runs at its target where there are any, else from itself; with its interval,
 * its first and second half beside it, and a bar over what the earlier runs gave. Twenty counts are
 * invisible on the scale above.                                                                    */
#ifndef LAPWING_REPORT_CHART_POINTS_H
#define LAPWING_REPORT_CHART_POINTS_H

#include <stddef.h>

#include "report/html.h"

enum points_look { POINT_FINE, POINT_FLAGGED, POINT_LOST };

struct points_mark {
    const char *label; /* below the axis */
    const char *title; /* all of it in words */
    enum points_look look;
    int has_earlier;            /* 0: drawn hollow, it is compared with itself */
    double value;               /* above; NAN: a cross on the axis */
    double delta, lower, upper; /* below, page unit */
    double half[2];             /* below; NAN: none */
    double low, high;           /* of earlier runs, below; NAN: none */
};

struct points_chart {
    const char *label;           /* for a screen reader */
    const char *y_name, *d_name; /* of the upper and of the lower axis */
    double strip;                /* half-width of what does not matter, lower axis */
    const struct points_mark *marks;
    size_t n;
};

void chart_points(struct html *page, const struct points_chart *chart);

#endif
