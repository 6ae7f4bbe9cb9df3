/* compare_table.c - deltas as a table; see compare_table.h. */
#include "reduce/compare_table.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/compare_budget.h"
#include "reduce/compare_derived.h"
#include "reduce/compare_json.h"
#include "reduce/compare_left_out.h"
#include "reduce/compare_pair.h"
#include "reduce/compare_print.h"
#include "reduce/compare_readings.h"
#include "reduce/rows.h"
#include "schema/asked.h"
#include "schema/entry.h"
#include "schema/quantity.h"

enum { QUERY_SIZE = 2400 };

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

/* Two that no baseline joins were never run between the same returns. */
static enum status check_pair(struct store *store, const struct compare_request *request,
                              struct fault *fault)
{
    const char *const names[] = {request->first, request->second};
    struct statement *row = NULL;
    int more = 0;
    if (names[0] == NULL || names[1] == NULL)
        return OK;
    if (strcmp(names[0], names[1]) == 0)
        return FAIL(fault, BAD_INPUT,
                    "'%s' is named twice; name two configurations, or one to see it against its "
                    "baseline",
                    names[0]);
    enum status status =
        rows_open(store,
                  "SELECT a.baseline, b.baseline FROM configuration AS a, configuration AS b WHERE "
                  "a.configuration = ?1 AND b.configuration = ?2",
                  names, 2, &row, fault);
    if (status == OK)
        status = statement_step(row, &more, fault);
    if (status == OK && more && strcmp(statement_text(row, 0), statement_text(row, 1)) != 0)
        status =
            FAIL(fault, BAD_INPUT,
                 "'%.60s' is of the family of '%.60s', '%.60s' of that of '%.60s': no baseline "
                 "was returned to for both; compare each alone, with its own baseline",
                 names[0], statement_text(row, 0), names[1], statement_text(row, 1));
    statement_free(row);
    return status;
}

