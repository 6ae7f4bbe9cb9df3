/* compare_table.h - the deltas of an entry, or of the season, as text or CSV, in memory. */
#ifndef LAPWING_COMPARE_TABLE_H
#define LAPWING_COMPARE_TABLE_H

#include "reduce/key_text.h"
#include "schema/store.h"

enum compare_format { COMPARE_TEXT, COMPARE_CSV };

struct compare_request {
    const char *first, *second; /* configurations; NULL: all */
    const char *metric;         /* name of a metric or symbol of a quantity; NULL: all */
    enum compare_format format;
    const char *entry;    /* NULL: the latest; "all"; or a name, "e1" or "tunnel/e1" */
    const char *attitude; /* a target's name or "weighted"; NULL: all */
};

/* Writes the table into *text. NOT_FOUND: a configuration, metric, entry or attitude that does not exist, or nothing
 * was compared yet. The caller ends *text with key_text_end(), also after a failure. */
enum status compare_table(struct store *store, const struct compare_request *request,
                          struct key_text *text, struct fault *fault);

#endif
