/* test_table_forms.c - the tables that leave the program, read back by other readers: CSV by libcsv, JSON by
 * SQLite, both against the database. */
#include <CUnit/CUnit.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "report/report_command.h"
#include "report/report_tables.h"
#include "schema/csv_cell.h"
#include "schema/number.h"
#include "tests/check.h"
#include "tests/csv_look.h"
#include "tests/scratch.h"
#include "tests/test_report_fixture.h"

/* Starts that a spreadsheet runs, and texts that only look like them. */
static void formulas_are_told(void)
{
    static const char *const run[] = {"=1+2",
                                      "+1",
                                      "-1",
                                      "@SUM(A1)",
                                      " =1",
                                      "  \t=1",
                                      "\t=1",
                                      "\tx",
                                      "\r=1",
                                      "\n=1",
                                      "\xC2\xA0=1",
                                      "\xE3\x80\x80=1",
                                      "\xEF\xBB\xBF=1",
                                      "\xE2\x80\x8B=1",
                                      "\xEF\xBC\x9D\x31",
                                      "\xEF\xBC\x8B\x31",
                                      "\xEF\xBC\x8D\x31",
                                      "\xEF\xBC\xA0\x31"};
    static const char *const fine[] = {
        "", " ", "W1", "1-2", "a=b", "007", "x@y", "\"=1", "'=1", "\xE2\x88\x92\x31", "\xEF\xBC"};
    for (size_t i = 0; i < sizeof run / sizeof run[0]; i++)
        CHECK(csv_is_formula(run[i]) == 1);
    for (size_t i = 0; i < sizeof fine / sizeof fine[0]; i++)
        CHECK(csv_is_formula(fine[i]) == 0);
}

/* Everything awkward in names and numbers, beside the fixture's own rows. */
static const char awkward_sql[] =
    "UPDATE run SET run = '007' WHERE run = 'R101'; UPDATE point SET run = '007' WHERE run = "
    "'R101'; UPDATE point_result SET run = '007' WHERE run = 'R101';"
    "UPDATE target_result SET run = '007' WHERE run = 'R101';"
    "UPDATE configuration SET change = '=HYPERLINK(\"x\")', note = 'secret; \"quoted\"' WHERE "
    "configuration = 'W1';"
    "UPDATE point_result SET drag_coefficient = 0.1 + 0.2, downforce_coefficient = 5e-324, "
    "q_ratio = 1.7976931348623157e308, mach = -1e-7 WHERE run = '007' AND point = '1';"
    "INSERT INTO decision VALUES ('R102', '2', 'exclude', 'Ann Teal', '2026-02-12', '\tbird', 2)";

static int open_awkward(struct store **store)
{
    struct fault fault = {0};
    CHECK_OK(report_fixture_open(":memory:", " =2+3\"x\"", store, &fault), &fault);
    if (*store == NULL)
        return 0;
    CHECK_OK(store_execute(*store, "PRAGMA foreign_keys = OFF", &fault), &fault);
    CHECK_OK(store_execute(*store, awkward_sql, &fault), &fault);
    return fault.status == OK;
}

/* The number of a cell; NAN when it is empty or none. */
static double number_of(const char *cell, char mark)
{
    double value = 0;
    if (number_parse(cell, strlen(cell), mark, &value, NULL) != NUMBER_OK)
        return (double)NAN;
    return value;
}

static int same(double a, double b)
{
    return (isnan(a) && isnan(b)) || (a <= b && a >= b);
}

/* One row of the database and of the text: every number the same double, every text the same. */
static size_t differences(const struct csv_table *table, struct statement *row,
                          const struct csv_look *look, size_t at, char mark)
{
    size_t n = 0;
    for (size_t i = 0; i < table->n; i++) {
        const char *cell = csv_look_cell(look, at, i);
        const char *text = statement_text(row, (int)i);
        if (table->columns[i].kind == CSV_NUMBER)
            n += !same(number_of(cell, mark), statement_real(row, (int)i));
        else if (table->columns[i].kind == CSV_TEXT)
            n += strcmp(cell + (csv_is_formula(text != NULL ? text : "") ? 1 : 0),
                        text != NULL ? text : "") != 0;
        else
            n += cell[0] != '\0';
    }
    return n;
}

