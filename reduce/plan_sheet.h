/* plan_sheet.h - a planned night on the clock: the rows of its run sheet. */
#ifndef LAPWING_PLAN_SHEET_H
#define LAPWING_PLAN_SHEET_H

#include "reduce/plan_night.h"

enum plan_row_kind { ROW_ZERO, ROW_WEIGHT_TARE, ROW_BELT_TARE, ROW_WIND_ON };

struct plan_row {
    enum plan_row_kind kind;
    char name[32];
    double start, duration; /* s since 1970-01-01T00:00:00Z; s */
    double change;          /* s that mounting takes before it, in this row or in the zero before */
    size_t run;             /* of the order, for what is run with the wind on */
    char zero[72], tare[32]; /* cells of runs.csv */
    char mounting[32];
    char note[200];
};

struct plan_sheet {
    struct plan_row *rows; /* owned */
    size_t n, capacity;
};

/* "zero", "weight_tare", "belt_tare", "wind_on" */
const char *plan_row_word(enum plan_row_kind kind);

/* Zeros before and after every run at the reference attitude; weight sweeps with zeros of their own at the
 * start, at the end and where another weight stands on the balance. NO_MEMORY. The caller ends *sheet with
 * plan_sheet_end(), also after a failure. */
enum status plan_sheet_make(const struct planned_night *night, struct plan_sheet *sheet,
                            struct fault *fault);
void plan_sheet_end(struct plan_sheet *sheet);

/* What is to be done to the car before a run of the order: "sealed floor edge", "back to base". */
void plan_sheet_what(const struct planned_night *night, size_t run, char *text, size_t size);

/* "2026-03-11T19:00:00+01:00", and its "19:00". */
void plan_time(double seconds, double zone, char *text, size_t size);
void plan_time_of_day(double seconds, double zone, char *text, size_t size);

#endif
