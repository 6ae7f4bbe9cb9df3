/* tap_sheet.h - taps.csv: where every pressure tap is, which way its skin faces, and which column of
 * the log it is. The row after the header holds the units.                                         */
#ifndef LAPWING_TAP_SHEET_H
#define LAPWING_TAP_SHEET_H

#include <stddef.h>

#include "ingest/problems.h"
#include "ingest/sheet.h"
#include "schema/units.h"

struct tap {
    const char *name, *column, *surface; /* belong to the sheet */
    double position[3];                  /* m, car axes */
    double normal[3];                    /* outward, unit length */
    double area;                         /* m2; NAN when not given */
    double tube_length;                  /* m; NAN when not given */
    size_t line;
};

struct tap_sheet {
    struct sheet *sheet;
    struct tap *taps;
    size_t n;
};

/* Reads path. What is wrong becomes problems; gives OK unless memory or the like fails. On OK the
 * caller owns *sheet and ends it with tap_sheet_free(). */
enum status tap_sheet_read(const char *path, struct units *units, struct problems *problems,
                           struct tap_sheet **sheet, struct fault *fault);
void tap_sheet_free(struct tap_sheet *sheet); /* NULL is fine */

#endif
