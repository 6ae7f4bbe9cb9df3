/* test_drawn_strip.c - the night in time: marks and bars stand at the database's times and values. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "tests/check.h"
#include "tests/drawn_night.h"
#include "tests/svg_axis.h"

enum { ROWS = 200 };

/* Seconds of the clock since the midnight before the night, in its own zone of an hour. A mounting of the
 * fixture is one run, and stands at the mean time of that run's points, where it has any. */
#define MEAN "(SELECT avg(p.time_s) FROM point AS p WHERE p.run = %s)"

static const char marks_sql[] =
    "SELECT o.configuration, o.mounting, '', '', coalesce(" MEAN
    ", o.time_s) + 3600 - 86400 * cast((SELECT min(start_s) + 3600 FROM run) / 86400 AS INTEGER), "
    "o.value, "
    "o.configuration = 'C0', 0, 0, 0 FROM observation AS o WHERE o.quantity = 'CL' AND o.target = "
    "'weighted' ORDER BY 5";

static const char runs_sql[] =
    "SELECT r.run, '', '', '', coalesce(" MEAN
    ", r.start_s) + 3600 - 86400 * cast((SELECT min(start_s) + 3600 FROM run) / 86400 AS INTEGER), "
    "r.configuration = 'C0', r.state <> 'ok', r.state = 'ok' AND EXISTS (SELECT 1 FROM flag_row AS "
    "f WHERE f.run = r.run AND f.state <> 'info' AND (f.point = '' OR f.state <> 'flagged') AND "
    "f.subject NOT IN (SELECT tap FROM tap)), 0, 0 FROM run AS r WHERE r.kind = 'wind_on' ORDER BY "
    "5";

static struct svg strip_of(const struct drawn_night *night)
{
    return svg_find(night->text, "downforce over the night");
}

/* "W1, mounting 2 (R109), ..." */
static const struct drawn_row *row_of(const struct drawn_row *rows, size_t n, const char *mark)
{
    char name[64], mounting[64];
    const char *at = strstr(mark, ", mounting ");

    svg_child_text(mark, "title", ",<", name, sizeof name);
    if (at == NULL)
        return NULL;
    at += strlen(", mounting ");
    (void)snprintf(mounting, sizeof mounting, "%.*s", (int)strcspn(at, " "), at);
    return drawn_row_of(rows, n, name, mounting);
}

static void check_marks(const struct drawn_night *night)
{
    static struct drawn_row rows[ROWS];
    struct svg_place line[ROWS];
    char sql[900];
    struct svg svg = strip_of(night);
    struct svg_axis up = svg_axis_read(svg, SVG_UP, SVG_LINEAR);
    struct svg_axis clock = svg_axis_read(svg, SVG_ACROSS, SVG_CLOCK);
    (void)snprintf(sql, sizeof sql, marks_sql, "o.runs");
    size_t n = drawn_rows(night->store, sql, rows, ROWS), seen = 0, returns = 0;
    const char *path = svg_next_class(svg.from, svg.stop, "line");
    size_t corners = path != NULL ? svg_path_read(path, line, ROWS) : 0;
    for (const char *mark = svg_next_class(svg.from, svg.stop, "mark"); mark != NULL;
         mark = svg_next_class(mark, svg.stop, "mark"), seen++) {
        const struct drawn_row *row = row_of(rows, n, mark);
        struct svg_place at = svg_centre(mark);
        CHECK(row != NULL);
        if (row == NULL)
            break;
        CHECK_NEAR(svg_value(&clock, at.x), row->number[0], svg_near(&clock), "the database");
        CHECK_NEAR(svg_value(&up, at.y), row->number[1], svg_near(&up), "the database");
        if (row->number[2] != 0 && returns < corners) {
            CHECK_NEAR(line[returns].x, at.x, 0.011, "the line joins the returns");
            CHECK_NEAR(line[returns].y, at.y, 0.011, "the line joins the returns");
            returns++;
        }
    }
    CHECK(seen == n && returns == corners && returns == 8);
}

/* A bar is tall for the baseline; a quarantined run is a cross; a flagged one has a ring above it. */
static void check_run(const char *group, const struct drawn_row *row, const struct svg_axis *clock)
{
    const char *stop = strstr(group, "</g>");
    const char *bar = svg_next_class(group, stop, "run");
    const char *cross = svg_next_class(group, stop, "crossed");
    const char *ring = svg_next_class(group, stop, "ring");

    CHECK((cross != NULL) == (row->number[2] != 0) && (bar == NULL) == (cross != NULL));
    CHECK((ring != NULL) == (row->number[3] != 0));
    double x = svg_centre(bar != NULL ? bar : cross).x;
    CHECK_NEAR(svg_value(clock, x), row->number[0], svg_near(clock), "the database");
    if (bar != NULL)
        CHECK((svg_attribute(bar, "height") > 25) == (row->number[1] != 0));
    if (ring != NULL && bar != NULL) {
        CHECK_NEAR(svg_centre(ring).x, x, 0.011, "above its bar");
        CHECK(svg_centre(ring).y < svg_attribute(bar, "y"));
    }
}

static void check_bars(const struct drawn_night *night)
{
    static struct drawn_row rows[ROWS];
    char sql[900];
    struct svg svg = strip_of(night);
    struct svg_axis clock = svg_axis_read(svg, SVG_ACROSS, SVG_CLOCK);
    (void)snprintf(sql, sizeof sql, runs_sql, "r.run");
    size_t n = drawn_rows(night->store, sql, rows, ROWS), seen = 0, rings = 0;
    for (const char *at = svg_next(svg.from, svg.stop, "<title>run "); at != NULL;
         at = svg_next(at + 1, svg.stop, "<title>run ")) {
        char name[64];
        const char *group = at;
        while (strncmp(group, "<g ", 3) != 0)
            group--;
        const char *text = at + strlen("<title>run ");
        (void)snprintf(name, sizeof name, "%.*s", (int)strcspn(text, ",<"), text);
        const struct drawn_row *row = drawn_row_of(rows, n, name, NULL);
        CHECK(row != NULL);
        if (row != NULL) {
            check_run(group, row, &clock);
            rings += row->number[3] != 0;
        }
        seen++;
    }
    CHECK(seen == n && rings > 0);
}

static void check_night(void (*check_what)(const struct drawn_night *))
{
    struct drawn_night night;

    if (drawn_night_make(&night, 3, NULL))
        check_what(&night);
    drawn_night_end(&night);
}

static void marks_are_the_mountings(void)
{
    check_night(check_marks);
}

static void bars_are_the_runs(void)
{
    check_night(check_bars);
}

extern CU_TestInfo drawn_strip_tests[];
CU_TestInfo drawn_strip_tests[] = {{"marks are the mountings", marks_are_the_mountings},
                                   {"bars are the runs", bars_are_the_runs},
                                   CU_TEST_INFO_NULL};
