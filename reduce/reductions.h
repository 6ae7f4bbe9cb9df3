/* reductions.h - which reductions are current, and taking back those whose subject is gone. */
#ifndef LAPWING_REDUCTIONS_H
#define LAPWING_REDUCTIONS_H

#include <stddef.h>
#include <stdint.h>

#include "reduce/key_text.h"
#include "schema/digest.h"
#include "schema/store.h"

/* The current reduction of a subject; *found is 0 when there is none. */
enum status reduction_current(struct store *store, const char *stage, const char *subject,
                              int64_t *reduction, char key[DIGEST_TEXT], int *found,
                              struct fault *fault);

/* Adds "stage subject = key" of the current reduction to a key, "none" when there is none. */
enum status reduction_key_add(struct store *store, const char *stage, const char *subject,
                              struct key_text *key, struct fault *fault);

/* Makes the stage's current reductions of any subject that is not among the n no longer current.
 * Their rows stay until pruned. */
enum status reductions_keep(struct store *store, const char *stage, const char *const *subjects,
                            size_t n, struct fault *fault);

#endif
