/* sniff_patterns.h - what several columns together, or a column's course, tell; see sniff.h. */
#ifndef LAPWING_SNIFF_PATTERNS_H
#define LAPWING_SNIFF_PATTERNS_H

#include "ingest/sniff.h"

/* After the columns were read by name: families of eight or more like-named pressures become taps; time,
 * clock and point are looked for by the course of the values where no name told them; of two columns
 * with one role the better believed keeps it. */
void sniff_find_patterns(struct sniff *sniff);

/* Why a column has no role, as long as nothing better is known. */
extern const char sniff_unknown_name[];

/* The column with this role and statistic; SIZE_MAX when there is none. */
size_t sniff_find_role(const struct sniff *sniff, enum role role, enum map_statistic statistic);

#endif
