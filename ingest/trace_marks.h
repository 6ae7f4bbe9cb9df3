/* trace_marks.h - the places of the samples that a trace is kept for. */
#ifndef LAPWING_TRACE_MARKS_H
#define LAPWING_TRACE_MARKS_H

#include "ingest/log_trace.h"
#include "ingest/trace_watch.h"

/* Marks, by the trace's reason:
 *   spikes   every sample that may be one by the rule of the whole log (spike_watch.h)
 *   stuck    the longest run of equal samples, missing ones not in it; mean_without is that of the others
 *   clipped  the samples at an end of the record that is piled up
 * and none for others. Returns 1, or 0 without memory. */
int trace_marks_find(struct log_trace *trace, const struct trace_samples *taken);

/* Leaves of the marks those that the log as a whole calls spikes: the s->spiked that stand out farthest. */
void trace_marks_keep_spikes(struct log_trace *trace, const struct channel_statistics *s);

#endif
