/* report_fixture_parts.h - what the files of the report's fixture share. */
#ifndef LAPWING_REPORT_FIXTURE_PARTS_H
#define LAPWING_REPORT_FIXTURE_PARTS_H

#include "schema/store.h"

enum { CONFIGURATIONS = 6 };

struct fixture {
    struct store *store;
    struct fault *fault;
    enum status status; /* once not OK, nothing more is put */
    const char *name[CONFIGURATIONS];
};

/* One insert: kinds has a letter a value, t text, r real, i int, n NULL. */
void fixture_put(struct fixture *fixture, const char *sql, const char *kinds, ...);

/* Values in the range -1 .. 1 that only depend on their number. */
double fixture_scatter(unsigned number);

/* The floor: columns x rows of taps, their pressures and triangles; one tap is dead, its name goes to
 * out. */
enum { FLOOR_COLUMNS = 15, FLOOR_ROWS = 8 };
void fixture_put_floor(struct fixture *fixture, int columns, int rows);
void fixture_dead_tap(int columns, char out[16]);

#endif
