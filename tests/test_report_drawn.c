/* test_report_drawn.c - the page's drawings, read back through the ticks that they print, give the
 * database's numbers; and every word of a verdict is what its drawn interval reads.
 *
 * Places are written to a hundredth of a page unit, so a value is told to that share of its axis. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/statistics/verdict.h"
#include "report/html.h"
#include "report/query.h"
#include "tests/check.h"
#include "tests/svg_read.h"
#include "tests/test_report_fixture.h"

static const double written = 0.006; /* page units: half of a hundredth, and rounding */

/* A fixture with a change made by SQL, and the page of it. */
struct made {
    struct store *store;
    struct html page;
    struct fault fault;
    const char *text;
};

static int make(struct made *made, const char *sql)
{
    *made = (struct made){0};
    enum status status = report_fixture_open(":memory:", NULL, &made->store, &made->fault);
    if (status == OK && sql != NULL)
        status = store_execute(made->store, sql, &made->fault);
    if (status == OK)
        status = report_fixture_page(made->store, &made->page, &made->fault);
    CHECK_OK(status, &made->fault);
    made->text = buffer_string(&made->page.out);
    return status == OK;
}

static void end(struct made *made)
{
    html_free(&made->page);
    CHECK_OK(store_close(made->store, &made->fault), &made->fault);
}

struct delta {
    char configuration[32], target[32], quantity[16], verdict[40];
    double value, lower, upper;
};
enum { DELTAS_MAX = 600 };
struct deltas {
    struct delta items[DELTAS_MAX];
    size_t n;
};

static enum status take_delta(struct statement *row, void *context, struct fault *fault)
{
    struct deltas *deltas = context;

    (void)fault;
    if (deltas->n == DELTAS_MAX)
        return OK;
    struct delta *at = &deltas->items[deltas->n++];
    (void)snprintf(at->configuration, sizeof at->configuration, "%s", statement_text(row, 0));
    (void)snprintf(at->target, sizeof at->target, "%s", statement_text(row, 1));
    (void)snprintf(at->quantity, sizeof at->quantity, "%s", statement_text(row, 2));
    (void)snprintf(at->verdict, sizeof at->verdict, "%s",
                   statement_is_null(row, 6) ? "" : statement_text(row, 6));
    at->value = statement_real(row, 3);
    at->lower = statement_real(row, 4);
    at->upper = statement_real(row, 5);
    return OK;
}

static const struct deltas *read_deltas(struct made *made, const char *where)
{
    static struct deltas deltas;
    char sql[400];

    deltas.n = 0;
    (void)snprintf(
        sql, sizeof sql,
        "SELECT configuration, target, quantity, delta, lower, upper, verdict FROM delta "
        "WHERE %s ORDER BY configuration, quantity, target",
        where);
    CHECK_OK(query_each(made->store, sql, NULL, take_delta, &deltas, &made->fault), &made->fault);
    return &deltas;
}

/* ---- the delta table ----------------------------------------------------------------------------- */

/* Column by column the axis in its head: three marks at -reach, 0 and +reach. */
static struct svg_axis cell_axis(const char *text, int column)
{
    const char *at = strstr(text, "<table class=\"deltas");
    struct svg_axis axis = {{NAN, NAN}, {NAN, NAN}, 0};

    for (int i = 0; i <= column; i++)
        at = svg_next(at + 1, NULL, "scale of the intervals below");
    const char *stop = strstr(at, "</svg>");
    const char *left = svg_next(at, stop, "<line class=\"axis\"");
    const char *middle = svg_next(left + 1, stop, "<line class=\"axis\"");
    const char *right = svg_next(middle + 1, stop, "<line class=\"axis\"");
    const char *label = strstr(at, " to ");
    CHECK(right != NULL && label != NULL && label < stop);
    if (right == NULL || label == NULL)
        return axis;
    double reach = page_number(label + 4);
    CHECK(reach > 0);
    CHECK_NEAR(svg_attribute(middle, "x1"),
               (svg_attribute(left, "x1") + svg_attribute(right, "x1")) / 2, 0.011, "identity");
    return (struct svg_axis){
        {svg_attribute(left, "x1"), svg_attribute(right, "x1")}, {-reach, reach}, 2};
}

static const char *row_of(const char *text, const char *configuration)
{
    char head[120];

    (void)snprintf(head, sizeof head, "<th class=\"name\" scope=\"row\">%s ", configuration);
    const char *at = strstr(text, head);
    CHECK(at != NULL);
    return at;
}

