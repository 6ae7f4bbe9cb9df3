/* chart_control.h - a value of each entry in time, with the limits it stays within if nothing but chance
 * moves it. Without limits only the points are drawn.                                               */
#ifndef LAPWING_REPORT_CHART_CONTROL_H
#define LAPWING_REPORT_CHART_CONTROL_H

#include "report/control_limits.h"
#include "report/html.h"

struct control_point {
    double value;      /* page unit */
    const char *name;  /* below the axis */
    const char *title; /* all of it in words */
};

struct control_chart {
    const char *label;  /* for a screen reader */
    const char *y_name; /* "CL, + is more downforce" */
    const struct control_point *points;
    size_t n;
    struct control_limits limits;
};

void chart_control(struct html *page, const struct control_chart *chart);

#endif
