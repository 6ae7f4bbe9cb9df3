/* plan_notes.h - what is worth knowing about a planned night before it is run, one sentence each. */
#ifndef LAPWING_PLAN_NOTES_H
#define LAPWING_PLAN_NOTES_H

#include "reduce/plan_sheet.h"

enum { PLAN_NOTES_MAX = 80, PLAN_NOTE_ROOM = 400 };

struct plan_notes {
    char text[PLAN_NOTES_MAX][PLAN_NOTE_ROOM];
    size_t n;
};

void plan_notes_make(const struct planned_night *night, const struct plan_sheet *sheet,
                     struct plan_notes *notes);

extern const char plan_safety[];

#endif
