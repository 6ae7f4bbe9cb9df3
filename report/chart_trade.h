/* chart_trade.h - what each gain costs: one change against another, with the interval of each.
 *
 * A mark a configuration, a cross over both intervals, its name beside it where no other name or mark is.
 * The line is what the team takes: one of the quantity across for so much of that upwards; the side of it
 * that is worth it is shaded.                                                                        */
#ifndef LAPWING_REPORT_CHART_TRADE_H
#define LAPWING_REPORT_CHART_TRADE_H

#include <stddef.h>

#include "report/chart_line.h"

struct trade_mark {
    const char *name;
    const char *title; /* all of it in words */
    struct series_look look;
    double x, x_lower, x_upper; /* page unit; NAN bounds: no arm is drawn */
    double y, y_lower, y_upper;
    int is_hollow; /* 1: zero is inside the interval of the judged one */
};

struct trade_chart {
    const char *label;           /* for a screen reader */
    const char *x_name, *y_name; /* with unit and direction */
    double slope;                /* of the line through zero, y a unit of x; NAN: none */
    int is_above;                /* 1: what lies above the line is worth it, 0: what lies below */
    const char *line_name;
    const struct trade_mark *marks;
    size_t n;
};

void chart_trade(struct html *page, const struct trade_chart *chart);

/* A name and where it goes; x and y its left end and the middle of its height. */
struct trade_label {
    double x, y, width;
};

/* What a name should not cover. */
struct trade_box {
    double left, right, top, bottom;
};

enum { TRADE_LABEL_HEIGHT = 14 };

/* Places n names of the given widths beside their marks (x[i], y[i]; NAN: no name is placed), each where it
 * covers no box and no name placed before it and stays within frame; where there is no such place, the one
 * that covers least. */
void chart_trade_labels(const double *x, const double *y, size_t n, const struct trade_box *boxes,
                        size_t n_boxes, const struct trade_box *frame, struct trade_label *labels);

#endif
