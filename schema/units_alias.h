/* units_alias.h - the trade's spellings of units that UDUNITS-2 does not know, or reads as another.
 *
 * Adding a spelling is one row of the table in units_alias.c and one line of its test.             */
#ifndef LAPWING_UNITS_ALIAS_H
#define LAPWING_UNITS_ALIAS_H

#include <stddef.h>

struct unit_alias {
    const char *spelling; /* UTF-8 unless said otherwise, exactly as written */
    const char *meaning;  /* in UDUNITS-2's own words */
};

/* All rows, *n of them; meanings use no spelling of a later row. */
const struct unit_alias *unit_aliases(size_t *n);

/* What a spelling means, and what is written when si_unit is wanted: "F is farad; degF is Fahrenheit"
 * for "F" and "K". "" when there is nothing to say. */
const char *unit_hint(const char *spelling, const char *si_unit);

#endif
