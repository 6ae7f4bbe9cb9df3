/* header_missing.h - why no column of a log has the name that is looked for. */
#ifndef LAPWING_HEADER_MISSING_H
#define LAPWING_HEADER_MISSING_H

#include "ingest/header.h"

/* BAD_INPUT: no column is named so. Offers the nearest of the columns that the map does not name itself,
 * with the difference in words, or none; lists the names of the header. */
enum status header_missing(const struct header *header, const char *name, struct fault *fault);

#endif