static enum status check_family(struct store *store, const struct compare_request *request,
                                struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    if (request->family == NULL)
        return OK;
    if (request->first != NULL)
        return FAIL(fault, BAD_INPUT,
                    "--family '%s' is a whole family, '%s' one of its configurations; give one of "
                    "both",
                    request->family, request->first);
    enum status status =
        rows_open(store, "SELECT baseline FROM configuration WHERE configuration = ?1",
                  &request->family, 1, &row, fault);
    if (status == OK)
        status = statement_step(row, &more, fault);
    if (status == OK && !more)
        status =
            FAIL(fault, NOT_FOUND, "no configuration '%s' in configurations.csv", request->family);
    else if (status == OK && strcmp(statement_text(row, 0), request->family) != 0)
        status = FAIL(fault, BAD_INPUT,
                      "'%.80s' is no baseline; a family has its baseline's name: --family '%.80s'",
                      request->family, statement_text(row, 0));
    statement_free(row);
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
    status = check_pair(store, request, fault);
    if (status == OK)
        status = check_family(store, request, fault);
    if (status == OK)
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

struct adding {
    const struct compare_request *request;
    struct key_text *text;
    size_t n;    /* rows so far */
    int is_pair; /* 1: differences of two configurations are added */
};

static void add_row(struct adding *adding, struct statement *row, int is_family_new)
{
    struct key_text *text = adding->text;
    if (adding->request->format == COMPARE_CSV) {
        compare_print_csv(row, text);
    } else {
        if (is_family_new)
            (adding->is_pair ? compare_print_pair : compare_print_family)(row, text);
        (adding->is_pair ? compare_print_pair_row : compare_print_text)(row, text);
    }
    adding->n++;
}

/* What picks the rows of an entry, in the order of the query's parameters. */
static void pick(const struct compare_request *request, const struct season_entry *entry,
                 const char *texts[6])
{
    const char *const picked[] = {request->family != NULL  ? request->family
                                  : request->first == NULL ? ""
                                                           : request->first,
                                  request->second == NULL ? "" : request->second,
                                  request->metric == NULL ? "" : request->metric,
                                  entry->facility,
                                  entry->entry,
                                  request->attitude == NULL ? "" : request->attitude};
    memcpy(texts, picked, sizeof picked);
}

static enum status open_rows(struct store *store, const char *begin,
                             const struct compare_request *request,
                             const struct season_entry *entry, struct statement **row,
                             struct fault *fault)
{
    const char *texts[6];
    char sql[QUERY_SIZE];
    pick(request, entry, texts);
    (void)snprintf(sql, sizeof sql, "%s%s", begin, compare_print_rows);
    return rows_open(store, sql, texts, 6, row, fault);
}

enum status compare_open_entry(struct store *store, const struct compare_request *request,
                               const struct season_entry *entry, struct statement **row,
                               struct fault *fault)
{
    return open_rows(store, compare_print_columns, request, entry, row, fault);
}

/* The rows of an entry that were asked for. */
static enum status open_asked(struct store *store, const struct season_entry *entry, int is_pair,
                              struct statement **row, struct fault *fault)
{
    const char *const texts[] = {entry->facility, entry->entry, is_pair ? "1" : "0"};
    char sql[QUERY_SIZE];
    (void)snprintf(sql, sizeof sql,
                   "%sFROM asked_delta AS x WHERE x.facility = ?1 AND x.entry = ?2 AND "
                   "x.is_pair = CAST(?3 AS INTEGER) ORDER BY x.rowid",
                   compare_print_columns);
    return rows_open(store, sql, texts, 3, row, fault);
}

static enum status ask_entry(struct store *store, const struct compare_request *request,
                             const struct season_entry *entry, struct fault *fault)
{
    struct statement *insert = NULL;
    enum status status =
        open_rows(store, "INSERT INTO asked_delta SELECT 0, x.* ", request, entry, &insert, fault);
    if (status == OK)
        status = statement_run(insert, fault);
    statement_free(insert);
    return status == OK ? compare_pair(store, request, entry, fault) : status;
}

static enum status add_entry(struct store *store, struct adding *adding,
                             const struct season_entry *entry, struct fault *fault)
{
    struct statement *row = NULL;
    char *baseline = NULL;
    int more = 0;
    enum status status = open_asked(store, entry, adding->is_pair, &row, fault);
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

/* What is known of an entry beside its deltas, as text. */
static enum status add_words(struct store *store, const struct compare_request *request,
                             const struct season_entry *entry, struct key_text *text,
                             struct fault *fault)
{
    enum status status = compare_say_readings(store, entry, text, fault);
    if (status == OK)
        status = compare_say_derived(store, entry, text, fault);
    if (status == OK)
        status = compare_left_out(store, request, entry, text, fault);
    return status == OK ? compare_budget(store, request, entry, text, fault) : status;
}

static enum status add_entries(struct store *store, const struct compare_request *request,
                               const struct season_entries *entries, struct key_text *text,
                               struct fault *fault)
{
    struct adding adding = {request, text, 0, 0};
    enum status status = OK;
    for (size_t i = 0; status == OK && i < entries->n; i++) {
        if (!compare_wants(request, entries, i))
            continue;
        size_t before = adding.n;
        for (adding.is_pair = 0; status == OK && adding.is_pair < 2; adding.is_pair++)
            status = add_entry(store, &adding, &entries->items[i], fault);
        if (status == OK && adding.n > before && request->format == COMPARE_TEXT)
            status = add_words(store, request, &entries->items[i], text, fault);
    }
    if (status != OK || request->format != COMPARE_TEXT)
        return status;
    status = compare_say_count(store, text, fault);
    if (request->attitude != NULL)
        key_text_say(text, "\nat attitude %s only; see --attitude NAME and --attitude all\n",
                     request->attitude);
    add_others(request, entries, text);
    return status;
}

static enum status count_asked(struct store *store, int64_t *n, struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    enum status status = rows_open(store, "SELECT count(*) FROM asked_delta", NULL, 0, &row, fault);
    if (status == OK)
        status = statement_step(row, &more, fault);
    *n = status == OK && more ? statement_integer(row, 0) : 0;
    statement_free(row);
    return status;
}

static enum status keep_request(struct store *store, const struct compare_request *request,
                                struct fault *fault)
{
    const char *const words[][2] = {{"first", request->first},       {"second", request->second},
                                    {"family", request->family},     {"metric", request->metric},
                                    {"attitude", request->attitude}, {"entry", request->entry}};
    struct statement *insert = NULL;
    enum status status =
        statement_prepare(store, "INSERT INTO asked VALUES (?1, ?2)", &insert, fault);
    for (size_t i = 0; status == OK && i < sizeof words / sizeof words[0]; i++) {
        status = statement_bind_text(insert, 1, words[i][0], fault);
        if (status == OK)
            status = statement_bind_text(insert, 2, words[i][1] == NULL ? "" : words[i][1], fault);
        if (status == OK)
            status = statement_run(insert, fault);
    }
    statement_free(insert);
    return status;
}

static enum status ask_entries(struct store *store, const struct compare_request *request,
                               const struct season_entries *entries, struct fault *fault)
{
    enum status status = OK;
    size_t n = 0;
    int64_t rows = 0;
    for (size_t i = 0; status == OK && i < entries->n; i++) {
        if (!compare_wants(request, entries, i))
            continue;
        status = ask_entry(store, request, &entries->items[i], fault);
        n++;
    }
    if (status == OK && n == 0 && request->entry != NULL)
        return compare_refuse_entry(request, fault);
    if (status == OK)
        status = count_asked(store, &rows, fault);
    if (status == OK && rows == 0)
        return compare_refuse_empty(request, entries, fault);
    return status == OK ? asked_follow(store, fault) : status;
}

static enum status ask(struct store *store, const struct compare_request *request,
                       const struct season_entries *entries, struct fault *fault)
{
    enum status status = asked_make(store, fault);
    if (status == OK)
        status = keep_request(store, request, fault);
    return status == OK ? ask_entries(store, request, entries, fault) : status;
}

enum status compare_ask(struct store *store, const struct compare_request *request,
                        struct fault *fault)
{
    struct season_entries entries = {0};
    enum status status = compare_check(store, request, fault);
    if (status == OK)
        status = entries_read(store, &entries, fault);
    if (status != OK)
        return status;
    status = ask(store, request, &entries, fault);
    entries_end(&entries);
    return status;
}

enum status compare_format(struct store *store, const struct compare_request *request,
                           struct key_text *text, struct fault *fault)
{
    struct season_entries entries = {0};
    memset(text, 0, sizeof *text);
    if (request->format == COMPARE_HTML)
        return OK;
    if (request->format == COMPARE_JSON)
        return compare_json(store, text, fault);
    enum status status = entries_read(store, &entries, fault);
    if (status != OK)
        return status;
    if (request->format == COMPARE_CSV)
        compare_print_csv_head(text);
    status = add_entries(store, request, &entries, text, fault);
    entries_end(&entries);
    return status == OK ? key_text_status(text, fault) : status;
}

enum status compare_table(struct store *store, const struct compare_request *request,
                          struct key_text *text, struct fault *fault)
{
    memset(text, 0, sizeof *text);
    enum status status = compare_ask(store, request, fault);
    return status == OK ? compare_format(store, request, text, fault) : status;
}
