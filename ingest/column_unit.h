/* column_unit.h - the unit of a log's column, from everywhere it may be written. */
#ifndef LAPWING_COLUMN_UNIT_H
#define LAPWING_COLUMN_UNIT_H

#include "ingest/header.h"
#include "schema/units.h"

struct column_unit {
    const char *written; /* one of the texts it was found in */
    struct unit_conversion conversion;
};

/* The conversion to si_unit, from the channel map's text (map_unit, may be NULL), the unit row and
 * the unit inside the name. BAD_INPUT: none of them is there ("unit undeclared"), one is of another
 * kind, or two of them disagree. A remark in round brackets counts as a unit only when it is one. */
enum status column_unit_find(const struct header *header, size_t cell, const char *map_unit,
                             const char *si_unit, struct units *units, struct column_unit *unit,
                             struct fault *fault);

/* The same for an output of the balance: every text given must be output_unit itself. */
enum status column_unit_of_output(const struct header *header, size_t cell, const char *map_unit,
                                  const char *output_unit, struct column_unit *unit,
                                  struct fault *fault);

/* Of a column that may hold anything: *kept is the SI unit of the kind that its first unit text is of. */
enum status column_unit_of_any(const struct header *header, size_t cell, const char *map_unit,
                               struct units *units, struct column_unit *unit, const char **kept,
                               struct fault *fault);

#endif
