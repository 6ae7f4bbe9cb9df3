/* delta_note.h - the note under the delta table: units, what the intervals hold for, how they were found. */
#ifndef LAPWING_REPORT_DELTA_NOTE_H
#define LAPWING_REPORT_DELTA_NOTE_H

#include "report/findings.h"
#include "report/html.h"

void delta_note(struct html *page, const struct findings *findings);

#endif
