/* compare_table.h - the deltas of an entry, or of the season, as text, CSV or JSON, in memory.
 *
 * What is asked is picked once into the temporary tables of schema/asked.h, which a page reads too. */
#ifndef LAPWING_COMPARE_TABLE_H
#define LAPWING_COMPARE_TABLE_H

#include "reduce/key_text.h"
#include "schema/campaign.h"
#include "schema/entry.h"
#include "schema/store.h"

enum compare_format { COMPARE_TEXT, COMPARE_CSV, COMPARE_JSON, COMPARE_HTML };

struct compare_request {
    const char *first, *second; /* configurations; NULL: all */
    const char *metric;         /* name of a metric or symbol of a quantity; NULL: all */
    enum compare_format format;
    const char *entry;               /* NULL: the latest; "all"; or a name, "e1" or "tunnel/e1" */
    const char *attitude;            /* a target's name or "weighted"; NULL: all */
    const char *family;              /* a baseline; its whole family; NULL: by configurations */
    const struct campaign *campaign; /* NULL: no difference of two configurations is made */
};

/* Fills the tables of what is asked. NOT_FOUND as below; BAD_INPUT: two configurations that no baseline
 * joins, or one that is named twice. */
enum status compare_ask(struct store *store, const struct compare_request *request,
                        struct fault *fault);

/* Writes what was asked into *text; nothing for COMPARE_HTML, which report makes of what was asked. Of the
 * request it reads format, entry and attitude. The caller ends *text with key_text_end(), also after a failure. */
enum status compare_format(struct store *store, const struct compare_request *request,
                           struct key_text *text, struct fault *fault);

/* Both in one. NOT_FOUND: a configuration, metric, entry or attitude that does not exist, or nothing was compared
 * yet. */
enum status compare_table(struct store *store, const struct compare_request *request,
                          struct key_text *text, struct fault *fault);

/* The parts of it, for tables of another shape. NOT_FOUND when a name of the request does not exist. */
enum status compare_check(struct store *store, const struct compare_request *request,
                          struct fault *fault);

/* 1 when the request is for the i-th entry, the latest being the first. An entry is asked for by its own
 * name or by FACILITY/NAME, which tells two of one name apart. */
int compare_wants(const struct compare_request *request, const struct season_entries *entries,
                  size_t i);

/* The deltas of an entry, columns as in schema/delta_columns.h. On OK the caller owns *row. */
enum status compare_open_entry(struct store *store, const struct compare_request *request,
                               const struct season_entry *entry, struct statement **row,
                               struct fault *fault);

/* NOT_FOUND, with what to ask instead: no such entry; no delta. */
enum status compare_refuse_entry(const struct compare_request *request, struct fault *fault);
enum status compare_refuse_empty(const struct compare_request *request,
                                 const struct season_entries *entries, struct fault *fault);

#endif
