/* what_if_deltas.h - deltas kept twice: as they stand, and without steps. */
#ifndef LAPWING_WHAT_IF_DELTAS_H
#define LAPWING_WHAT_IF_DELTAS_H

#include <stddef.h>

#include "reduce/compare_table.h"
#include "schema/entry.h"

enum what_if_side { WHAT_IF_STANDS, WHAT_IF_WITHOUT, WHAT_IF_SIDES };

/* NAN where there is no number, "" where there is no word. */
struct what_if_reading {
    double delta, half_width;
    char *verdict, *reason; /* NULL: no such delta on this side */
};

struct what_if_delta {
    char *configuration, *baseline, *facility, *entry, *quantity, *target;
    int is_main;
    struct what_if_reading side[WHAT_IF_SIDES];
};

struct what_if_deltas {
    struct what_if_delta *items; /* in the order of the first side */
    size_t n, capacity;
};

/* Adds one side of the deltas that the request asks for in one entry, as the store holds them now. On
 * any status the caller ends *deltas with what_if_deltas_end(). */
enum status what_if_deltas_read(struct store *store, const struct compare_request *request,
                                const struct season_entry *entry, enum what_if_side side,
                                struct what_if_deltas *deltas, struct fault *fault);
void what_if_deltas_end(struct what_if_deltas *deltas);

/* The verdict word of a side, "no verdict" where it has none. */
const char *what_if_verdict(const struct what_if_delta *delta, enum what_if_side side);

/* 1 when either side has a verdict; 1 when they are not the same word, none being a word of its own. */
int what_if_has_verdict(const struct what_if_delta *delta);
int what_if_flips(const struct what_if_delta *delta);

/* Deltas that flip. */
size_t what_if_count_flips(const struct what_if_deltas *deltas);

#endif
