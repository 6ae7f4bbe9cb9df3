/* test_drawn_sheets.c - intervals of proof sheets and of a comparison's page, which print no axis: read by
 * zero's line and the grey strip, whose half-width is the campaign's. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/compare_table.h"
#include "report/compare_report.h"
#include "report/proof.h"
#include "tests/check.h"
#include "tests/derive_night.h"
#include "tests/drawn_cell.h"
#include "tests/drawn_night.h"
#include "tests/test_report_fixture.h"

enum { ROWS = 100 };
enum { DELTA, LOWER, UPPER, WORTHWHILE, IS_MAIN, IS_PAIR };

/* Without a strip one end has to be believed, and tells the other and the middle. */
static struct svg_axis axis_by_end(struct svg svg, double upper)
{
    const char *zero = svg_next_class(svg.from, svg.stop, "zero");
    const char *range = svg_next_class(svg.from, svg.stop, "range");

    CHECK(zero != NULL && range != NULL && svg_next_class(svg.from, svg.stop, "strip") == NULL);
    return (struct svg_axis){.place = {svg_attribute(zero, "x1"), svg_attribute(range, "x2")},
                             .value = {0, upper},
                             .n = 2};
}

/* The row's interval on the page, or none where the database has none. */
static void check_interval(struct svg svg, const struct drawn_row *row, struct drawn_cell *cell,
                           struct svg_axis *axis)
{
    int has_strip = isfinite(row->number[WORTHWHILE]);

    *axis = has_strip ? drawn_strip_axis(svg, row->number[WORTHWHILE])
                      : axis_by_end(svg, row->number[UPPER]);
    int is_drawn = drawn_cell_read(svg, axis, cell);

    CHECK(is_drawn == isfinite(row->number[LOWER]));
    if (!is_drawn)
        return;
    /* A place of the two that make the axis may be off as well; an interval reaches over some of their
     * distance. */
    double known = has_strip ? row->number[WORTHWHILE] : fabs(row->number[UPPER]);
    double widths = fmax(fabs(row->number[LOWER]), fabs(row->number[UPPER])) / known;
    double near = 2 * svg_near(axis) * fmax(1, widths);
    CHECK_NEAR(cell->lower, row->number[LOWER], near, "the database");
    CHECK_NEAR(cell->upper, row->number[UPPER], near, "the database");
    CHECK_NEAR(cell->value, row->number[DELTA], near, "the database");
}

/* ---- proof sheets ------------------------------------------------------------------------------ */

static const char part_sql[] =
    "SELECT a.quantity, a.verdict, m.better, '', e * a.delta, e * a.lower, e * a.upper, e * "
    "m.worthwhile, a.is_main, 0 FROM (SELECT *, CASE WHEN quantity IN ('CL', 'CD') THEN 1000 ELSE "
    "1 END AS e FROM delta_result) AS a JOIN metric AS m ON m.quantity = a.quantity WHERE "
    "a.configuration = '%s' AND a.target = 'weighted' ORDER BY m.sequence";

static size_t check_sheet(struct store *store, const char *part, const char *text)
{
    struct drawn_row rows[ROWS];
    char sql[500];
    const char *at = strstr(text, "id=\"result\"");
    const char *stop = at != NULL ? strstr(at, "</section>") : NULL;
    size_t i = 0;

    (void)snprintf(sql, sizeof sql, part_sql, part);
    size_t n = drawn_rows(store, sql, rows, ROWS);
    for (struct svg svg = svg_after(at, stop); svg.from != NULL && i < n;
         svg = svg_after(svg.stop, stop), i++) {
        struct drawn_cell cell;
        struct svg_axis axis;
        char word[40];
        check_interval(svg, &rows[i], &cell, &axis);
        CHECK(svg_is(svg.from, "thin") == (rows[i].number[IS_MAIN] == 0));
        if (rows[i].number[IS_MAIN] == 0)
            continue;
        drawn_chip(svg.stop, strstr(svg.stop, "</tr>"), word);
        CHECK_TEXT(word, rows[i].text[1]);
        CHECK(drawn_is_told(&cell, &axis));
        CHECK_TEXT(word, drawn_word(&cell, rows[i].text[2]));
        drawn_tone(&cell, word);
    }
    CHECK(i == n);
    return i;
}

static void every_proof_sheet_draws_its_part(void)
{
    struct drawn_night night;
    struct findings findings;
    struct fault fault = {0};

    if (drawn_night_make(&night, 3, NULL)) {
        size_t seen = 0;
        CHECK_OK(findings_read(night.store, &findings, &fault), &fault);
        for (size_t i = 0; i < findings.n_configurations; i++) {
            const struct finding_configuration *part = &findings.configurations[i];
            struct proof proof = {night.store, &findings, part, NULL};
            struct html page = {0};
            if (part->is_baseline)
                continue;
            CHECK_OK(page_proof(&page, &proof, &fault), &fault);
            seen += check_sheet(night.store, part->name, buffer_string(&page.out));
            html_free(&page);
        }
        CHECK(seen == (size_t)8 * 4);
        findings_end(&findings);
    }
    drawn_night_end(&night);
}

/* ---- a comparison's page ------------------------------------------------------------------------- */

