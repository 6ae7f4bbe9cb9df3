/* contents.h - which parts of the car are inside a run's drag and downforce.
 *
 * The balance, or the facility that made the coefficients, holds what the campaign says of it; cells on
 * the wheels and the belt add their part. What the total contains is computed from both and never
 * typed: "body" in the balance and "wheel drag" added make "body, wheels" in the drag. Parts are a
 * list with commas; order does not matter. Two numbers that contain other parts are never compared. */
#ifndef LAPWING_CONTENTS_H
#define LAPWING_CONTENTS_H

#include <stddef.h>

#include "schema/campaign.h"

/* The groups of cells; a set of them is the sum. */
enum cell_group {
    CELLS_WHEEL_DRAG = 1,
    CELLS_WHEEL_LOADS = 2,
    CELLS_BELT_DRAG = 4,
    CELLS_BELT_LOAD = 8
};

enum { CELL_GROUPS = 4, CONTENTS_MAX = 160, CONTENTS_ROOM = CONTENTS_MAX + 40 };

struct cell_group_row {
    enum cell_group group;
    const char *name; /* as written under add_cells: "wheel drag" */
    const char *part; /* what it adds: "wheels" */
    int is_load;      /* 1: to the downforce; 0: to the drag */
    enum role first;  /* its roles stand together */
    int roles;
};
const struct cell_group_row *cell_group_row(size_t i);      /* i < CELL_GROUPS */
const struct cell_group_row *cell_group_of(enum role role); /* NULL: not a cell's role */

struct load_contents {
    char drag[CONTENTS_ROOM], downforce[CONTENTS_ROOM]; /* "body, wheels" */
};

/* What the loads of a run contain, by facility and balance (NULL: none); with the facility's cells
 * unless the loads are coefficients that the facility made, to which nothing is added. */
void contents_make(const struct facility *facility, const struct balance *balance, int with_cells,
                   struct load_contents *contents);

/* Takes a part out of both lists. */
void contents_take_out(struct load_contents *contents, const char *part);

/* 1 when a list holds this part; when both drag and downforce hold the same parts. */
int contents_has(const char *list, const char *part);
int contents_same(const struct load_contents *a, const struct load_contents *b);

/* "body, wheels" when drag and downforce hold the same, else "drag: body, wheels; downforce: body". */
void contents_say(const struct load_contents *contents, char *out, size_t size);

#endif