static void check_cell(const char *row, int column, const struct svg_axis *axis,
                       const struct delta *delta, double factor)
{
    const char *stop = strstr(row, "</tr>");
    const char *at = row;

    for (int i = 0; i <= column && at != NULL; i++)
        at = svg_next(at + 1, stop, "<svg class=\"cell");
    const char *range = svg_next(at, stop, "<line class=\"range\"");
    const char *mark = svg_next(at, stop, "<circle class=\"mark");
    CHECK(range != NULL && mark != NULL);
    if (range == NULL || mark == NULL)
        return;
    double near =
        written * fabs((axis->value[1] - axis->value[0]) / (axis->place[1] - axis->place[0]));
    CHECK_NEAR(svg_value(axis, svg_attribute(range, "x1")), factor * delta->lower, near,
               "the database");
    CHECK_NEAR(svg_value(axis, svg_attribute(range, "x2")), factor * delta->upper, near,
               "the database");
    CHECK_NEAR(svg_value(axis, svg_attribute(mark, "cx")), factor * delta->value, near,
               "the database");
}

static const struct {
    const char *quantity;
    double factor;
} columns[] = {{"CL", 1000}, {"CD", 1000}, {"balance", 1}, {"L/D", 1}};

static void the_table_s_intervals_are_the_rows(void)
{
    struct made made;

    if (make(&made, NULL)) {
        const struct deltas *deltas = read_deltas(&made, "target = 'weighted'");
        CHECK(deltas->n == 20);
        for (size_t i = 0; i < deltas->n; i++)
            for (int c = 0; c < 4; c++) {
                struct svg_axis axis = cell_axis(made.text, c);
                const char *row = row_of(made.text, deltas->items[i].configuration);
                if (strcmp(columns[c].quantity, deltas->items[i].quantity) == 0 && row != NULL)
                    check_cell(row, c, &axis, &deltas->items[i], columns[c].factor);
            }
    }
    end(&made);
}

/* The word beside each interval is verdict_read() of what is drawn, wherever it lies. */
static void check_words(double shift, double width)
{
    struct made made;
    char sql[400];

    (void)snprintf(sql, sizeof sql,
                   "UPDATE delta_result SET delta = %g, half_width = %g, lower = %g, upper = %g, "
                   "verdict = '%s' WHERE is_main = 1 AND configuration = 'W3'",
                   shift, width, shift - width, shift + width, "%s");
    struct verdict_reading wanted =
        verdict_read(shift - width, shift + width, 0.010, DIRECTION_HIGHER, NAN, NAN);
    char with_word[500], quoted[60];
    (void)snprintf(quoted, sizeof quoted, "%s",
                   wanted.verdict == VERDICT_CANNOT_TELL ? "can''t tell yet"
                                                         : verdict_words(wanted.verdict));
    char *hole = strstr(sql, "%s");
    (void)snprintf(with_word, sizeof with_word, "%.*s%s%s", (int)(hole - sql), sql, quoted,
                   hole + 2);
    if (make(&made, with_word)) {
        struct svg_axis axis = cell_axis(made.text, 0);
        const char *row = row_of(made.text, "W3");
        const char *range = svg_next(row, strstr(row, "</tr>"), "<line class=\"range\"");
        double lower = svg_value(&axis, svg_attribute(range, "x1")) / 1000;
        double upper = svg_value(&axis, svg_attribute(range, "x2")) / 1000;
        struct verdict_reading drawn =
            verdict_read(lower, upper, 0.010, DIRECTION_HIGHER, NAN, NAN);
        CHECK(drawn.verdict == wanted.verdict);
        static char cell[20000];
        const char *stop = strstr(row, "</tr>");
        (void)snprintf(cell, sizeof cell, "%.*s", (int)(stop - row), row);
        CHECK_CONTAINS(cell, drawn.verdict == VERDICT_CANNOT_TELL ? "can&#39;t tell yet"
                                                                  : verdict_words(drawn.verdict));
    }
    end(&made);
}

static void every_word_is_what_its_interval_reads(void)
{
    static const double cases[][2] = {{0.0200, 0.0050}, {-0.0200, 0.0050}, {0.0010, 0.0040},
                                      {0.0040, 0.0030}, {0.0080, 0.0090},  {-0.0120, 0.0130},
                                      {0.0120, 0.0110}, {0.0500, 0.0010}};

    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        check_words(cases[i][0], cases[i][1]);
}

/* The fixture's own words, row by row, against the same rule. */
static void the_fixture_s_words_agree(void)
{
    struct made made;

    if (make(&made, NULL)) {
        const struct deltas *deltas = read_deltas(&made, "is_main = 1");
        struct svg_axis axis = cell_axis(made.text, 0);
        CHECK(deltas->n == 5);
        for (size_t i = 0; i < deltas->n; i++) {
            const char *row = row_of(made.text, deltas->items[i].configuration);
            const char *range = svg_next(row, strstr(row, "</tr>"), "<line class=\"range\"");
            struct verdict_reading drawn =
                verdict_read(svg_value(&axis, svg_attribute(range, "x1")) / 1000,
                             svg_value(&axis, svg_attribute(range, "x2")) / 1000, 0.010,
                             DIRECTION_HIGHER, NAN, NAN);
            CHECK_TEXT(deltas->items[i].verdict, verdict_words(drawn.verdict));
        }
    }
    end(&made);
}

