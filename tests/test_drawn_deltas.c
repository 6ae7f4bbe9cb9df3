/* test_drawn_deltas.c - every interval of the delta table is the database's, and every word is what its
 * interval reads, as drawn. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"
#include "tests/drawn_cell.h"
#include "tests/drawn_night.h"
#include "tests/test_report_fixture.h"

enum { COLUMNS = 6, ROWS = 400 };

/* Printed units: counts of coefficients, else as stored. */
static const char deltas_sql[] =
    "WITH unit AS (SELECT CAST(value AS REAL) AS count FROM setting WHERE section = 'season' AND "
    "name = 'count'), at AS (SELECT x.*, CASE WHEN x.quantity IN ('CL', 'CD') THEN 1 / unit.count "
    "ELSE 1 END AS each FROM delta_result AS x JOIN reduction AS d ON d.reduction = x.reduction "
    "AND d.is_current = 1 AND d.subject LIKE 'saltmarsh/February/%' JOIN unit WHERE x.target = "
    "'weighted') "
    "SELECT a.configuration, a.quantity, a.verdict, m.better, each * a.delta, each * a.lower, "
    "each * a.upper, each * m.worthwhile, a.is_main, each * a.half_width FROM at AS a JOIN metric "
    "AS m ON m.quantity = a.quantity ORDER BY a.configuration, m.sequence";

enum { DELTA, LOWER, UPPER, WORTHWHILE, IS_MAIN, HALF_WIDTH };

struct table {
    struct drawn_row rows[ROWS];
    size_t n, seen, told;
    char quantity[COLUMNS][16];
    struct svg_axis axis[COLUMNS];
    size_t n_columns;
};

/* The number behind a mark, within half of its last digit. */
static void check_printed(const char *text, double value)
{
    static const char minus[] = "\xE2\x88\x92";
    const char *digits = strncmp(text, minus, 3) == 0 ? text + 3 : text;
    char *end = NULL;

    (void)strtod(digits, &end);
    const char *dot = memchr(digits, '.', (size_t)(end - digits));
    double decimals = dot != NULL ? (double)(end - dot - 1) : 0;
    CHECK(end > digits);
    CHECK_NEAR(page_number(text), value, 0.501 * pow(10, -decimals), "the database");
}

/* "<td class="value">+23.8</td><td class="width">± 6.1</td>", or both in one cell above its picture. */
static void check_numbers(const char *cell, const char *stop, const struct drawn_row *row)
{
    static const char plus_minus[] = "\xC2\xB1 ";
    const char *end = strchr(cell, '>');
    const char *width = svg_next(cell, stop, plus_minus);

    CHECK(end != NULL && width != NULL);
    if (end == NULL || width == NULL)
        return;
    check_printed(end + 1, row->number[DELTA]);
    check_printed(width + strlen(plus_minus), row->number[HALF_WIDTH]);
}

static void read_head(struct table *table, const char *text)
{
    const char *stop = strstr(text, "</thead>");

    table->n_columns = 0;
    for (const char *head = svg_next_class(text, stop, "group");
         head != NULL && table->n_columns < COLUMNS; head = svg_next_class(head, stop, "group")) {
        const char *delta = svg_next(head, stop, "<b>");
        size_t k = table->n_columns++;
        CHECK(delta != NULL);
        svg_child_text(delta != NULL ? delta + 1 : "", "b", "<", table->quantity[k],
                       sizeof table->quantity[k]);
        table->axis[k] = drawn_head_axis(svg_after(head, stop));
    }
    CHECK(table->n_columns == 4);
}

static void check_word(struct table *table, const struct drawn_cell *cell,
                       const struct svg_axis *axis, const struct drawn_row *row, const char *from,
                       const char *stop)
{
    char wide[40], narrow[40];
    const char *reading = svg_next_class(from, stop, "reading");

    drawn_chip(reading, stop, wide);
    drawn_chip(from, stop, narrow);
    CHECK_TEXT(wide, row->text[2]);
    CHECK_TEXT(narrow, wide);
    if (!drawn_is_told(cell, axis))
        return;
    CHECK_TEXT(wide, drawn_word(cell, row->text[3]));
    drawn_tone(cell, wide);
    table->told++;
}

static void check_cell(struct table *table, size_t k, struct svg svg, const struct drawn_row *row)
{
    const struct svg_axis *axis = &table->axis[k];
    struct drawn_cell cell;

    CHECK(drawn_cell_read(svg, axis, &cell));
    CHECK_NEAR(cell.lower, row->number[LOWER], svg_near(axis), "the database");
    CHECK_NEAR(cell.upper, row->number[UPPER], svg_near(axis), "the database");
    CHECK_NEAR(cell.value, row->number[DELTA], svg_near(axis), "the database");
    CHECK_NEAR(cell.strip, row->number[WORTHWHILE], 2 * svg_near(axis), "the campaign");
    CHECK(svg_is(svg.from, "thin") == (row->number[IS_MAIN] == 0));
    table->seen++;
}

