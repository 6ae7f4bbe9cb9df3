/* test_drawn_control.c - the control chart of a season: each entry's mean and the limits, as drawn. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/season.h"
#include "tests/check.h"
#include "tests/drawn_night.h"
#include "tests/flow_season.h"
#include "tests/svg_axis.h"

enum { ENTRIES_MAX = 16 };

static const char means_sql[] =
    "SELECT r.entry, '', '', '', avg(o.value), min(r.start_s), 0, 0, 0, 0 FROM observation AS o "
    "JOIN run AS r ON r.run = o.runs WHERE o.configuration = 'base' AND o.quantity = 'CL' AND "
    "o.target = 'weighted' GROUP BY r.entry ORDER BY 6";

/* The place of an entry's name below the axis. */
static double place_of_name(struct svg svg, const char *name)
{
    char wanted[80];

    (void)snprintf(wanted, sizeof wanted, ">%.60s</text>", name);
    for (const char *at = svg_next_class(svg.from, svg.stop, "tick"); at != NULL;
         at = svg_next_class(at, svg.stop, "tick"))
        if (strncmp(strchr(at, '>'), wanted, strlen(wanted)) == 0)
            return svg_attribute(at, "x");
    return (double)NAN;
}

static void check_points(struct svg svg, const struct svg_axis *up, const struct drawn_row *rows,
                         size_t n, double lower, double upper)
{
    struct svg_place line[ENTRIES_MAX];
    const char *path = svg_next_class(svg.from, svg.stop, "range");
    size_t corners = path != NULL ? svg_path_read(path, line, ENTRIES_MAX) : 0, i = 0;

    CHECK(corners == n);
    for (const char *mark = svg_next_class(svg.from, svg.stop, "mark");
         mark != NULL && i < n && i < corners; mark = svg_next_class(mark, svg.stop, "mark"), i++) {
        struct svg_place at = svg_centre(mark);
        const char *ring = svg_next_class(mark, svg_next_class(mark, svg.stop, "mark"), "ring");
        CHECK_NEAR(svg_value(up, at.y), rows[i].number[0], svg_near(up), "the database");
        CHECK_NEAR(at.x, place_of_name(svg, rows[i].text[0]), 0.011, "above its name");
        CHECK_NEAR(line[i].x, at.x, 0.011, "the line joins the entries");
        CHECK_NEAR(line[i].y, at.y, 0.011, "the line joins the entries");
        int is_outside = rows[i].number[0] < lower || rows[i].number[0] > upper;
        CHECK((ring != NULL) == is_outside);
        CHECK((strncmp(mark, "<path", 5) == 0) == is_outside); /* a diamond, else a circle */
    }
    CHECK(i == n);
}

static void check_limit(struct svg svg, const struct svg_axis *up, const char *word, int which,
                        double value, double near)
{
    const char *line = svg_next_class(svg.from, svg.stop, word);

    for (int i = 0; i < which; i++)
        line = svg_next_class(line, svg.stop, word);
    CHECK(line != NULL);
    CHECK_NEAR(svg_value(up, svg_attribute(line, "y1")), value, svg_near(up) + near,
               "NIST/SEMATECH e-Handbook, 6.3.2.2");
}

static void check_chart(int entries, double centre, double moving_range)
{
    struct drawn_row rows[ENTRIES_MAX];
    struct store *store = flow_season(entries);
    struct season season = {.store = store,
                            .facility = "hall",
                            .baseline = "base",
                            .target = "weighted",
                            .metric = {.name = "downforce", .quantity = "CL", .better = ""}};
    struct html page = {0};
    struct fault fault = {0};
    double reach = 3 * moving_range / 1.128;

    CHECK_OK(panel_control(&page, &season, &fault), &fault);
    struct svg svg = svg_find(buffer_string(&page.out), "downforce of the baseline");
    struct svg_axis up = svg_axis_read(svg, SVG_UP, SVG_LINEAR);
    size_t n = drawn_rows(store, means_sql, rows, ENTRIES_MAX);
    CHECK(n == (size_t)entries);
    if (svg.from != NULL) {
        check_points(svg, &up, rows, n, centre - reach, centre + reach);
        check_limit(svg, &up, "centre", 0, centre, 1e-3);
        check_limit(svg, &up, "limit", 0, centre + reach, 1e-3);
        check_limit(svg, &up, "limit", 1, centre - reach, 1e-3);
    }
    html_free(&page);
    CHECK_OK(store_close(store, &fault), &fault);
}

static void points_and_limits_are_the_handbook_s(void)
{
    check_chart(10, 50.81, 1.8778);
}

/* By hand: the mean is (10 x 50.81 + 75) / 11, the moving range (9 x 1.8778 + 22.9) / 10. */
static void an_entry_far_off_is_ringed(void)
{
    check_chart(11, 583.1 / 11, (16.9 + 22.9) / 10);
}

extern CU_TestInfo drawn_control_tests[];
CU_TestInfo drawn_control_tests[] = {
    {"points and limits are the handbook's", points_and_limits_are_the_handbook_s},
    {"an entry far off is ringed", an_entry_far_off_is_ringed},
    CU_TEST_INFO_NULL};
