/* plan_text.h - a planned night for people: order, what it will find, what takes the hours, notes. */
#ifndef LAPWING_PLAN_TEXT_H
#define LAPWING_PLAN_TEXT_H

#include "reduce/key_text.h"
#include "reduce/plan_sheet.h"

enum status plan_text_print(const struct planned_night *night, const struct plan_sheet *sheet,
                            struct key_text *text, struct fault *fault);

#endif
