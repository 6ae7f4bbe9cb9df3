/* report_fixture_entry.c - changes to the report's fixture; see test_report_fixture.h. */
#include <stdio.h>
#include <string.h>

#include "report/page_night.h"
#include "tests/test_report_fixture.h"

/* What is changed in the copy of each table; name, prefix, id, shift and factor are the one row of
 * the table other. Only rows of the first entry are copied. */
static const char *const copies[][2] = {
    {"run",
     "run = prefix || run, sequence = sequence - id, entry = name, start_s = start_s + shift"},
    {"log", "run = prefix || run"},
    {"point", "run = prefix || run, time_s = time_s + shift"},
    {"reduction", "reduction = reduction + id, subject = CASE stage WHEN 'point' THEN prefix || "
                  "subject ELSE replace(subject, '/February/', '/' || name || '/') END"},
    {"point_result", "reduction = reduction + id, run = prefix || run, static_temperature_k = "
                     "static_temperature_k + 5"},
    {"tap_result", "reduction = reduction + id"},
    {"ledger_row", "reduction = reduction + id"},
    {"target_result", "reduction = reduction + id, run = prefix || run"},
    {"observation", "reduction = reduction + id, runs = prefix || runs, time_s = time_s + shift, "
                    "value = value + 0.5"},
    {"delta_result", "reduction = reduction + id, delta = factor * delta, lower = factor * lower, "
                     "upper = factor * upper, half_width = factor * half_width"},
    {"map_tap", "reduction = reduction + id, cp = 2 * cp, delta_cp = 2 * delta_cp"},
    {"map_triangle", "reduction = reduction + id"},
    {"flag_row", "id = flag_row_copy.id + other.id, reduction = reduction + other.id, run = prefix "
                 "|| run, detail = 'Seen in ' || name"}};

/* Which rows of the first entry: by run where there is one, else by the numbers below a thousand. */
static const char *first_rows(const char *table)
{
    int has_run =
        strcmp(table, "run") == 0 || strcmp(table, "log") == 0 || strcmp(table, "point") == 0;

    return has_run ? "run GLOB 'R*'" : "reduction < 1000";
}

static enum status copy_rows(struct store *store, const char *table, const char *values,
                             struct fault *fault)
{
    char sql[1200];

    (void)snprintf(sql, sizeof sql,
                   "CREATE TEMP TABLE %s_copy AS SELECT * FROM %s WHERE %s;"
                   "UPDATE %s_copy SET %s FROM other; INSERT INTO %s SELECT * FROM %s_copy;"
                   "DROP TABLE %s_copy",
                   table, table, first_rows(table), table, values, table, table, table);
    return store_execute(store, sql, fault);
}

enum status report_fixture_add_entry(struct store *store, const struct report_fixture_entry *entry,
                                     struct fault *fault)
{
    char sql[300];

    (void)snprintf(
        sql, sizeof sql,
        "CREATE TEMP TABLE other AS SELECT '%s' AS name, '%s' AS prefix, %d AS id, %.17g "
        "AS shift, %.17g AS factor",
        entry->entry, entry->prefix, entry->id, entry->shift, entry->factor);
    enum status status = store_execute(store, sql, fault);
    for (size_t i = 0; status == OK && i < sizeof copies / sizeof copies[0]; i++)
        status = copy_rows(store, copies[i][0], copies[i][1], fault);
    if (status == OK)
        status = store_execute(store, "DROP TABLE other", fault);
    return status;
}

enum status report_fixture_split_family(struct store *store, struct fault *fault)
{
    return store_execute(
        store,
        "INSERT INTO reduction VALUES (300, 'compare', 'saltmarsh/February/W3', 'cafe', 'inputs', "
        "1);"
        "UPDATE configuration SET baseline = 'W3', parent = 'W3' WHERE configuration IN ('W4', "
        "'W5');"
        "UPDATE configuration SET baseline = 'W3', parent = NULL WHERE configuration = 'W3';"
        "DELETE FROM delta_result WHERE configuration = 'W3';"
        "UPDATE delta_result SET baseline = 'W3', reduction = 300 WHERE configuration IN ('W4', "
        "'W5');"
        "UPDATE observation SET reduction = 300 WHERE configuration IN ('W3', 'W4', 'W5')",
        fault);
}

enum status report_fixture_page(struct store *store, struct html *page, struct fault *fault)
{
    struct findings findings;
    struct headline headline;

    enum status status = findings_read(store, &findings, fault);
    if (status != OK)
        return status;
    headline_make(&findings, &headline);
    struct night_page night = {store, &findings, &headline};
    status = page_night(page, &night, fault);
    headline_end(&headline);
    findings_end(&findings);
    return status;
}
