/* sniff_units.h - the unit of a column of an unknown log where no unit is written: words at the end of its
 * name, and the unit of the value that a scatter belongs to; see sniff.h. */
#ifndef LAPWING_SNIFF_UNITS_H
#define LAPWING_SNIFF_UNITS_H

#include <stddef.h>

#include "ingest/sniff.h"

/* The unit that the last words of a name are ("V/V" of mean_volts_per_volt), as a constant text, and in
 * *bare the bytes before them, unless those are the word of a statistic only; NULL, and *bare as it was, when they are none. Words of one letter are
 * none: they are as often an axis, a place or an index. */
const char *sniff_unit_words(const char *name, size_t length, size_t *bare);

/* The unit as written, else as the name's words tell it; NULL when neither does. */
const char *sniff_column_unit(const struct sniff_column *column);

/* A scatter without a unit gets the one proposed for the value it belongs to. After the roles are known. */
void sniff_share_units(struct sniff *sniff);

/* The first mapped column whose unit is not written, or not understood, so that the map is refused; SIZE_MAX when there is none.
 * *n is how many there are. */
size_t sniff_lacks_unit(const struct sniff *sniff, size_t *n);

#endif
