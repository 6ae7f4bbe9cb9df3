/* flagging.h - writing the flags a reduction found, and what they do to a point's state. */
#ifndef LAPWING_FLAGGING_H
#define LAPWING_FLAGGING_H

#include <stddef.h>
#include <stdint.h>

#include "schema/fault.h"
#include "schema/flag.h"
#include "schema/store.h"

struct flag_note {
    enum flag_rule rule;
    enum flag_state state;             /* usually the rule's own; see flag_note_make() */
    const char *run, *point, *subject; /* "" for none */
    double value, limit;               /* NAN for none */
    const char *unit;                  /* of value and limit; "" for none */
    double effect;                     /* on the main metric, in counts; NAN when not known */
    char detail[640];                  /* one sentence with the numbers in it, a fault's at most */
};

/* A note with the rule's own state, no value, and an empty detail. */
struct flag_note flag_note_make(enum flag_rule rule, const char *run, const char *point,
                                const char *subject);

/* Writes flags of one reduction. On OK the caller ends *flagger with flagger_end(). */
struct flagger {
    struct statement *insert;
    int64_t reduction;
};
enum status flagger_open(struct store *store, int64_t reduction, struct flagger *flagger,
                         struct fault *fault);
enum status flagger_write(struct flagger *flagger, const struct flag_note *note,
                          struct fault *fault);
void flagger_end(struct flagger *flagger); /* an empty one is fine */

/* The worse of both; what it means for a point: reduce/point_state.h. */
enum flag_state flag_state_worse(enum flag_state a, enum flag_state b);

#endif
