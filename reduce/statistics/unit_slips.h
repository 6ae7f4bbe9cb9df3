/* unit_slips.h - the mistakes of unit that are made in the trade, as one table.
 *
 * A value that should read x in the unit it is kept in reads factor * x + offset instead. The factors
 * are exact by definition of the units (BIPM, The International System of Units, 9th ed. 2019; NIST
 * Special Publication 811, 2008, appendix B).                                                      */
#ifndef LAPWING_UNIT_SLIPS_H
#define LAPWING_UNIT_SLIPS_H

#include <stddef.h>

struct unit_slip {
    const char *unit; /* what such values are kept in; NULL: any */
    double factor, offset;
    const char *explanation; /* "mm were read as inch": what would explain the factor */
};

/* Slips of a unit ("m", "Pa", "N", "N m", "K", "rad", "m/s", "1" ... ) one after the other: the first
 * with NULL, then each after the one before; NULL at the end. */
const struct unit_slip *unit_slip_next(const char *unit, const struct unit_slip *before);

#endif
