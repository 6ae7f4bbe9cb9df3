/* test_drawn_sweep.c - a sweep's lines, marks and intervals stand where the database's numbers are. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "tests/check.h"
#include "tests/drawn_night.h"
#include "tests/svg_axis.h"

enum { ROWS = 200, POINTS = 12, SERIES = 6 };
enum { VALUE, LOWER, UPPER, ACROSS };

/* Of every configuration at the attitudes that share a rear height (mm) without yaw. */
static const char values_sql[] =
    "SELECT o.configuration, '', '', '', %d * avg(o.value), NULL, NULL, 1000 * "
    "t.front_ride_height_m, 0, 0 FROM observation AS o JOIN target AS t ON t.target = o.target "
    "WHERE o.quantity = '%s' AND abs(1000 * t.rear_ride_height_m - %g) < 1e-6 AND t.yaw_rad = 0 "
    "GROUP BY o.configuration, o.target";
static const char deltas_sql[] =
    "SELECT o.configuration, '', '', '', %d * o.delta, %d * o.lower, %d * o.upper, 1000 * "
    "t.front_ride_height_m, 0, 0 FROM delta_result AS o JOIN target AS t ON t.target = o.target "
    "WHERE o.quantity = '%s' AND abs(1000 * t.rear_ride_height_m - %g) < 1e-6 AND t.yaw_rad = 0";

struct picture {
    struct svg svg;
    struct svg_axis up, across;
    struct drawn_row rows[ROWS];
    size_t n_rows, n_series;
    double shift; /* of all series together */
    int is_delta;
};

static const struct drawn_row *nearest(const struct picture *picture, const char *name, double x)
{
    const struct drawn_row *best = NULL;

    for (size_t i = 0; i < picture->n_rows; i++)
        if (strcmp(picture->rows[i].text[0], name) == 0 &&
            (best == NULL ||
             fabs(picture->rows[i].number[ACROSS] - x) < fabs(best->number[ACROSS] - x)))
            best = &picture->rows[i];
    CHECK(best != NULL);
    return best;
}

static void check_range(const struct picture *picture, const char *range, struct svg_place mark,
                        const struct drawn_row *row)
{
    double near = svg_near(&picture->up);

    CHECK(range != NULL);
    if (range == NULL)
        return;
    CHECK_NEAR(svg_attribute(range, "x1"), mark.x, 0.011, "through its mark");
    CHECK_NEAR(svg_attribute(range, "x2"), mark.x, 0.011, "through its mark");
    CHECK_NEAR(svg_value(&picture->up, svg_attribute(range, "y1")), row->number[LOWER], near,
               "the database");
    CHECK_NEAR(svg_value(&picture->up, svg_attribute(range, "y2")), row->number[UPPER], near,
               "the database");
}

/* Marks, intervals and line of one series; gives the number of its marks. Series stand a little beside each
 * other, each by as much at all its points. */
static size_t check_series(struct picture *picture, const char *group)
{
    struct svg_place line[POINTS];
    const char *stop = strstr(group, "</g>");
    const char *mark = svg_next_class(group, stop, "mark");
    const char *range = svg_next_class(group, stop, "range");
    const char *path = svg_next_class(group, stop, "line");
    double shift = NAN;
    size_t n = 0;

    if (mark == NULL)
        return 0;
    size_t corners = path != NULL ? svg_path_read(path, line, POINTS) : 0;
    for (; mark != NULL; mark = svg_next_class(mark, stop, "mark"), n++) {
        char name[64];
        struct svg_place at = svg_centre(mark);
        svg_child_text(mark, "title", " <", name, sizeof name);
        const struct drawn_row *row = nearest(picture, name, svg_value(&picture->across, at.x));
        if (row == NULL || n >= corners)
            return n;
        CHECK_NEAR(svg_value(&picture->up, at.y), row->number[VALUE], svg_near(&picture->up),
                   "the database");
        double beside = at.x - svg_place_of(&picture->across, row->number[ACROSS]);
        CHECK(n == 0 || fabs(beside - shift) < 0.02);
        shift = beside;
        CHECK_NEAR(line[n].x, at.x, 0.011, "identity");
        CHECK_NEAR(line[n].y, at.y, 0.011, "identity");
        if (picture->is_delta) {
            check_range(picture, range, at, row);
            range = svg_next_class(range, stop, "range");
        }
    }
    CHECK(corners == n && range == NULL);
    CHECK(fabs(shift) < 8);
    picture->shift += shift;
    picture->n_series++;
    return n;
}