/* ---- sweeps and costs ---------------------------------------------------------------------------- */

/* The fixture's sweep: six front heights at the rear height of the title. Each interval of the lower row
 * is a line; those of W2, the first of the table, are the first six. */
static void the_sweep_s_changes_are_the_rows(void)
{
    static const int fronts[] = {8, 10, 12, 15, 18, 22};
    struct made made;

    if (make(&made, NULL)) {
        const struct deltas *deltas =
            read_deltas(&made, "configuration = 'W2' AND quantity = 'CL' AND target <> 'weighted'");
        const char *at = strstr(made.text, "aria-label=\"change from the baseline of CL");
        const char *title =
            strstr(made.text, "<h2>Sweep of front ride height at rear ride height ");
        CHECK(at != NULL && title != NULL && deltas->n == 24);
        int rear = title != NULL ? (int)page_number(strstr(title, "at rear") + 20) : 0;
        const char *stop = at != NULL ? strstr(at, "</svg>") : NULL;
        struct svg_axis up = svg_axis_read(at, stop, 1);
        struct svg_axis across = svg_axis_read(at, stop, 0);
        CHECK(up.ticks > 2 && across.ticks > 2);
        const char *group = svg_next(at, stop, "<g class=\"s1\"");
        const char *range = group;
        for (size_t t = 0; t < 6 && range != NULL; t++) {
            char target[24];
            (void)snprintf(target, sizeof target, "F%d R%d", fronts[t], rear);
            range = svg_next(range + 1, stop, "<line class=\"range\"");
            for (size_t i = 0; range != NULL && i < deltas->n; i++) {
                if (strcmp(deltas->items[i].target, target) != 0)
                    continue;
                double near =
                    written * fabs((up.value[1] - up.value[0]) / (up.place[1] - up.place[0]));
                CHECK_NEAR(svg_value(&up, svg_attribute(range, "y1")),
                           1000 * deltas->items[i].lower, near, "the database");
                CHECK_NEAR(svg_value(&up, svg_attribute(range, "y2")),
                           1000 * deltas->items[i].upper, near, "the database");
            }
        }
        CHECK(range != NULL);
    }
    end(&made);
}

static void the_costs_are_the_rows(void)
{
    struct made made;

    if (make(&made, NULL)) {
        const struct deltas *deltas = read_deltas(&made, "target = 'weighted' AND quantity IN "
                                                         "('CL', 'CD') AND configuration = 'W5'");
        const char *at =
            strstr(made.text, "aria-label=\"change of downforce against change of drag");
        CHECK(at != NULL && deltas->n == 2);
        const char *stop = at != NULL ? strstr(at, "</svg>") : NULL;
        struct svg_axis up = svg_axis_read(at, stop, 1), across = svg_axis_read(at, stop, 0);
        const char *title = svg_next(at, stop, "<title>W5: ");
        CHECK(title != NULL);
        const char *group = at; /* the last group that opens before the mark's title */
        for (const char *next = at; next != NULL && title != NULL && next < title;
             next = svg_next(next + 1, title, "<g class=\"s"))
            group = next;
        const char *arm = svg_next(group, stop, "<line class=\"range\"");
        const char *tall = arm != NULL ? svg_next(arm + 1, stop, "<line class=\"range\"") : NULL;
        CHECK(tall != NULL);
        if (tall != NULL) {
            const struct delta *cd = &deltas->items[0], *cl = &deltas->items[1];
            double near = 0.01 * 60 / 500;
            CHECK_NEAR(svg_value(&across, svg_attribute(arm, "x1")), 1000 * cd->lower, near,
                       "the database");
            CHECK_NEAR(svg_value(&across, svg_attribute(arm, "x2")), 1000 * cd->upper, near,
                       "the database");
            CHECK_NEAR(svg_value(&up, svg_attribute(arm, "y1")), 1000 * cl->value, near,
                       "the database");
            CHECK_NEAR(svg_value(&up, svg_attribute(tall, "y1")), 1000 * cl->lower, near,
                       "the database");
            CHECK_NEAR(svg_value(&up, svg_attribute(tall, "y2")), 1000 * cl->upper, near,
                       "the database");
            CHECK_NEAR(svg_value(&across, svg_attribute(tall, "x1")), 1000 * cd->value, near,
                       "the database");
        }
    }
    end(&made);
}

CU_TestInfo report_drawn_tests[] = {
    {"the table's intervals are the rows", the_table_s_intervals_are_the_rows},
    {"every word is what its interval reads", every_word_is_what_its_interval_reads},
    {"the fixture's words agree", the_fixture_s_words_agree},
    {"the sweep's changes are the rows", the_sweep_s_changes_are_the_rows},
    {"the costs are the rows", the_costs_are_the_rows},
    CU_TEST_INFO_NULL};
