/* dictionary.h - the tables by which the season database explains itself.
 *
 * data_dictionary has one row for every column of every table and view; flag_rule one for every
 * flag. Columns named after a quantity (schema/quantity.h), its uncertainty or its value at the
 * target are explained from that table; the rest by the rows of dictionary_rows.c.                 */
#ifndef LAPWING_DICTIONARY_H
#define LAPWING_DICTIONARY_H

#include <stddef.h>

#include "schema/fault.h"

struct store;

/* One explanation; object NULL: of every column of this name that has no explanation of its own. */
struct dictionary_row {
    const char *object;
    const char *name;
    const char *unit; /* "" for a text, "1" for a pure number */
    const char *sign; /* "" where there is nothing to say */
    const char *meaning;
    const char *source;
};

/* The rows written by hand, *n of them. */
const struct dictionary_row *dictionary_rows(size_t *n);

/* Brings both tables up to date inside the caller's transaction; rows that are right already are
 * not touched. A column without explanation gets no row, which the test suite refuses. */
enum status dictionary_write(struct store *store, struct fault *fault);

#endif