/* Every cell of one row; a baseline has none. */
static void check_row(struct table *table, const char *from, const char *stop)
{
    char name[64];
    const char *head = svg_next_class(from, stop, "name");
    const char *value = from;
    struct svg svg = svg_after(from, stop);
    size_t k = 0;

    if (head == NULL)
        return;
    const char *text = strchr(head, '>') + 1;
    (void)snprintf(name, sizeof name, "%.*s", (int)strcspn(text, " <"), text);
    for (; svg.from != NULL && k < table->n_columns; svg = svg_after(svg.stop, stop), k++) {
        const struct drawn_row *row = drawn_row_of(table->rows, table->n, name, table->quantity[k]);
        struct drawn_cell cell;
        CHECK(row != NULL);
        value = svg_next_class(value, stop, "value");
        if (row == NULL)
            return;
        check_cell(table, k, svg, row);
        check_numbers(value, stop, row);
        if (k == 0 && drawn_cell_read(svg, &table->axis[0], &cell))
            check_word(table, &cell, &table->axis[0], row, from, stop);
    }
    CHECK(svg.from == NULL && (k == table->n_columns || k == 0));
    CHECK((k == 0) == (drawn_row_of(table->rows, table->n, name, NULL) == NULL));
}

/* Both tables where there are two. */
static void check_tables(const struct drawn_night *night)
{
    static struct table table;

    table = (struct table){.seen = 0};
    table.n = drawn_rows(night->store, deltas_sql, table.rows, ROWS);
    for (const char *at = night->text; (at = svg_next_class(at, NULL, "deltas")) != NULL;) {
        const char *stop = strstr(at, "</table>");
        const char *row = svg_next(strstr(at, "<tbody"), stop, "<tr");
        read_head(&table, at);
        for (; row != NULL; row = svg_next(row + 1, stop, "<tr"))
            check_row(&table, row, strstr(row, "</tr>"));
    }
    CHECK(table.seen == table.n);
    CHECK(4 * table.told == table.n);
}

static void check_night(int more, const char *sql)
{
    struct drawn_night night;

    if (drawn_night_make(&night, more, sql))
        check_tables(&night);
    drawn_night_end(&night);
}

static void the_night_s_intervals_are_the_rows(void)
{
    check_night(0, NULL);
}

static void eight_and_many_are_the_rows(void)
{
    check_night(3, NULL);
    check_night(20, NULL);
}

/* Twice as large, and in other places than the page of the latest. */
static void another_entry_is_not_mixed_in(void)
{
    static const struct report_fixture_entry january = {"January", "J", 2000, -2592000.0, 2.0};
    struct drawn_night night;
    struct fault fault = {0};

    if (drawn_night_make(&night, 0, NULL)) {
        html_free(&night.page);
        night.page = (struct html){0};
        CHECK_OK(report_fixture_add_entry(night.store, &january, &fault), &fault);
        CHECK_OK(report_fixture_page(night.store, &night.page, &fault), &fault);
        night.text = buffer_string(&night.page.out);
        check_tables(&night);
    }
    drawn_night_end(&night);
}

/* Two baselines in one table, and intervals far to one side of zero or much wider than the strip. */
static void odd_nights_are_the_rows_too(void)
{
    check_night(0, "UPDATE delta_result SET lower = delta - 20 * half_width, upper = delta + 5 * "
                   "half_width, verdict = CASE is_main WHEN 1 THEN 'can''t tell yet' END");
    check_night(0,
                "UPDATE delta_result SET delta = delta - 0.4, lower = lower - 0.4, upper = upper "
                "- 0.4, verdict = CASE is_main WHEN 1 THEN 'loss' END");
    check_night(0, "UPDATE delta_result SET delta = delta / 20, lower = lower / 20, upper = upper "
                   "/ 20, half_width = half_width / 20, verdict = CASE is_main WHEN 1 THEN 'no "
                   "change that matters' END");
    check_night(0, "UPDATE metric SET better = 'lower' WHERE is_main = 1; UPDATE delta_result SET "
                   "verdict = CASE verdict WHEN 'gain' THEN 'loss' WHEN 'loss' THEN 'gain' ELSE "
                   "verdict END");
}

extern CU_TestInfo drawn_deltas_tests[];
CU_TestInfo drawn_deltas_tests[] = {
    {"the night's intervals are the rows", the_night_s_intervals_are_the_rows},
    {"eight and many are the rows", eight_and_many_are_the_rows},
    {"another entry is not mixed in", another_entry_is_not_mixed_in},
    {"odd nights are the rows too", odd_nights_are_the_rows_too},
    CU_TEST_INFO_NULL};