static void compare_table(struct store *store, const struct csv_table *table,
                          const struct table_form *form)
{
    struct buffer out = {0};
    struct fault fault = {0};
    struct csv_look look;
    struct statement *row = NULL;
    int is_comma = form->format == TABLE_CSV;
    size_t at = 2;
    size_t wrong = 0;
    int more = 0;
    CHECK_OK(table_write(store, table, form, &out, &fault), &fault);
    csv_look_read(buffer_string(&out), is_comma ? ',' : ';', &look);
    CHECK(!look.failed && look.columns == table->n);
    CHECK(out.length == strlen(buffer_string(&out)) && strchr(buffer_string(&out), '\r') == NULL);
    CHECK_OK(statement_prepare(store, table->sql, &row, &fault), &fault);
    while (row != NULL && statement_step(row, &more, &fault) == OK && more)
        wrong += differences(table, row, &look, at++, is_comma ? '.' : ',');
    statement_free(row);
    CHECK(look.rows == at && wrong == 0);
    for (size_t i = 0; i < table->n; i++)
        CHECK_TEXT(csv_look_cell(&look, 0, i), table->columns[i].name);
    csv_look_end(&look);
    buffer_free(&out);
}

static void csv_reads_back(void)
{
    static const struct table_form forms[] = {{TABLE_CSV, 0}, {TABLE_CSV_SEMICOLON, 0}};
    struct store *store = NULL;
    if (open_awkward(&store))
        for (size_t f = 0; f < 2; f++)
            for (size_t i = 0; report_tables[i] != NULL; i++)
                compare_table(store, report_tables[i], &forms[f]);
    CHECK_OK(store_close(store, NULL), NULL);
}

static void awkward_cells_are_quoted(void)
{
    struct store *store = NULL;
    struct buffer out = {0};
    struct fault fault = {0};
    if (open_awkward(&store)) {
        CHECK_OK(csv_write(store, &csv_points, &out, &fault), &fault);
        CHECK_CONTAINS(buffer_string(&out), "\n\"007\",\"1\",");
        CHECK_CONTAINS(buffer_string(&out), ",0.30000000000000004,");
        CHECK_CONTAINS(buffer_string(&out), ",5e-324,");
        CHECK_CONTAINS(buffer_string(&out), "\"' =2+3\"\"x\"\"\"");
    }
    buffer_free(&out);
    CHECK_OK(store_close(store, &fault), &fault);
}

/* SQL: the row of points.json whose run is 007 and point 1, looked up by SQLite's own reader. */
static const char json_sql[] =
    "SELECT json_extract(value, '$.drag_coefficient'), json_extract(value, '$.configuration'), "
    "json_type(value, '$.run'), json_type(value, '$.side_coefficient'), "
    "json_array_length(?1, '$.rows'), json_array_length(?1, '$.columns'), json_valid(?1), "
    "(SELECT count(*) FROM point_coefficient) "
    "FROM json_each(?1, '$.rows') WHERE json_extract(value, '$.run') = '007' AND "
    "json_extract(value, '$.point') = '1'";

static void json_reads_back(void)
{
    static const struct table_form form = {TABLE_JSON, 0};
    struct store *store = NULL;
    struct statement *row = NULL;
    struct buffer out = {0};
    struct fault fault = {0};
    int more = 0;
    if (open_awkward(&store)) {
        CHECK_OK(table_write(store, &csv_points, &form, &out, &fault), &fault);
        CHECK_OK(statement_prepare(store, json_sql, &row, &fault), &fault);
        CHECK_OK(statement_bind_text(row, 1, buffer_string(&out), &fault), &fault);
        CHECK_OK(statement_step(row, &more, &fault), &fault);
        CHECK(more == 1);
        CHECK_RELATIVE(statement_real(row, 0), 0.1 + 0.2, 1e-15, "identity");
        CHECK_TEXT(statement_text(row, 1), "C0");
        CHECK_TEXT(statement_text(row, 2), "text");
        CHECK_TEXT(statement_text(row, 3), "null");
        CHECK(statement_integer(row, 4) == statement_integer(row, 7));
        CHECK(statement_integer(row, 5) == (int64_t)csv_points.n);
        CHECK(statement_integer(row, 6) == 1);
        CHECK_CONTAINS(buffer_string(&out), "\"drag_coefficient\":0.30000000000000004,");
        CHECK_CONTAINS(buffer_string(&out), "\" =2+3\\\"x\\\"\"");
    }
    statement_free(row);
    buffer_free(&out);
    CHECK_OK(store_close(store, &fault), &fault);
}

static int write_form(struct store *store, const char *folder, const struct report_options *options)
{
    struct fault fault = {0};
    CHECK_OK(report_tables_write(store, folder, options, &fault), &fault);
    return fault.status == OK;
}

