/* compare_table.c - deltas as a table; see compare_table.h. */
#include "reduce/compare_table.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/compare_budget.h"
#include "reduce/compare_left_out.h"
#include "reduce/compare_print.h"
#include "reduce/rows.h"
#include "schema/entry.h"
#include "schema/quantity.h"

static enum status exists(struct store *store, const char *sql, const char *name, int *found,
                          struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = rows_open(store, sql, &name, 1, &statement, fault);
    if (status == OK)
        status = statement_step(statement, found, fault);
    statement_free(statement);
    return status;
}

static enum status check_attitude(struct store *store, const struct compare_request *request,
                                  struct fault *fault)
{
    int found = 0;
    if (request->attitude == NULL || strcmp(request->attitude, "weighted") == 0)
        return OK;
    enum status status =
        exists(store, "SELECT 1 FROM target WHERE target = ?1", request->attitude, &found, fault);
    if (status == OK && !found)
        return FAIL(fault, NOT_FOUND,
                    "no attitude '%s'; an attitude is the name of a target of campaign.yaml, "
                    "weighted, or all",
                    request->attitude);
    return status;
}

enum status compare_check(struct store *store, const struct compare_request *request,
                          struct fault *fault)
{
    const char *const names[] = {request->first, request->second};
    enum status status = OK;
    int found = 1;
    for (int i = 0; i < 2; i++) {
        if (names[i] == NULL)
            continue;
        status = exists(store, "SELECT 1 FROM configuration WHERE configuration = ?1", names[i],
                        &found, fault);
        if (status != OK)
            return status;
        if (!found)
            return FAIL(fault, NOT_FOUND, "no configuration '%s' in configurations.csv", names[i]);
    }
    status = check_attitude(store, request, fault);
    if (status != OK || request->metric == NULL ||
        quantity_from_symbol(request->metric) != QUANTITY_COUNT)
        return status;
    status =
        exists(store, "SELECT 1 FROM metric WHERE metric = ?1", request->metric, &found, fault);
    if (status == OK && !found)
        return FAIL(fault, NOT_FOUND,
                    "'%s' is neither a metric of campaign.yaml nor a quantity such as CL",
                    request->metric);
    return status;
}

/* Two configurations other than their baseline are each compared with it, not with each other. */
static void add_note(const struct compare_request *request, int one_is_baseline,
                     struct key_text *text)
{
    if (request->second == NULL || one_is_baseline)
        return;
    key_text_say(text,
                 "%s and %s are each compared with their baseline; their difference has no "
                 "interval of its own\n",
                 request->first, request->second);
}

/* 1 when either of the two is the baseline of a row. */
static int names_baseline(const struct compare_request *request, const char *baseline)
{
    return (request->first != NULL && strcmp(request->first, baseline) == 0) ||
           (request->second != NULL && strcmp(request->second, baseline) == 0);
}

struct adding {
    const struct compare_request *request;
    struct key_text *text;
    size_t n;        /* rows so far */
    int is_baseline; /* 1: one of the two named is the baseline of a row */
};

static void add_row(struct adding *adding, struct statement *row, int is_family_new)
{
    struct key_text *text = adding->text;
    if (adding->request->format == COMPARE_CSV) {
        compare_print_csv(row, text);
    } else {
        if (is_family_new)
            compare_print_family(row, text);
        compare_print_text(row, text);
    }
    adding->is_baseline |= names_baseline(adding->request, compare_print_baseline(row));
    adding->n++;
}

enum status compare_open_entry(struct store *store, const struct compare_request *request,
                               const struct season_entry *entry, struct statement **row,
                               struct fault *fault)
{
    const char *const texts[] = {request->first == NULL ? "" : request->first,
                                 request->second == NULL ? "" : request->second,
                                 request->metric == NULL ? "" : request->metric,
                                 entry->facility,
                                 entry->entry,
                                 request->attitude == NULL ? "" : request->attitude};
    return rows_open(store, compare_print_sql, texts, 6, row, fault);
}

static enum status add_entry(struct store *store, struct adding *adding,
                             const struct season_entry *entry, struct fault *fault)
{
    struct statement *row = NULL;
    char *baseline = NULL;
    int more = 0;
    enum status status = compare_open_entry(store, adding->request, entry, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        const char *name = compare_print_baseline(row);
        int is_family_new = baseline == NULL || strcmp(baseline, name) != 0;
        if (is_family_new) {
            free(baseline);
            status = text_copy(name, &baseline, fault);
        }
        if (status == OK)
            add_row(adding, row, is_family_new);
    }
    free(baseline);
    statement_free(row);
    return status;
}

