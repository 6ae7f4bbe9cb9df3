/* compare_table.c - deltas as a table; see compare_table.h. */
#include "reduce/compare_table.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/rows.h"
#include "schema/number.h"
#include "schema/quantity.h"

static const char delta_sql[] =
    "SELECT d.subject, x.configuration, x.baseline, x.quantity, x.target, x.verdict, x.reason, "
    "x.delta, x.standard_uncertainty, x.degrees_of_freedom, x.half_width, x.lower, x.upper, "
    "x.is_main, x.mountings, x.baseline_mountings, x.real_but_small "
    "FROM delta_result AS x JOIN reduction AS d ON d.reduction = x.reduction AND d.is_current = 1 "
    "LEFT JOIN target AS t ON t.target = x.target "
    "LEFT JOIN configuration AS c ON c.configuration = x.configuration "
    "WHERE (?1 = '' OR x.configuration = ?1 OR x.configuration = ?2) "
    "AND (?3 = '' OR x.quantity = ?3 OR x.quantity = (SELECT quantity FROM metric WHERE metric = "
    "?3)) ORDER BY d.subject, x.is_main DESC, coalesce((SELECT min(sequence) FROM metric AS m "
    "WHERE "
    "m.quantity = x.quantity), 1000), x.quantity, "
    "t.sequence IS NOT NULL, t.sequence, x.target, c.sequence, x.configuration";

enum {
    SUBJECT,
    CONFIGURATION,
    BASELINE,
    QUANTITY,
    TARGET,
    VERDICT,
    REASON,
    TEXTS
};
enum {
    DELTA = TEXTS,
    UNCERTAINTY,
    FREEDOM,
    HALF_WIDTH,
    LOWER,
    UPPER,
    REALS
};
enum {
    IS_MAIN = REALS,
    MOUNTINGS,
    BASELINE_MOUNTINGS,
    REAL_BUT_SMALL
};

static const char *text_of(struct statement *row, int column)
{
    const char *text = statement_text(row, column);
    return text == NULL ? "" : text;
}

/* Decimals that show a tenth of a count of a coefficient, a hundredth of a percent. */
static int decimals_of(const char *quantity)
{
    return quantity_from_symbol(quantity) == QUANTITY_BALANCE ? 2 : 4;
}

static void fixed(double value, int decimals, int sign, char *out, size_t size)
{
    char number[48];
    if (!isfinite(value)) {
        (void)snprintf(out, size, "n/a");
        return;
    }
    (void)number_print_fixed(value, decimals, number, sizeof number);
    (void)snprintf(out, size, "%s%s", sign && number[0] != '-' ? "+" : "", number);
}

static void add_text_row(struct statement *row, struct key_text *text)
{
    char delta[64];
    char half[64];
    const char *quantity = text_of(row, QUANTITY);
    enum quantity known = quantity_from_symbol(quantity);
    const char *verdict = text_of(row, VERDICT);
    const char *reason = text_of(row, REASON);
    int decimals = decimals_of(quantity);
    fixed(statement_real(row, DELTA), decimals, 1, delta, sizeof delta);
    fixed(statement_real(row, HALF_WIDTH), decimals, 0, half, sizeof half);
    key_text_say(text, "%-20s %-8s %-3s %-16s %10s +/- %-9s %3d/%-3d %s%s%s%s\n",
                 text_of(row, CONFIGURATION), quantity,
                 known == QUANTITY_COUNT ? "" : quantity_row(known)->unit, text_of(row, TARGET),
                 delta, half, (int)statement_integer(row, MOUNTINGS),
                 (int)statement_integer(row, BASELINE_MOUNTINGS),
                 statement_integer(row, IS_MAIN) ? "main: " : "", verdict,
                 statement_integer(row, REAL_BUT_SMALL) ? " (real, but small)" : "", reason);
}

static void add_csv_text(struct key_text *text, const char *cell)
{
    if (strpbrk(cell, ",\"\r\n") == NULL) {
        key_text_say(text, "%s,", cell);
        return;
    }
    key_text_say(text, "\"");
    for (const char *c = cell; *c != '\0'; c++)
        key_text_say(text, "%s%c", *c == '"' ? "\"" : "", *c);
    key_text_say(text, "\",");
}

static void add_csv_row(struct statement *row, struct key_text *text)
{
    static const int texts[] = {SUBJECT, CONFIGURATION, BASELINE, QUANTITY,
                                TARGET,  VERDICT,       REASON};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        add_csv_text(text, text_of(row, texts[i]));
    for (int i = DELTA; i < REALS; i++) {
        char number[48] = "";
        if (!statement_is_null(row, i))
            (void)number_print(statement_real(row, i), number, sizeof number);
        key_text_say(text, "%s,", number);
    }
    for (int i = IS_MAIN; i < REAL_BUT_SMALL; i++)
        key_text_say(text, "%d,", (int)statement_integer(row, i));
    key_text_say(text, "%d\n", (int)statement_integer(row, REAL_BUT_SMALL));
}

