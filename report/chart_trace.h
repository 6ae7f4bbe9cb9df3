/* chart_trace.h - the samples of one channel within one point: mean and range of each bin over time, the mean
 * of the point, and rings or boxes where the samples are that the trace is kept for. */
#ifndef LAPWING_REPORT_CHART_TRACE_H
#define LAPWING_REPORT_CHART_TRACE_H

#include "report/html.h"
#include "schema/kept_trace.h"

/* label is what a screen reader hears. Without time the axis counts rows. */
void chart_trace(struct html *page, const struct kept_trace *trace, const char *label);

#endif