int compare_wants(const struct compare_request *request, const struct season_entries *entries,
                  size_t i)
{
    const char *name = request->entry;
    const struct season_entry *at = &entries->items[i];
    size_t length = strlen(at->facility);
    if (name == NULL)
        return i == 0;
    if (strcmp(name, "all") == 0 || strcmp(name, at->entry) == 0)
        return 1;
    return strncmp(name, at->facility, length) == 0 && name[length] == '/' &&
           strcmp(name + length + 1, at->entry) == 0;
}

/* The entries that the request leaves out, so that nobody takes a part for the whole. */
static void add_others(const struct compare_request *request, const struct season_entries *entries,
                       struct key_text *text)
{
    size_t n = 0;
    for (size_t i = 0; i < entries->n; i++) {
        if (compare_wants(request, entries, i))
            continue;
        if (n < ENTRIES_NAMED)
            key_text_say(text, "%s%s at %s", n == 0 ? "\nnot shown: " : ", ",
                         entries->items[i].entry, entries->items[i].facility);
        n++;
    }
    if (n > ENTRIES_NAMED)
        key_text_say(text, " and %zu more", n - ENTRIES_NAMED);
    if (n > 0)
        key_text_say(text, "; see --entry NAME and --entry all\n");
}

enum status compare_refuse_empty(const struct compare_request *request,
                                 const struct season_entries *entries, struct fault *fault)
{
    int is_latest = entries->n > 1 && request->entry == NULL;
    char place[200] = "";
    if (is_latest)
        (void)snprintf(place, sizeof place, " in the latest entry, %.60s at %.60s",
                       entries->items[0].entry, entries->items[0].facility);
    if (request->attitude != NULL)
        return FAIL(
            fault, NOT_FOUND,
            "nothing is compared at attitude '%s' for this request%s; see --attitude all%s; "
            "a delta needs a configuration with a parent and a reduced night (lapwing "
            "reduce)",
            request->attitude, place, is_latest ? " and --entry all" : "");
    if (is_latest)
        return FAIL(fault, NOT_FOUND,
                    "nothing is compared for this request%s; the season holds others, see --entry "
                    "all",
                    place);
    return FAIL(fault, NOT_FOUND,
                "nothing is compared for this request; a delta needs a configuration with a "
                "parent and a reduced night (lapwing reduce)");
}

enum status compare_refuse_entry(const struct compare_request *request, struct fault *fault)
{
    return FAIL(fault, NOT_FOUND,
                "no entry '%s' in runs.csv; an entry is asked for by its name or as FACILITY/NAME",
                request->entry);
}

static enum status add_entries(struct store *store, const struct compare_request *request,
                               const struct season_entries *entries, struct key_text *text,
                               struct fault *fault)
{
    struct adding adding = {request, text, 0, 0};
    enum status status = OK;
    size_t n = 0;
    for (size_t i = 0; status == OK && i < entries->n; i++) {
        if (!compare_wants(request, entries, i))
            continue;
        size_t before = adding.n;
        status = add_entry(store, &adding, &entries->items[i], fault);
        if (status == OK && adding.n > before && request->format == COMPARE_TEXT)
            status = compare_left_out(store, request, &entries->items[i], text, fault);
        if (status == OK && adding.n > before && request->format == COMPARE_TEXT)
            status = compare_budget(store, request, &entries->items[i], text, fault);
        n++;
    }
    if (status != OK)
        return status;
    if (n == 0 && request->entry != NULL)
        return compare_refuse_entry(request, fault);
    if (adding.n == 0)
        return compare_refuse_empty(request, entries, fault);
    if (request->format == COMPARE_TEXT) {
        add_note(request, adding.is_baseline, text);
        if (request->attitude != NULL)
            key_text_say(text, "\nat attitude %s only; see --attitude NAME and --attitude all\n",
                         request->attitude);
        add_others(request, entries, text);
    }
    return OK;
}

enum status compare_table(struct store *store, const struct compare_request *request,
                          struct key_text *text, struct fault *fault)
{
    struct season_entries entries = {0};
    memset(text, 0, sizeof *text);
    enum status status = compare_check(store, request, fault);
    if (status == OK)
        status = entries_read(store, &entries, fault);
    if (status != OK)
        return status;
    if (request->format == COMPARE_CSV)
        compare_print_csv_head(text);
    status = add_entries(store, request, &entries, text, fault);
    entries_end(&entries);
    return status == OK ? key_text_status(text, fault) : status;
}