static int is_there(const char *folder, const char *name)
{
    char *text = scratch_read(folder, name);
    int found = text != NULL;
    free(text);
    return found;
}

/* Free text goes out only when asked for, and not as a leftover either. */
static void notes_leave_only_when_asked_for(void)
{
    static const struct report_options forms[] = {
        {.notes = 1, .json = 1}, {.json = 1}, {.notes = 0}};
    char folder[SCRATCH_PATH];
    struct store *store = NULL;
    CHECK(scratch_make(folder));
    if (open_awkward(&store) && write_form(store, folder, &forms[0])) {
        char out[300];
        char *notes = scratch_read(folder, "notes.csv");
        CHECK(notes != NULL);
        if (notes != NULL) {
            CHECK_CONTAINS(notes, "\"secret; \"\"quoted\"\"\"");
            CHECK_CONTAINS(notes, "\"'=HYPERLINK(\"\"x\"\")\"");
            CHECK_CONTAINS(notes, "\"Ann Teal\",\"2026-02-12\",\"'\tbird\"");
        }
        free(notes);
        CHECK(is_there(folder, "notes.json"));
        (void)snprintf(out, sizeof out, "grep -rqe 'Ann Teal' -e secret -e HYPERLINK -e bird %s",
                       folder);
        CHECK(system(out) == 0);
        CHECK(write_form(store, folder, &forms[1]));
        CHECK(system(out) != 0);
        CHECK(is_there(folder, "deltas.json") && !is_there(folder, "notes.json"));
        CHECK(write_form(store, folder, &forms[2]));
        CHECK(!is_there(folder, "deltas.json") && is_there(folder, "deltas.csv"));
    }
    CHECK_OK(store_close(store, NULL), NULL);
    scratch_remove(folder);
}

/* The locale of this thread only; machines without a German one check the rest above. */
static void a_comma_locale_changes_nothing(void)
{
    struct store *store = NULL;
    struct buffer plain = {0};
    struct buffer german = {0};
    struct fault fault = {0};
    locale_t comma = newlocale(LC_ALL_MASK, "de_DE.UTF-8", (locale_t)0);
    if (comma != (locale_t)0 && open_awkward(&store)) {
        CHECK_OK(csv_write(store, &csv_points, &plain, &fault), &fault);
        locale_t before = uselocale(comma);
        CHECK_OK(csv_write(store, &csv_points, &german, &fault), &fault);
        (void)uselocale(before);
        CHECK_TEXT(buffer_string(&german), buffer_string(&plain));
    }
    if (comma != (locale_t)0)
        freelocale(comma);
    buffer_free(&plain);
    buffer_free(&german);
    CHECK_OK(store_close(store, &fault), &fault);
}

static void options_are_read_strictly(void)
{
    static const struct {
        const char *words[4];
        const char *said; /* NULL: fine */
    } cases[] = {{{"--json", "--notes"}, NULL},
                 {{"--csv", "semicolon"}, NULL},
                 {{"--redact", "deltas-only", "--redact-key", "/tmp/k"}, NULL},
                 {{"--redact", "--json"}, NULL},
                 {{"--csv"}, "--csv takes"},
                 {{"--csv", "tab"}, "'tab'"},
                 {{"--redact-key", "/tmp/k"}, "without --redact"},
                 {{"--redact-key"}, "needs a file"},
                 {{"--redact", "--notes"}, "choose"},
                 {{"deltas-only"}, "'deltas-only'"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char words[5][32] = {"report"};
        char *argv[6] = {words[0], NULL};
        struct report_options options;
        struct fault fault = {0};
        int argc = 1;
        for (size_t k = 0; k < 4 && cases[i].words[k] != NULL; k++) {
            (void)snprintf(words[argc], sizeof words[argc], "%s", cases[i].words[k]);
            argv[argc] = words[argc];
            argc++;
        }
        enum status status = report_options_read(argc, argv, &options, &fault);
        CHECK(status == (cases[i].said == NULL ? OK : BAD_INPUT));
        CHECK_CONTAINS(fault.text, cases[i].said != NULL ? cases[i].said : "");
    }
}

CU_TestInfo table_forms_tests[] = {
    {"formulas are told", formulas_are_told},
    {"CSV reads back", csv_reads_back},
    {"awkward cells are quoted", awkward_cells_are_quoted},
    {"JSON reads back", json_reads_back},
    {"notes leave only when asked for", notes_leave_only_when_asked_for},
    {"a comma locale changes nothing", a_comma_locale_changes_nothing},
    {"options are read strictly", options_are_read_strictly},
    CU_TEST_INFO_NULL};
