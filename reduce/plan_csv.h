/* plan_csv.h - a planned night as runs.csv, which the program reads as it stands. */
#ifndef LAPWING_PLAN_CSV_H
#define LAPWING_PLAN_CSV_H

#include "reduce/key_text.h"
#include "reduce/plan_sheet.h"

void plan_csv_print(const struct planned_night *night, const struct plan_sheet *sheet,
                    struct key_text *text);

#endif
