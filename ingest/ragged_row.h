/* ragged_row.h - why a row of a log may have another number of cells than the header.
 *
 * The row is refused either way; a likely cause, told in words, saves the search for it.           */
#ifndef LAPWING_RAGGED_ROW_H
#define LAPWING_RAGGED_ROW_H

#include <stddef.h>

#include "ingest/cell_list.h"

struct ragged_cause {
    const char
        *what;   /* what it looks like, what is allowed, what to do; NULL: nothing in particular */
    size_t cell; /* that shows it, from 0 */
};

/* 1 when every cell from number `from` on is empty. */
int cells_are_empty(const struct cell_list *list, size_t from);

/* The cause that a row of a log with list->n cells instead of `expected` looks most like: empty cells
 * at its end, a comma inside numbers, an unquoted text, another delimiter, a remark. */
struct ragged_cause ragged_row_cause(const struct cell_list *list, size_t expected, char delimiter);

#endif
