/* compare_derived.h - ratios, deltas at equal balance and packages of a comparison, as text. */
#ifndef LAPWING_COMPARE_DERIVED_H
#define LAPWING_COMPARE_DERIVED_H

#include "reduce/key_text.h"
#include "schema/entry.h"
#include "schema/store.h"

/* Of what is asked for in an entry (schema/asked.h); nothing where there is none. */
enum status compare_say_derived(struct store *store, const struct season_entry *entry,
                                struct key_text *text, struct fault *fault);

#endif
