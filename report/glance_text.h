/* glance_text.h - a glance for the terminal: the verdict first, then why, then the points. */
#ifndef LAPWING_REPORT_GLANCE_TEXT_H
#define LAPWING_REPORT_GLANCE_TEXT_H

#include "report/buffer.h"
#include "schema/glance.h"

/* The verdict alone, one line. */
void glance_text_verdict(const struct glance *glance, struct buffer *out);

/* All: verdict, run, reasons by effect, notes, the table of the points, targets that are missing. */
void glance_text(const struct glance *glance, struct buffer *out);

#endif
