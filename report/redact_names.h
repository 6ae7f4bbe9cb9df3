/* redact_names.h - ids for names: C1 for the first configuration, R01 for the first run.
 *
 * With a secret C-7kq3m2 instead (report/redact_key.h).
 *
 * Held as a temporary table of the redacted store, kind, name, id. Names are numbered in the order of the
 * sheets; one that only stands in a result is numbered when it is met. "" stays "".                 */
#ifndef LAPWING_REPORT_REDACT_NAMES_H
#define LAPWING_REPORT_REDACT_NAMES_H

#include "report/buffer.h"
#include "report/redact_columns.h"
#include "schema/store.h"

struct redact_names {
    struct store *store;         /* redacted; not owned */
    struct store *season;        /* not owned */
    const unsigned char *secret; /* of redact_key.h; not owned; NULL: names are numbered */
    struct statement *find, *add, *any, *inside, *taken;
    int count[REDACT_KINDS];
};

/* Numbers every name that the season declares. Ended with redact_names_end(), whatever it gives. */
enum status redact_names_open(struct store *season, struct store *redacted,
                              const unsigned char *secret, struct redact_names *names,
                              struct fault *fault);
void redact_names_end(struct redact_names *names);

/* Adds the id of a name to *out; nothing for "". */
enum status redact_name(struct redact_names *names, enum redact_kind kind, const char *name,
                        struct buffer *out, struct fault *fault);

/* The same for a name of whatever kind, a tap or channel before others: *found is 0 and nothing is added when there is none. */
enum status redact_known(struct redact_names *names, const char *name, struct buffer *out,
                         int *found, struct fault *fault);

/* *found is 1 when a name of two characters or more, and not of digits alone, is in the text, in any
 * case of letters. */
enum status redact_find_inside(struct redact_names *names, const char *text, int *found,
                               struct fault *fault);

#endif
