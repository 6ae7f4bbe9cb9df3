/* test_drawn_reversed.c - an axis that runs backwards puts its numbers, lines and marks rightly: pressures
 * along the car, suction up, against the database; and a chart with everything that a chart may have. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/chart_line.h"
#include "tests/check.h"
#include "tests/drawn_night.h"
#include "tests/svg_axis.h"

enum { ROWS = 300, POINTS = 64 };

/* All grid lines lie within what the axis line and the top of the drawing leave, and one at every tick. */
static void check_grid(struct svg svg, const struct svg_axis *up)
{
    const char *axis = svg_next_class(svg.from, svg.stop, "axis");
    double base = axis != NULL ? svg_attribute(axis, "y1") : (double)NAN;
    int lines = 0;

    for (const char *at = svg_next_class(svg.from, svg.stop, "grid"); at != NULL;
         at = svg_next_class(at, svg.stop, "grid"), lines++) {
        CHECK(svg_attribute(at, "y1") > 10 && svg_attribute(at, "y1") <= base + 0.011);
        CHECK_NEAR(svg_attribute(at, "x1"), svg_attribute(axis, "x1"), 0, "as wide as the plot");
        CHECK_NEAR(svg_attribute(at, "x2"), svg_attribute(axis, "x2"), 0, "as wide as the plot");
    }
    CHECK(lines == up->n && lines >= 3);
}

/* Down the page, values grow. */
static void check_reversed(const struct svg_axis *up)
{
    CHECK((up->value[up->n - 1] - up->value[0]) * (up->place[up->n - 1] - up->place[0]) > 0);
}

/* ---- pressures along the car --------------------------------------------------------------------- */

static const char taps_sql[] =
    "SELECT t.tap, m.configuration, '', '', t.x_m, m.cp, t.y_m, 0, 0, 0 FROM map_tap AS m JOIN tap "
    "AS t ON t.tap = m.tap WHERE m.configuration IN ('C0', 'W2') AND m.target = 'F10 R36' AND "
    "t.y_m BETWEEN %.6f AND %.6f ORDER BY m.configuration, t.x_m";

/* The most taps that any line of 30 mm has. */
static const char most_sql[] =
    "SELECT max((SELECT count(*) FROM tap AS b JOIN map_tap AS m ON m.tap = b.tap AND "
    "m.configuration = 'C0' WHERE m.cp IS NOT NULL AND b.y_m BETWEEN a.y_m AND a.y_m + 0.03)) FROM "
    "tap AS a";

static void check_line(struct svg svg, const struct drawn_row *rows, size_t n)
{
    struct svg_axis up = svg_axis_read(svg, SVG_UP, SVG_LINEAR);
    struct svg_axis across = svg_axis_read(svg, SVG_ACROSS, SVG_LINEAR);
    size_t i = 0;

    check_reversed(&up);
    check_grid(svg, &up);
    for (const char *mark = svg_next_class(svg.from, svg.stop, "mark"); mark != NULL;
         mark = svg_next_class(mark, svg.stop, "mark"), i++) {
        char name[64];
        while (i < n && isnan(rows[i].number[1])) /* dead: a gap */
            i++;
        CHECK(i < n);
        if (i >= n)
            return;
        struct svg_place at = svg_centre(mark);
        svg_child_text(mark, "title", " <", name, sizeof name);
        CHECK_TEXT(name, rows[i].text[1]);
        /* Two series stand a unit and a half to each side of their place. */
        double beside = strcmp(name, "C0") == 0 ? -1.5 : 1.5;
        CHECK_NEAR(svg_value(&across, at.x - beside), rows[i].number[0], svg_near(&across),
                   "the database");
        CHECK_NEAR(svg_value(&up, at.y), rows[i].number[1], svg_near(&up), "the database");
    }
    while (i < n && isnan(rows[i].number[1]))
        i++;
    CHECK(i == n);
}

static void check_drawn(const struct drawn_night *night, const char *low)
{
    static struct drawn_row rows[ROWS];
    const char *high = strstr(low, " to ");
    const double rounding = 0.0005;
    size_t live = 0;
    char sql[500];

    (void)snprintf(sql, sizeof sql, taps_sql, page_number(low) - rounding,
                   page_number(high + strlen(" to ")) + rounding);
    size_t n = drawn_rows(night->store, sql, rows, ROWS);
    check_line(svg_find(night->text, "Cp over x along the floor"), rows, n);
    for (size_t i = 0; i < n; i++)
        live += strcmp(rows[i].text[1], "C0") == 0 && isfinite(rows[i].number[1]);
    CHECK_NEAR((double)live, drawn_number(night->store, most_sql), 0, "the longest line");
}

static void check_taps(const char *sql)
{
    static const char head[] = "<h3>Along the car, y ";
    struct drawn_night night;

    if (drawn_night_make(&night, 0, sql)) {
        const char *at = strstr(night.text, head);
        CHECK(at != NULL);
        if (at != NULL)
            check_drawn(&night, at + strlen(head));
    }
    drawn_night_end(&night);
}

