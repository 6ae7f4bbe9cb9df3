/* drawn_night.h - the fixture's night beside its page, and rows of its database by SQL of the test's own. */
#ifndef LAPWING_TEST_DRAWN_NIGHT_H
#define LAPWING_TEST_DRAWN_NIGHT_H

#include "report/html.h"
#include "schema/store.h"

enum { DRAWN_TEXTS = 4, DRAWN_NUMBERS = 6 };

struct drawn_night {
    struct store *store;
    struct html page;
    const char *text; /* of the page */
};

/* With `more` configurations (report_fixture_add_configurations) and changes by SQL, NULL for none. The
 * caller ends it, whatever is returned; 0 when there is no page, which has failed a check. */
int drawn_night_make(struct drawn_night *night, int more, const char *sql);
void drawn_night_end(struct drawn_night *night);

/* Four texts ("" for NULL), then six numbers (NAN for NULL). */
struct drawn_row {
    char text[DRAWN_TEXTS][64];
    double number[DRAWN_NUMBERS];
};

/* Gives how many rows there are, of which most are kept; asserts that all are. */
size_t drawn_rows(struct store *store, const char *sql, struct drawn_row *rows, size_t most);

/* The row whose first texts are these, NULL for any; NULL when there is none. */
const struct drawn_row *drawn_row_of(const struct drawn_row *rows, size_t n, const char *first,
                                     const char *second);

double drawn_number(struct store *store, const char *sql);

#endif
