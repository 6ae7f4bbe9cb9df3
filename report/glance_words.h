/* glance_words.h - the sentences of a glance that text and page share. */
#ifndef LAPWING_REPORT_GLANCE_WORDS_H
#define LAPWING_REPORT_GLANCE_WORDS_H

#include "report/buffer.h"
#include "schema/glance.h"

/* "usable", "usable, look at: ...", "repeat now: ...": with the first reasons of that kind. */
void glance_verdict_line(const struct glance *glance, struct buffer *out);

/* "R05: base, facility saltmarsh, entry 2026-02, started 2026-02-11T21:16:00+01:00" */
void glance_run_line(const struct glance *glance, struct buffer *out);

/* "24 points: 23 fine, 1 failed; main measure (CL, weighted): 8 of 8 targets covered" */
void glance_count_line(const struct glance *glance, struct buffer *out);

/* What is missing of the targets, each list one sentence: those of the main measure by name, the others by
 * name as far as there are few. Empty when none is missing. */
void glance_missing_line(const struct glance *glance, int is_needed, struct buffer *out);

/* "ok", "flagged", ... and how it came to its target: "at target", "carried", "off target", "no slope
 * yet", "no target". */
const char *glance_state_word(const struct glance_point *point);
const char *glance_reach_word(const struct glance_point *point);

/* Decimals that a value of this quantity is printed with. */
int glance_decimals(enum quantity quantity);

/* "hF", "mm" and the factor from SI, for a column about an attitude. */
struct glance_axis {
    const char *symbol, *unit;
    double factor;
};
struct glance_axis glance_axis_of(int axis);

#endif
