/* plan_notes.h - what is worth knowing about a planned night before it is run, one sentence each. */
#ifndef LAPWING_PLAN_NOTES_H
#define LAPWING_PLAN_NOTES_H

#include "reduce/plan_sheet.h"

enum { PLAN_NOTES_MAX = 80, PLAN_NOTE_ROOM = 400 };

struct plan_notes {
    char text[PLAN_NOTES_MAX][PLAN_NOTE_ROOM];
    size_t n;
};

/* Intervals that are looked at without the cover of the simultaneous one, at the attitude of the main
 * measure. */
size_t plan_notes_exploratory(const struct planned_night *night);

void plan_notes_make(const struct planned_night *night, const struct plan_sheet *sheet,
                     struct plan_notes *notes);

extern const char plan_safety[];

#endif
