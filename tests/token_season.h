/* token_season.h - a season in which everything that came from outside is a token, for tests of what leaves.
 *
 * Names become MARK and the hexadecimal of what they were, everywhere alike, so that the season still hangs
 * together; what people wrote, units and file names become MARK and a word. One search for MARK then finds
 * whatever slipped out. Which columns come from outside is written down here, apart from the program's own
 * list.                                                                                             */
#ifndef LAPWING_TEST_TOKEN_SEASON_H
#define LAPWING_TEST_TOKEN_SEASON_H

#include <stddef.h>

#include "schema/store.h"

/* mark: two or three capital letters. */
enum status token_season_make(struct store *store, const char *mark, struct fault *fault);

/* Text columns that are in no list here, "table.column table.column", at most size bytes; "" for none. */
enum status token_season_unknown(struct store *store, char *out, size_t size, struct fault *fault);

#endif