/* The head of each family: what the numbers are, before the first of them. */
static void add_family(struct statement *row, struct key_text *text)
{
    key_text_say(text,
                 "%s%s: delta = configuration - baseline %s; CL, CLF, CLR downforce positive, CD "
                 "aft positive, balance in %% of downforce on the front axle\n"
                 "%-20s %-8s %-3s %-16s %10s +/- %-9s %-7s %s\n",
                 text->length == 0 ? "" : "\n", text_of(row, SUBJECT), text_of(row, BASELINE),
                 "configuration", "quantity", "in", "attitude", "delta", "interval", "mounted",
                 "verdict (main measure, simultaneous interval; others exploratory)");
}

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

static enum status check_names(struct store *store, const struct compare_request *request,
                               struct fault *fault)
{
    const char *const names[] = {request->first, request->second};
    int found = 1;
    for (int i = 0; i < 2; i++) {
        if (names[i] == NULL)
            continue;
        enum status status = exists(store, "SELECT 1 FROM configuration WHERE configuration = ?1",
                                    names[i], &found, fault);
        if (status != OK)
            return status;
        if (!found)
            return FAIL(fault, NOT_FOUND, "no configuration '%s' in configurations.csv", names[i]);
    }
    if (request->metric == NULL || quantity_from_symbol(request->metric) != QUANTITY_COUNT)
        return OK;
    enum status status =
        exists(store, "SELECT 1 FROM metric WHERE metric = ?1", request->metric, &found, fault);
    if (status == OK && !found)
        return FAIL(fault, NOT_FOUND,
                    "'%s' is neither a metric of campaign.yaml nor a quantity such as CL",
                    request->metric);
    return status;
}

/* Two configurations other than their baseline are each compared with it, not with each other. */
static void add_note(const struct compare_request *request, int second_is_baseline,
                     struct key_text *text)
{
    if (request->second == NULL || request->format != COMPARE_TEXT || second_is_baseline)
        return;
    key_text_say(text,
                 "%s and %s are each compared with their baseline; their difference has no "
                 "interval of its own\n",
                 request->first, request->second);
}

/* 1 when either of the two is the baseline of a row. */
static int names_baseline(const struct compare_request *request, struct statement *row)
{
    const char *baseline = text_of(row, BASELINE);
    return (request->first != NULL && strcmp(request->first, baseline) == 0) ||
           (request->second != NULL && strcmp(request->second, baseline) == 0);
}

static enum status add_rows(struct store *store, const struct compare_request *request,
                            struct key_text *text, size_t *n, struct fault *fault)
{
    const char *const names[] = {request->first == NULL ? "" : request->first,
                                 request->second == NULL ? "" : request->second,
                                 request->metric == NULL ? "" : request->metric};
    struct statement *row = NULL;
    char subject[256] = "";
    int more = 0;
    int is_baseline = 0;
    enum status status = rows_open(store, delta_sql, names, 3, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        if (request->format == COMPARE_TEXT && strcmp(subject, text_of(row, SUBJECT)) != 0)
            add_family(row, text);
        (void)snprintf(subject, sizeof subject, "%s", text_of(row, SUBJECT));
        if (request->format == COMPARE_TEXT)
            add_text_row(row, text);
        else
            add_csv_row(row, text);
        is_baseline |= names_baseline(request, row);
        (*n)++;
    }
    statement_free(row);
    if (status == OK && *n > 0)
        add_note(request, is_baseline, text);
    return status;
}

enum status compare_table(struct store *store, const struct compare_request *request,
                          struct key_text *text, struct fault *fault)
{
    size_t n = 0;
    memset(text, 0, sizeof *text);
    enum status status = check_names(store, request, fault);
    if (status != OK)
        return status;
    if (request->format == COMPARE_CSV)
        key_text_say(text, "family,configuration,baseline,quantity,attitude,verdict,reason,delta,"
                           "standard_uncertainty,degrees_of_freedom,half_width,lower,upper,is_main,"
                           "mountings,baseline_mountings,real_but_small\n");
    status = add_rows(store, request, text, &n, fault);
    if (status == OK && n == 0)
        return FAIL(fault, NOT_FOUND,
                    "nothing is compared for this request; a delta needs a configuration with a "
                    "parent and a reduced night (lapwing reduce)");
    return status == OK ? key_text_status(text, fault) : status;
}
