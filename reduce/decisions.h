/* decisions.h - what people decided on points and runs, as the stages see it. */
#ifndef LAPWING_DECISIONS_H
#define LAPWING_DECISIONS_H

#include <stddef.h>

#include "reduce/key_text.h"
#include "reduce/point_state.h"
#include "schema/fault.h"
#include "schema/store.h"

/* One row of the table `decision` in schema/schema.sql. */
struct decision_row {
    char *run;
    char *point; /* "" for the whole run */
    enum decision decision;
    char *who, *decided, *why;
};

struct decision_list {
    struct decision_row *rows; /* in the order of decisions.csv */
    size_t n;
};

/* Reads all of them. On OK the caller ends *list with decisions_end(). */
enum status decisions_read(struct store *store, struct decision_list *list, struct fault *fault);
void decisions_end(struct decision_list *list);

/* The decision on exactly this point, "" for that on the whole run; NULL when there is none. */
const struct decision_row *decision_on(const struct decision_list *list, const char *run,
                                       const char *point);

/* The decision that holds for a point: its own, else its run's; NULL when there is none. */
const struct decision_row *decision_for(const struct decision_list *list, const char *run,
                                        const char *point);

/* The same, as a word. */
enum decision decision_of(const struct decision_list *list, const char *run, const char *point);

/* Adds the run's decisions to a key, nothing when there is none. */
void decisions_key(const struct decision_list *list, const char *run, struct key_text *key);

#endif
