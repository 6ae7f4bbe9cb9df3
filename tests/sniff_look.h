/* sniff_look.h - a look at a text, and what came of it, for the tests of ingest/sniff*.c. */
#ifndef LAPWING_SNIFF_LOOK_H
#define LAPWING_SNIFF_LOOK_H

#include <stddef.h>

#include "ingest/sniff.h"
#include "schema/campaign.h"

/* The guesses about bytes, a text, a file; the caller frees. NULL, after a failed check, when refused. */
struct sniff *look_at(const void *bytes, size_t size);
struct sniff *look(const char *text);
struct sniff *look_in_file(const char *folder, const char *name);

/* "role", "role sd", "role in UNIT" with a proposed unit, "none" or "no column", of the column; valid
 * until the next call. */
const char *role_of(const struct sniff *sniff, const char *name);

/* The proposed map of a file of this name; the caller frees. */
char *map_of(const struct sniff *sniff, const char *name);

/* Reads the scaffold's campaign with the proposed map pasted below channel_maps:; the caller frees. NULL,
 * after a failed check, when it is refused. */
struct campaign *paste(const struct sniff *sniff, const char *name);

#endif