static void check_strip(struct store *store, const struct picture *picture, const char *quantity,
                        int each)
{
    char sql[120];
    const char *strip = svg_next_class(picture->svg.from, picture->svg.stop, "strip");
    const char *zero = svg_next_class(picture->svg.from, picture->svg.stop, "zero");
    double near = svg_near(&picture->up);

    (void)snprintf(sql, sizeof sql, "SELECT %d * worthwhile FROM metric WHERE quantity = '%s'",
                   each, quantity);
    double wanted = drawn_number(store, sql);
    CHECK(strip != NULL && zero != NULL);
    if (strip == NULL || zero == NULL)
        return;
    double top = svg_attribute(strip, "y"), bottom = top + svg_attribute(strip, "height");
    CHECK_NEAR(svg_value(&picture->up, top), wanted, near, "the campaign");
    CHECK_NEAR(svg_value(&picture->up, bottom), -wanted, 2 * near, "the campaign");
    CHECK_NEAR(svg_value(&picture->up, svg_attribute(zero, "y1")), 0, near, "zero is at zero");
}

static void check_picture(const struct drawn_night *night, const char *quantity, int is_delta)
{
    static struct picture picture;
    char label[64], whole[320], sql[600];
    int each = is_delta && quantity[0] == 'C' ? 1000 : 1;
    size_t marks = 0;

    (void)snprintf(label, sizeof label, "%s of %s over front ride height",
                   is_delta ? "change from the baseline" : "value", quantity);
    picture = (struct picture){.svg = svg_find(night->text, label), .is_delta = is_delta};
    CHECK(picture.svg.from != NULL);
    if (picture.svg.from == NULL)
        return;
    svg_attribute_text(picture.svg.from, "aria-label", whole, sizeof whole);
    const char *held = strstr(whole, "at rear ride height ");
    CHECK(held != NULL);
    double rear = held != NULL ? page_number(held + strlen("at rear ride height ")) : 0;
    if (is_delta)
        (void)snprintf(sql, sizeof sql, deltas_sql, each, each, each, quantity, rear);
    else
        (void)snprintf(sql, sizeof sql, values_sql, each, quantity, rear);
    picture.n_rows = drawn_rows(night->store, sql, picture.rows, ROWS);
    picture.up = svg_axis_read(picture.svg, SVG_UP, SVG_LINEAR);
    picture.across = svg_axis_read(picture.svg, SVG_ACROSS, SVG_LINEAR);
    for (const char *group = svg_next(picture.svg.from, picture.svg.stop, "<g class=\"s");
         group != NULL; group = svg_next(group + 1, picture.svg.stop, "<g class=\"s"))
        marks += check_series(&picture, group);
    CHECK(picture.n_series == (is_delta ? SERIES - 1 : SERIES) && marks == 6 * picture.n_series);
    CHECK_NEAR(picture.shift, 0, 0.12, "as far to the left as to the right");
    if (is_delta)
        check_strip(night->store, &picture, quantity, each);
}

static void check_sweep(int more, const char *sql)
{
    static const char *const quantities[] = {"CL", "CD", "balance"};
    struct drawn_night night;

    if (drawn_night_make(&night, more, sql))
        for (int i = 0; i < 6; i++)
            check_picture(&night, quantities[i / 2], i % 2);
    drawn_night_end(&night);
}

static void lines_and_changes_are_the_rows(void)
{
    check_sweep(0, NULL);
}

static void of_many_the_best_are_drawn_where_they_are(void)
{
    check_sweep(20, "INSERT INTO setting VALUES ('season', 'map_attitude', 'F10 R42', '')");
}

extern CU_TestInfo drawn_sweep_tests[];
CU_TestInfo drawn_sweep_tests[] = {
    {"lines and changes are the rows", lines_and_changes_are_the_rows},
    {"of many the best are drawn where they are", of_many_the_best_are_drawn_where_they_are},
    CU_TEST_INFO_NULL};
