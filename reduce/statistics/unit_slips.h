/* unit_slips.h - the mistakes of unit that are made in the trade, as one table.
 *
 * A value in one unit is read as if it were in another: where x belongs, factor * x + offset stands.
 * Sizes of units are exact by definition (BIPM, The International System of Units, 9th ed. 2019; NIST
 * Special Publication 811, 2008, appendix B), but for the conventional columns of water and mercury
 * (SP 811, B.8). */
#ifndef LAPWING_UNIT_SLIPS_H
#define LAPWING_UNIT_SLIPS_H

#include <stddef.h>

enum { UNIT_SLIPS_MAX = 128 };

struct unit_slip {
    double factor, offset;
    const char *written; /* what the values would be in: "mm"; NULL: a sign turned round */
    const char *read_as; /* what they were taken for: "inch" */
};

/* All slips of values kept in a unit ("m", "Pa", "N", "N m", "K", "rad", "m/s", "1", "mV/V"; of any
 * other unit a factor of 1000 and the sign), the likelier ones first; no two have the same factor and
 * offset. Gives how many, at most UNIT_SLIPS_MAX. Temperatures have no sign to turn. */
size_t unit_slips(const char *unit, struct unit_slip slips[UNIT_SLIPS_MAX]);

/* The same slip told with the unit the log really declares, where such a pair has the same factor:
 * "bar were read as kPa" rather than "hPa were read as Pa". declared as the log writes it. */
struct unit_slip unit_slip_as_declared(const char *unit, const struct unit_slip *slip,
                                       const char *declared);

#endif
