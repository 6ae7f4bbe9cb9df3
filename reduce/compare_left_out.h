/* compare_left_out.h - what was left out of a comparison or taken in, and what that changes, as text. */
#ifndef LAPWING_COMPARE_LEFT_OUT_H
#define LAPWING_COMPARE_LEFT_OUT_H

#include "reduce/compare_table.h"
#include "schema/entry.h"

/* Appends the points of the entry that were left out or taken in, and each delta of the request that
 * differs on another basis; nothing when there are none. */
enum status compare_left_out(struct store *store, const struct compare_request *request,
                             const struct season_entry *entry, struct key_text *text,
                             struct fault *fault);

#endif
