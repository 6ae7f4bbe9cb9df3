/* chart_line.h - lines over a common axis, with intervals, markers and labels at their ends.
 *
 * Series keep their look in every picture: struct series_look comes from the night, not from the
 * chart. A missing value is a gap. Labels at the right end are pushed apart until none overlap.   */
#ifndef LAPWING_REPORT_CHART_LINE_H
#define LAPWING_REPORT_CHART_LINE_H

#include <stddef.h>

#include "report/svg.h"

/* Class "s0" is the baseline, grey and dashed; "s1" .. "s4" colours; "sx" the rest. */
struct series_look {
    const char *class;
    enum marker marker;
};

struct line_point {
    double x, y;
    double lower, upper; /* NAN: no interval is drawn */
};

struct line_series {
    const char *name;
    struct series_look look;
    const struct line_point *points; /* in increasing x */
    size_t n;
};

enum { LINE_SERIES_MAX = 6 };

struct line_chart {
    const char *label;  /* what a screen reader hears */
    const char *x_name; /* "front ride height, mm" */
    const char *y_name; /* "ΔCL, counts" */
    double width, height;
    const struct line_series *series;
    size_t n;           /* at most LINE_SERIES_MAX are drawn */
    int zero_line;      /* 1: y includes zero and a line marks it */
    double strip;       /* half-width of what does not matter, drawn grey about zero; 0 none */
    int value_decimals; /* of y in the marks' titles */
    int as_delta;       /* 1: titles and y ticks carry signs */
    int x_decimals;     /* of x in the marks' titles */
    int is_reversed;    /* 1: y grows downwards, as a pressure coefficient is drawn: suction up */
};

void chart_line(struct html *page, const struct line_chart *chart);

/* Moves n places so that neighbours in place are at least apart from each other, within low ..
 * high where they fit, keeping their order; ties keep the order given. */
void chart_push_apart(double *place, size_t n, double apart, double low, double high);

#endif
