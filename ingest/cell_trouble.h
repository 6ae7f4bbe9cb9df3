/* cell_trouble.h - what a cell that is no number looks like, told by name.
 *
 * None of these is repaired: whether 1,234 is more than a thousand or a little more than one is not
 * ours to choose.                                                                                  */
#ifndef LAPWING_CELL_TROUBLE_H
#define LAPWING_CELL_TROUBLE_H

#include "ingest/cell_list.h"

struct cell_trouble {
    const char *what; /* "has a decimal comma; limit: ...; do ..."; NULL: nothing in particular */
    int may_be_missing; /* 1: it may be a logger's word for "no value", to be declared under missing */
};

/* For a cell that cell_value() found wrong, read with this decimal mark. */
struct cell_trouble cell_trouble_of(const struct table_cell *cell, char decimal_mark);

#endif
