/* chart_strip.h - the night in time: the main measure of each mounting, and every run below it.
 *
 * Above: one mark a mounting, the baseline's joined by a dashed line, because that line is what the
 * others are compared with. Below: one bar a run; tall for the baseline, a cross when quarantined,
 * a ring when flagged.                                                                             */
#ifndef LAPWING_REPORT_CHART_STRIP_H
#define LAPWING_REPORT_CHART_STRIP_H

#include <stddef.h>

#include "report/chart_line.h"

struct strip_mark {
    double time;  /* mean of the points of its runs, s since 1970 */
    double value; /* of the main measure, page unit */
    struct series_look look;
    int is_baseline;
    const char *title;
};

struct strip_run {
    double time; /* mean of its points, as of a mark; s since 1970 */
    struct series_look look;
    int is_baseline, is_quarantined, is_flagged;
    const char *title;
};

struct strip_chart {
    const char *label;
    const char *y_name;
    double zone_offset;             /* s, of the clock on the axis */
    const struct strip_mark *marks; /* in time */
    size_t n_marks;
    const struct strip_run *runs; /* in time */
    size_t n_runs;
};

void chart_strip(struct html *page, const struct strip_chart *chart);

#endif
