/* test_drawn_trade.c - what each gain costs: crosses, line and shaded side are the database's numbers. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "tests/check.h"
#include "tests/drawn_night.h"
#include "tests/svg_axis.h"

enum { ROWS = 40 };
enum { ACROSS, ACROSS_LOWER, ACROSS_UPPER, UP, UP_LOWER, UP_UPPER };

/* Paid across, brought upwards, counts; the judged measure is downforce. */
static const char costs_sql[] =
    "SELECT d.configuration, '', '', '', 1000 * c.delta, 1000 * c.lower, 1000 * c.upper, 1000 * "
    "d.delta, 1000 * d.lower, 1000 * d.upper FROM delta_result AS d JOIN delta_result AS c ON "
    "c.configuration = d.configuration AND c.target = d.target AND c.quantity = 'CD' WHERE "
    "d.target = 'weighted' AND d.quantity = 'CL'";

static const char worth[] =
    "INSERT INTO setting VALUES ('trade', 'metric', 'drag', ''), ('trade', 'per', 'downforce', "
    "''), ('trade', 'worth', '4', '1')";

struct picture {
    struct svg svg;
    struct svg_axis up, across;
    struct drawn_row rows[ROWS];
    size_t n;
};

static void check_arm(const struct svg_axis *axis, const char *arm, const char *const ends[2],
                      double lower, double upper)
{
    CHECK_NEAR(svg_value(axis, svg_attribute(arm, ends[0])), lower, svg_near(axis), "the database");
    CHECK_NEAR(svg_value(axis, svg_attribute(arm, ends[1])), upper, svg_near(axis), "the database");
}

/* The arms stand before their mark, in its group. */
static void check_cross(const struct picture *picture, const char *group, const char *mark,
                        const struct drawn_row *row)
{
    static const char *const flat[] = {"x1", "x2"}, *const upright[] = {"y1", "y2"};
    const char *arm = svg_next_class(group, mark, "range");
    const char *tall = svg_next_class(arm, mark, "range");
    struct svg_place at = svg_centre(mark);

    CHECK(arm != NULL && tall != NULL);
    if (arm == NULL || tall == NULL)
        return;
    CHECK_NEAR(svg_value(&picture->across, at.x), row->number[ACROSS], svg_near(&picture->across),
               "the database");
    CHECK_NEAR(svg_value(&picture->up, at.y), row->number[UP], svg_near(&picture->up),
               "the database");
    check_arm(&picture->across, arm, flat, row->number[ACROSS_LOWER], row->number[ACROSS_UPPER]);
    check_arm(&picture->up, tall, upright, row->number[UP_LOWER], row->number[UP_UPPER]);
    CHECK_NEAR(svg_centre(arm).y, at.y, 0.011, "through its mark");
    CHECK_NEAR(svg_centre(tall).x, at.x, 0.011, "through its mark");
    CHECK(svg_is(mark, "hollow") == (row->number[UP_LOWER] <= 0 && row->number[UP_UPPER] >= 0));
}

/* A mark is in the shaded area just where what it brings is more than what it costs. */
static size_t check_marks(const struct picture *picture, const char *area)
{
    const char *stop = picture->svg.stop;
    size_t n = 0;

    for (const char *group = svg_next(picture->svg.from, stop, "<g class=\"s"); group != NULL;
         group = svg_next(group + 1, stop, "<g class=\"s")) {
        const char *mark = svg_next_class(group, strstr(group, "</g>"), "mark");
        char name[64];
        if (mark == NULL)
            continue;
        svg_child_text(mark, "title", ":<", name, sizeof name);
        const struct drawn_row *row = drawn_row_of(picture->rows, picture->n, name, NULL);
        CHECK(row != NULL);
        if (row == NULL)
            continue;
        check_cross(picture, group, mark, row);
        if (area != NULL)
            CHECK(svg_covers(area, svg_centre(mark)) ==
                  (row->number[UP] - 4 * row->number[ACROSS] > 0));
        n++;
    }
    return n;
}

static void check_line(const struct picture *picture)
{
    const char *line = svg_next_class(picture->svg.from, picture->svg.stop, "worth-line");
    double x[2], y[2];

    CHECK(line != NULL);
    if (line == NULL)
        return;
    for (int i = 0; i < 2; i++) {
        x[i] = svg_value(&picture->across, svg_attribute(line, i == 0 ? "x1" : "x2"));
        y[i] = svg_value(&picture->up, svg_attribute(line, i == 0 ? "y1" : "y2"));
        CHECK_NEAR(y[i], 4 * x[i], svg_near(&picture->up) + 4 * svg_near(&picture->across),
                   "the campaign's worth");
    }
    CHECK(x[0] < svg_near(&picture->across) && x[1] > 1); /* from zero, or before it, on */
}

/* Zero's own lines cross where both axes say zero. */
static void check_zero(const struct picture *picture)
{
    const char *flat = svg_next_class(picture->svg.from, picture->svg.stop, "zero");
    const char *upright = svg_next_class(flat, picture->svg.stop, "zero");

    CHECK(flat != NULL && upright != NULL);
    if (flat == NULL || upright == NULL)
        return;
    CHECK_NEAR(svg_value(&picture->up, svg_attribute(flat, "y1")), 0, svg_near(&picture->up),
               "zero");
    CHECK_NEAR(svg_value(&picture->across, svg_attribute(upright, "x1")), 0,
               svg_near(&picture->across), "zero");
}

static void check_costs(int more, const char *sql, size_t drawn)
{
    static struct picture picture;
    struct drawn_night night;

    if (drawn_night_make(&night, more, sql)) {
        picture = (struct picture){
            .svg = svg_find(night.text, "change of downforce against change of drag")};
        picture.up = svg_axis_read(picture.svg, SVG_UP, SVG_LINEAR);
        picture.across = svg_axis_read(picture.svg, SVG_ACROSS, SVG_LINEAR);
        picture.n = drawn_rows(night.store, costs_sql, picture.rows, ROWS);
        const char *area = svg_next_class(picture.svg.from, picture.svg.stop, "worth");
        CHECK((area != NULL) == (sql != NULL));
        CHECK(check_marks(&picture, area) == drawn);
        check_zero(&picture);
        if (sql != NULL)
            check_line(&picture);
    }
    drawn_night_end(&night);
}

static void crosses_are_the_rows(void)
{
    check_costs(0, NULL, 5);
}

static void the_line_parts_what_is_worth_it(void)
{
    check_costs(0, worth, 5);
    check_costs(3, worth, 8);
}

static void of_many_the_best_eight_are_drawn(void)
{
    check_costs(20, worth, 8);
}

extern CU_TestInfo drawn_trade_tests[];
CU_TestInfo drawn_trade_tests[] = {
    {"crosses are the rows", crosses_are_the_rows},
    {"the line parts what is worth it", the_line_parts_what_is_worth_it},
    {"of many the best eight are drawn", of_many_the_best_eight_are_drawn},
    CU_TEST_INFO_NULL};