/* Of what was asked, and what the season itself holds; a difference of two parts is nowhere else. */
static const char asked_sql[] =
    "SELECT a.configuration, a.quantity, a.verdict, m.better, e * a.delta, e * a.lower, e * "
    "a.upper, e * m.worthwhile, a.is_main, a.is_pair FROM (SELECT 0 AS is_pair, configuration, "
    "quantity, target, verdict, delta, lower, upper, is_main FROM delta_result WHERE configuration "
    "IN ('wing', 'floor') UNION ALL SELECT 1, configuration, quantity, target, verdict, delta, "
    "lower, upper, is_main FROM asked_delta WHERE is_pair = 1) AS a JOIN (SELECT column1 AS "
    "symbol, column2 AS e FROM (VALUES ('CL', 1000), ('CD', 1000), ('balance', 1), ('CLF', 1000), "
    "('CLR', 1000))) AS s ON "
    "s.symbol = a.quantity LEFT JOIN metric AS m ON m.quantity = a.quantity WHERE a.target = 'low'";

static void open_night(struct derive_night *night)
{
    derive_night_open(night);
    for (int i = 0; i < 6; i++) {
        double noise = 1e-3 * ((i * 5) % 7 - 3);
        derive_night_add(night, "base", 0.9 + 0.1 * noise, 3 + noise, 1.2 + 0.3 * noise);
        if (i % 2 == 0)
            derive_night_add(night, "wing", 0.91 - 0.2 * noise, 3.04 - 0.5 * noise, 1.246);
        else
            derive_night_add(night, "floor", 0.904 - 0.2 * noise, 3.004 - 0.5 * noise, 1.208);
    }
    derive_night_add(night, "base", 0.9, 3.0005, 1.2);
    fixture_execute(&night->fixture,
                    "INSERT INTO metric VALUES ('downforce', 0, 'CL', 'higher', NULL, 0.01, 1), "
                    "('drag', 1, 'CD', 'lower', NULL, 0.003, 0), ('balance', 2, 'balance', "
                    "'toward', 45, 0.3, 0);"
                    "INSERT INTO setting VALUES ('season', 'count', '0.001', '1'), ('limits', "
                    "'confidence', '0.95', '1')");
    derive_night_reduce(night);
}

/* The database's row of a row of the page; NULL for another attitude or a quantity of no interest. */
static const struct drawn_row *asked_row(const struct drawn_row *rows, size_t n, const char *from,
                                         const char *stop)
{
    static const char mark[] = ">\xCE\x94";
    char name[64], quantity[64];
    int is_pair = svg_next(from, stop, ">minus ") != NULL;
    const char *head = svg_next_class(from, stop, "name");
    const char *delta = svg_next(from, stop, mark);

    if (head == NULL || delta == NULL || svg_next(from, stop, ">low</td>") == NULL)
        return NULL;
    head = strchr(head, '>') + 1;
    delta += strlen(mark);
    (void)snprintf(name, sizeof name, "%.*s", (int)strcspn(head, " <"), head);
    (void)snprintf(quantity, sizeof quantity, "%.*s", (int)strcspn(delta, ",<"), delta);
    for (size_t i = 0; i < n; i++)
        if (strcmp(rows[i].text[0], name) == 0 && strcmp(rows[i].text[1], quantity) == 0 &&
            (rows[i].number[IS_PAIR] != 0) == is_pair)
            return &rows[i];
    return NULL;
}

/* All intervals of one quantity are on one scale, as the note says. */
static void check_scale(const char *quantity, const struct svg_axis *axis)
{
    static char names[8][16];
    static double size[8];
    double each = svg_place_of(axis, 1) - svg_place_of(axis, 0);
    int k = 0;

    while (k < 7 && names[k][0] != '\0' && strcmp(names[k], quantity) != 0)
        k++;
    if (names[k][0] == '\0')
        size[k] = each;
    (void)snprintf(names[k], sizeof names[k], "%.15s", quantity);
    CHECK_RELATIVE(each, size[k], 0.01, "one scale");
}

static void a_comparison_draws_its_deltas(void)
{
    static struct drawn_row rows[ROWS];
    struct derive_night night;
    struct html page = {0};
    struct fault fault = {0};
    size_t seen = 0, judged = 0;

    open_night(&night);
    struct compare_request request = {
        .first = "wing", .second = "floor", .campaign = &night.fixture.campaign};
    CHECK_OK(compare_ask(night.fixture.store, &request, &fault), &fault);
    CHECK_OK(page_compare(&page, night.fixture.store, &fault), &fault);
    size_t n = drawn_rows(night.fixture.store, asked_sql, rows, ROWS);
    const char *table = svg_next_class(buffer_string(&page.out), NULL, "deltas");
    const char *stop = table != NULL ? strstr(table, "</table>") : NULL;
    for (const char *tr = svg_next(table, stop, "<tr"); tr != NULL;
         tr = svg_next(tr + 1, stop, "<tr")) {
        const char *end = strstr(tr, "</tr>");
        const struct drawn_row *row = asked_row(rows, n, tr, end);
        struct drawn_cell cell;
        struct svg_axis axis;
        char word[40];
        if (row == NULL)
            continue;
        check_interval(svg_after(tr, end), row, &cell, &axis);
        drawn_chip(svg_next_class(tr, end, "reading"), end, word);
        if (row->number[IS_MAIN] != 0) {
            CHECK(drawn_is_told(&cell, &axis));
            CHECK_TEXT(word, drawn_word(&cell, row->text[3]));
            drawn_tone(&cell, word);
            judged++;
        } else {
            CHECK_TEXT(word, "exploratory");
        }
        check_scale(row->text[1], &axis);
        seen++;
    }
    CHECK(seen == n && n == 15 && judged == 2);
    html_free(&page);
    derive_night_close(&night);
}

extern CU_TestInfo drawn_sheets_tests[];
CU_TestInfo drawn_sheets_tests[] = {
    {"every proof sheet draws its part", every_proof_sheet_draws_its_part},
    {"a comparison draws its deltas", a_comparison_draws_its_deltas},
    CU_TEST_INFO_NULL};
