/* sniff_cell.h - what a cell of an unknown log may be, and whether a text may be a unit. */
#ifndef LAPWING_SNIFF_CELL_H
#define LAPWING_SNIFF_CELL_H

#include "ingest/cell_list.h"
#include "schema/units.h"

enum sniff_kind { SNIFF_NUMBER, SNIFF_CLOCK, SNIFF_MISSING, SNIFF_OTHER };

/* decimal_mark 0: either. *value is the number, or the seconds after midnight; else NAN. */
enum sniff_kind sniff_cell_kind(const struct table_cell *cell, char decimal_mark, double *value);

/* 1 when the cell, of this kind and value, may tell whether a row is recorded: recording_flag.h. */
int sniff_may_be_flag(const struct table_cell *cell, enum sniff_kind kind, double value);

enum unit_fit {
    UNIT_ABSENT,
    UNIT_FITS,
    UNIT_OF_ANOTHER_KIND, /* a unit, but of another dimension */
    UNIT_UNKNOWN          /* not understood at all */
};

/* Does the unit fit a role's SI unit? si_unit NULL is a balance output: a pure number, volts or mV/V.
 * On UNIT_FITS with an si_unit *conversion is filled. */
enum unit_fit sniff_unit_fit(struct units *units, const char *unit, const char *si_unit,
                             struct unit_conversion *conversion);

/* 1 when a row of units may hold this text. */
int sniff_is_unit(struct units *units, const char *text);

/* Copies a cell into out, cut at a whole character. */
void sniff_cell_copy(const struct table_cell *cell, char *out, size_t size);

#endif
