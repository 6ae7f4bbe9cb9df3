/* redact.h - a season without its names, for people who may see numbers only.
 *
 * Pages and tables are not searched for names: they are made from a second season, private to the
 * process and gone with it, into which every row is copied with its names exchanged for ids. So a page
 * that is yet to be written can't forget to. Names become C1, R01, F1 ... in the order of the sheets, or C-7kq3m2 by a key; what
 * people wrote, file names, hashes, the car's dimensions and settings but the limits are left out; times are moved by whole days so
 * that the season begins on 2000-01-01. A text column that redact_columns.c does not know is emptied, a
 * table that it does not know is left out.                                                          */
#ifndef LAPWING_REPORT_REDACT_H
#define LAPWING_REPORT_REDACT_H

#include "report/report_options.h"
#include "schema/store.h"

struct redact_how {
    enum redaction redaction;
    const unsigned char
        *secret;    /* REDACT_SECRET bytes (report/redact_key.h): ids are made of names by it;
                                  * NULL: ids are numbers in the order of the sheets */
    int with_asked; /* 1: what a comparison was asked for too (schema/asked.h) */
};

/* Copies season. On OK the caller owns *redacted and ends it with store_close(). REDACT_LEVELS leaves
 * out absolute coefficients and loads; an observation is then given less its baseline's mean. Of results
 * only current ones are copied. */
enum status redact_open(struct store *season, const struct redact_how *how, struct store **redacted,
                        struct fault *fault);

/* *is_on is 1 when the store is such a copy. */
enum status redact_is_on(struct store *store, int *is_on, struct fault *fault);

/* *are_out is 1 when it is one that REDACT_LEVELS made. */
enum status redact_levels_are_out(struct store *store, int *are_out, struct fault *fault);

#endif
