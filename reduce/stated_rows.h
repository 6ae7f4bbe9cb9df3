/* stated_rows.h - writing the pairs of repeats, what they say together, and their flags. */
#ifndef LAPWING_STATED_ROWS_H
#define LAPWING_STATED_ROWS_H

#include <stdint.h>

#include "reduce/flagging.h"
#include "reduce/stated_pairs.h"

struct stated_rows {
    struct statement *pair, *agreement;
    struct flagger flagger;
    int64_t reduction;
};

/* On OK the caller ends *rows with stated_rows_end(); an empty one is fine. */
enum status stated_rows_open(struct store *store, int64_t reduction, struct stated_rows *rows,
                             struct fault *fault);
void stated_rows_end(struct stated_rows *rows);

/* Writes one quantity's pairs, their agreement by pair of runs and over all, and what is flagged of it. */
enum status stated_rows_write(struct stated_rows *rows, const struct stated_points *points,
                              const struct stated_quantity *quantity,
                              const struct stated_pairs *pairs, struct fault *fault);

#endif
