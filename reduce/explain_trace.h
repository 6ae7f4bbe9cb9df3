/* explain_trace.h - the kept samples of a channel at a point, as text for people. */
#ifndef LAPWING_EXPLAIN_TRACE_H
#define LAPWING_EXPLAIN_TRACE_H

#include "reduce/key_text.h"
#include "schema/store.h"

/* Writes what is kept of the channel (column, tap or role) at a point (label or target): why, what it says,
 * where the marked samples are, the samples thinned to 40 lines, and the highest of the spectrum. NOT_FOUND: no
 * such run, point or channel, or nothing is kept of it; names those of which something is. The caller ends *text
 * with key_text_end(), also after a failure. */
enum status explain_trace(struct store *store, const char *run, const char *point,
                          const char *channel, struct key_text *text, struct fault *fault);

#endif
