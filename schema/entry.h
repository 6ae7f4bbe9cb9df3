/* entry.h - the entries of a season: one booking of a facility each, the latest first.
 *
 * The one place that says which entry is the latest, so that the page and `lapwing compare` speak
 * about the same one: that with the latest start of a wind-on run; entries without one come last;
 * equal ones go by name of facility and entry.                                                     */
#ifndef LAPWING_ENTRY_H
#define LAPWING_ENTRY_H

#include <stddef.h>

#include "schema/fault.h"
#include "schema/store.h"

struct season_entry {
    char *facility, *entry; /* as in the run sheet */
};

struct season_entries {
    struct season_entry *items; /* the latest first */
    size_t n, capacity;
};

enum {
    ENTRIES_NAMED = 6 /* entries that a line names before it only counts them */
};

/* All entries that the run sheet names. NO_MEMORY, or what the store says. On OK the caller ends
 * *entries with entries_end(); on any other status nothing is held. */
enum status entries_read(struct store *store, struct season_entries *entries, struct fault *fault);
void entries_end(struct season_entries *entries); /* an empty one is fine */

#endif
