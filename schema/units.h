/* units.h - unit text to SI, through UDUNITS-2 behind our own alias table.
 *
 * UDUNITS-2 reads "mph" as milli-phot and does not know "deg", "inH2O" or "mmH2O"; the alias table
 * (units.c, one row a spelling) puts the trade's spellings right. Every conversion names the SI
 * unit it must land in, so a unit of another dimension is refused, not converted. A units handle
 * belongs to one thread.                                                                           */
#ifndef LAPWING_UNITS_H
#define LAPWING_UNITS_H

#include "schema/fault.h"

struct units;

/* Loads the unit database. STORE_FAILED when UDUNITS-2 has none installed. */
enum status units_open(struct units **units, struct fault *fault);
void units_close(struct units *units); /* NULL is fine */

/* si = factor * value + offset */
struct unit_conversion {
    double factor;
    double offset;
};

/* Conversion from the unit written in text to si_unit ("m", "Pa", "K", "1" ...).
 * BAD_INPUT: empty or unknown unit, or one of another dimension; the text says which. */
enum status units_conversion(struct units *units, const char *text, const char *si_unit,
                             struct unit_conversion *conversion, struct fault *fault);

/* SI unit of the kind that text is of ("N" for "lbf", "1" for "V/V"), for a column that may hold anything;
 * *si_unit is a constant text. BAD_INPUT: empty or unknown unit, or of a kind that is not in the list. */
enum status units_kind(struct units *units, const char *text, const char **si_unit,
                       struct fault *fault);

/* Reads "2.85 m", "45 %", "-0.0012 1/m": a number by our own grammar, blanks, a unit, nothing else.
 * A bare number is refused unless si_unit is "1". */
enum status units_quantity(struct units *units, const char *text, const char *si_unit,
                           double *value, struct fault *fault);

#endif
