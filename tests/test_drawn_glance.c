/* test_drawn_glance.c - one run at a glance: points, halves and earlier runs stand where their values are,
 * and each cell of the record in its own row and column. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/chart_record.h"
#include "report/page_glance.h"
#include "tests/check.h"
#include "tests/glance_made.h"
#include "tests/svg_axis.h"

/* The place of a label below the axis. */
static double label_place(struct svg svg, const char *label)
{
    char wanted[80];

    (void)snprintf(wanted, sizeof wanted, ">%s</text>", label);
    for (const char *at = svg_next_class(svg.from, svg.stop, "tick"); at != NULL;
         at = svg_next_class(at, svg.stop, "tick")) {
        char anchor[16];
        svg_attribute_text(at, "text-anchor", anchor, sizeof anchor);
        if (strcmp(anchor, "middle") == 0 && strncmp(strchr(at, '>'), wanted, strlen(wanted)) == 0)
            return svg_attribute(at, "x");
    }
    return (double)NAN;
}

static void check_upper(struct svg plot, struct svg whole, const struct glance *glance)
{
    struct svg_axis up = svg_axis_read(plot, SVG_UP, SVG_LINEAR);
    const char *mark = svg_next_class(plot.from, plot.stop, "mark");

    for (size_t i = 0; i < glance->n_points; i++) {
        const struct glance_point *point = &glance->points[i];
        CHECK(mark != NULL);
        if (mark == NULL)
            return;
        CHECK_NEAR(svg_value(&up, svg_centre(mark).y), point->values[0].value, svg_near(&up),
                   "the run's own");
        CHECK_NEAR(svg_centre(mark).x, label_place(whole, point->label), 0.011, "above its label");
        mark = svg_next_class(mark, plot.stop, "mark");
    }
    CHECK(mark == NULL);
}

/* What is drawn of one point below: earlier runs, halves, interval, mark, in counts from the earlier mean. */
static const char *check_point(struct svg plot, const char *from, const struct svg_axis *up,
                               const struct glance_point *point)
{
    const double count = 0.001, room = 1; /* the bar is a page unit longer at both ends */
    double centre = point->earlier.mean, near = svg_near(up);
    double value = point->values[0].value, reach = 2 * point->values[0].uncertainty;
    const char *bar = svg_next_class(from, plot.stop, "earlier");
    const char *join = svg_next_class(bar, plot.stop, "range");
    const char *first = svg_next_class(join, plot.stop, "mark");
    const char *second = svg_next_class(first, plot.stop, "mark");
    const char *range = svg_next_class(second, plot.stop, "range");
    const char *mark = svg_next_class(range, plot.stop, "mark");

    CHECK(mark != NULL);
    if (mark == NULL)
        return NULL;
    double top = svg_attribute(bar, "y");
    CHECK_NEAR(svg_value(up, top + room), (point->earlier.high - centre) / count, near, "earlier");
    CHECK_NEAR(svg_value(up, top + svg_attribute(bar, "height") - room),
               (point->earlier.low - centre) / count, 2 * near, "earlier");
    CHECK_NEAR(svg_value(up, svg_centre(first).y), (point->half[0] - centre) / count, near,
               "first half");
    CHECK_NEAR(svg_value(up, svg_centre(second).y), (point->half[1] - centre) / count, near,
               "second half");
    CHECK_NEAR(svg_attribute(join, "y1"), svg_centre(first).y, 0.02, "from half to half");
    CHECK_NEAR(svg_attribute(join, "y2"), svg_centre(second).y, 0.02, "from half to half");
    CHECK_NEAR(svg_value(up, svg_attribute(range, "y1")), (value - reach - centre) / count, near,
               "two standard uncertainties");
    CHECK_NEAR(svg_value(up, svg_attribute(range, "y2")), (value + reach - centre) / count, near,
               "two standard uncertainties");
    CHECK_NEAR(svg_value(up, svg_centre(mark).y), (value - centre) / count, near, "the point");
    CHECK(svg_centre(first).x < svg_centre(mark).x && svg_centre(second).x > svg_centre(mark).x);
    return mark;
}

static void points_are_the_run_s(void)
{
    struct glance glance;
    struct html page = {0};
    struct fault fault = {0};

    glance_made(&glance);
    CHECK_OK(page_glance(&page, &glance, &fault), &fault);
    struct svg svg = svg_find(buffer_string(&page.out), "CL of 8 points");
    const char *strip = svg_next_class(svg.from, svg.stop, "strip");
    CHECK(strip != NULL);
    if (strip != NULL) {
        struct svg lower = {strip, svg.stop};
        struct svg_axis up = svg_axis_read(lower, SVG_UP, SVG_LINEAR);
        double top = svg_attribute(strip, "y"), bottom = top + svg_attribute(strip, "height");
        const char *at = strip;
        check_upper((struct svg){svg.from, strip}, svg, &glance);
        CHECK_NEAR(svg_value(&up, top), 10, svg_near(&up), "the campaign: 0.010");
        CHECK_NEAR(svg_value(&up, bottom), -10, 2 * svg_near(&up), "the campaign: 0.010");
        for (size_t i = 0; i < glance.n_points && at != NULL; i++)
            at = check_point(lower, at, &up, &glance.points[i]);
    }
    html_free(&page);
    glance_end(&glance);
}

/* A cell is under its column's label and beside its row's name. */
static void cells_are_in_their_rows_and_columns(void)
{
    static const char *const rows[] = {"R1", "R2", "q"};
    static const char *const columns[] = {"P1", "P2", "P3", "P4"};
    static const struct record_cell cells[] = {{0, 0, 1.64, 0, 0, NULL, "first"},
                                               {2, 1, 2.5, 1, 0, NULL, "second"},
                                               {1, 3, 12, 0, 0, NULL, "third"}};
    const struct record_chart chart = {"strip", rows, 3, columns, 4, cells, 3};
    struct html page = {0};
    size_t i = 0;

    chart_record(&page, &chart);
    struct svg svg = svg_find(buffer_string(&page.out), "strip");
    double width = label_place(svg, "P2") - label_place(svg, "P1");
    for (const char *box = svg_next_class(svg.from, svg.stop, "beyond"); box != NULL && i < 3;
         box = svg_next_class(box, svg.stop, "beyond"), i++) {
        const char *text = svg_next_class(box, svg.stop, "ratio");
        const char *name = svg_next_class(svg.from, svg.stop, "tick");
        for (size_t k = 0; k < cells[i].row; k++)
            name = svg_next_class(name, svg.stop, "tick");
        CHECK(text != NULL && name != NULL);
        if (text == NULL || name == NULL)
            break;
        CHECK_NEAR(svg_centre(box).x, label_place(svg, columns[cells[i].column]), 0.02, "column");
        CHECK_NEAR(svg_attribute(text, "x"), svg_centre(box).x, 0.02, "in its cell");
        CHECK_NEAR(svg_attribute(text, "y"), svg_attribute(name, "y"), 0.02, "row");
        CHECK(svg_attribute(box, "width") < width && svg_attribute(box, "width") > 0.9 * width);
        CHECK_NEAR(page_number(strchr(text, '>') + 1), cells[i].ratio, 0.05, "one decimal");
        CHECK(svg_is(box, "lost") == cells[i].is_lost);
    }
    CHECK(i == 3);
    html_free(&page);
}

extern CU_TestInfo drawn_glance_tests[];
CU_TestInfo drawn_glance_tests[] = {
    {"points are the run's", points_are_the_run_s},
    {"cells are in their rows and columns", cells_are_in_their_rows_and_columns},
    CU_TEST_INFO_NULL};
