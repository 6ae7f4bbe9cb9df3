/* flag_trace.h - the samples that a flag speaks of, folded below it. */
#ifndef LAPWING_REPORT_FLAG_TRACE_H
#define LAPWING_REPORT_FLAG_TRACE_H

#include "report/html.h"
#include "schema/store.h"

/* Writes the worst trace that belongs to the page's flags of a rule and state: its sentence, the samples over
 * time, their spectrum, and the numbers behind both; and how to see the others. Nothing where none is kept. The
 * store's scope (report/scope.h) is set. */
enum status flag_trace_write(struct html *page, struct store *store, const char *rule,
                             const char *state, struct fault *fault);

#endif