static void pressures_along_the_car_are_the_rows(void)
{
    check_taps(NULL);
    /* With few taps elsewhere the line is the one with the dead tap in it. */
    check_taps(
        "DELETE FROM map_triangle WHERE tap_a NOT IN (SELECT tap FROM tap WHERE y_m BETWEEN "
        "-0.2 AND 0.2) OR tap_b NOT IN (SELECT tap FROM tap WHERE y_m BETWEEN -0.2 AND 0.2) "
        "OR tap_c NOT IN (SELECT tap FROM tap WHERE y_m BETWEEN -0.2 AND 0.2);"
        "DELETE FROM map_tap WHERE tap IN (SELECT tap FROM tap WHERE y_m > 0.03 OR (y_m < "
        "-0.1 AND sequence % 2)); DELETE FROM tap WHERE tap NOT IN (SELECT tap FROM map_tap)");
}

/* The dead tap's neighbours are not joined over it. */
static void a_dead_tap_is_a_gap(void)
{
    struct drawn_night night;

    if (drawn_night_make(&night, 0,
                         "UPDATE map_tap SET cp = NULL WHERE tap IN (SELECT tap FROM tap WHERE x_m "
                         "BETWEEN -0.05 AND 0.05)")) {
        struct svg svg = svg_find(night.text, "Cp over x along the floor");
        const char *path = svg_next_class(svg.from, svg.stop, "line");
        int pieces = 0;
        CHECK(path != NULL);
        for (const char *at = path; at != NULL && at < strchr(path, '>'); at++)
            pieces += *at == 'M';
        CHECK(pieces == 2);
    }
    drawn_night_end(&night);
}

/* Each on a line of its own: nothing says which way the flow would be read. */
static void few_taps_are_no_line(void)
{
    struct drawn_night night;

    if (drawn_night_make(&night, 0, "UPDATE tap SET y_m = 0.04 * sequence")) {
        CHECK_NEAR(drawn_number(night.store, most_sql), 1, 0, "by hand");
        CHECK(svg_find(night.text, "map of Cp on the floor").from != NULL);
        CHECK(svg_find(night.text, "Cp over x along").from == NULL);
    }
    drawn_night_end(&night);
}

/* ---- a chart by itself ----------------------------------------------------------------------------- */

static void strip_intervals_and_zero_turn_over_too(void)
{
    static const struct line_point points[] = {
        {1, -2.25, -2.75, -1.5}, {2, 0.5, 0.25, 1.25}, {3, -1, -1.125, -0.5}};
    const struct line_series series = {"W1", {"s1", MARKER_TRIANGLE}, points, 3};
    const struct line_chart chart = {"turned", "x, mm", "y", 410, 236, &series, 1,
                                     1,        0.75,    2,   1,   1,   1};
    struct html page = {0};
    size_t i = 0;

    chart_line(&page, &chart);
    struct svg svg = svg_find(buffer_string(&page.out), "turned");
    struct svg_axis up = svg_axis_read(svg, SVG_UP, SVG_LINEAR);
    const char *strip = svg_next_class(svg.from, svg.stop, "strip");
    const char *range = svg_next_class(svg.from, svg.stop, "range");
    check_reversed(&up);
    check_grid(svg, &up);
    CHECK(strip != NULL);
    if (strip != NULL) {
        double top = svg_attribute(strip, "y");
        CHECK_NEAR(svg_value(&up, top), -0.75, svg_near(&up), "by hand");
        CHECK_NEAR(svg_value(&up, top + svg_attribute(strip, "height")), 0.75, 2 * svg_near(&up),
                   "by hand");
    }
    for (const char *mark = svg_next_class(svg.from, svg.stop, "mark"); mark != NULL && i < 3;
         mark = svg_next_class(mark, svg.stop, "mark"), i++) {
        CHECK_NEAR(svg_value(&up, svg_centre(mark).y), points[i].y, svg_near(&up), "by hand");
        CHECK_NEAR(svg_value(&up, svg_attribute(range, "y1")), points[i].lower, svg_near(&up),
                   "by hand");
        CHECK_NEAR(svg_value(&up, svg_attribute(range, "y2")), points[i].upper, svg_near(&up),
                   "by hand");
        range = svg_next_class(range, svg.stop, "range");
    }
    CHECK(i == 3);
    html_free(&page);
}

extern CU_TestInfo drawn_reversed_tests[];
CU_TestInfo drawn_reversed_tests[] = {
    {"pressures along the car are the rows", pressures_along_the_car_are_the_rows},
    {"a dead tap is a gap", a_dead_tap_is_a_gap},
    {"few taps are no line", few_taps_are_no_line},
    {"strip, intervals and zero turn over too", strip_intervals_and_zero_turn_over_too},
    CU_TEST_INFO_NULL};
