/* test_chart_shapes.c - scales, lines, intervals and maps: what is drawn is where the data is. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/chart_interval.h"
#include "report/chart_line.h"
#include "report/chart_map.h"
#include "report/contour.h"
#include "report/scale.h"
#include "report/sweep.h"
#include "schema/fault.h"
#include "tests/check.h"

static void scales_run_either_way(void)
{
    struct scale up = scale_make(0, 10, 100, 0);
    struct scale reversed = scale_make(1, -3, 100, 0); /* suction up */

    CHECK_NEAR(scale_at(&up, 2.5), 75, 1e-12, "identity");
    CHECK_NEAR(scale_at(&reversed, -3), 0, 1e-12, "identity");
    CHECK_NEAR(scale_at(&reversed, 1), 100, 1e-12, "identity");
    CHECK(isnan(scale_at(&up, (double)NAN)));
    struct scale one = scale_make(5, 5, 0, 100);
    CHECK_NEAR(scale_at(&one, 5), 50, 1e-12, "identity");
    struct scale none = scale_make((double)NAN, 2, 0, 100);
    CHECK(isfinite(scale_at(&none, 0.5)));
}

static void ticks_are_round_and_inside(void)
{
    struct scale scale = scale_make(-0.37, 1.13, 0, 1);
    struct scale reversed = scale_make(1.13, -0.37, 0, 1);
    struct ticks ticks = scale_ticks(&scale, 5);
    struct ticks back = scale_ticks(&reversed, 5);

    CHECK(ticks.n == 3);
    CHECK_NEAR(ticks.value[0], 0, 1e-12, "by hand: step 0.5 over -0.37 .. 1.13");
    CHECK_NEAR(ticks.value[2], 1.0, 1e-12, "by hand: step 0.5 over -0.37 .. 1.13");
    CHECK(ticks.decimals == 1);
    CHECK(back.n == ticks.n);
    CHECK_NEAR(scale_nice_step(0.03), 0.05, 1e-12, "identity");
    CHECK_NEAR(scale_nice_step(2), 2, 1e-12, "identity");
    CHECK_NEAR(scale_nice_step(6), 10, 1e-12, "identity");
}

static void labels_are_pushed_apart(void)
{
    double place[] = {50, 51, 49, 90};

    chart_push_apart(place, 4, 14, 0, 100);
    CHECK(place[2] < place[0] && place[0] < place[1]);
    CHECK(place[0] - place[2] >= 14 - 1e-9);
    CHECK(place[1] - place[0] >= 14 - 1e-9);
    CHECK(place[3] - place[1] >= 14 - 1e-9);
    double low[] = {98, 99, 100};
    chart_push_apart(low, 3, 14, 0, 100);
    CHECK_NEAR(low[2], 100, 1e-9, "identity");
    CHECK_NEAR(low[0], 72, 1e-9, "identity");
}

static size_t count(const char *text, const char *needle)
{
    size_t n = 0;

    for (const char *at = text; (at = strstr(at, needle)) != NULL; at++)
        n++;
    return n;
}

static void a_missing_value_is_a_gap(void)
{
    static const struct line_point points[] = {{1, 2, 1.5, 2.5},
                                               {2, (double)NAN, (double)NAN, (double)NAN},
                                               {3, 4, (double)NAN, (double)NAN}};
    struct line_series series = {"W1 <b>", {"s1", MARKER_CIRCLE}, points, 3};
    struct line_chart chart = {"label", "x, mm", "y", 400, 240, &series, 1, 1, 0.5, 1, 1, 1, 0};
    struct html page = {0};

    chart_line(&page, &chart);
    const char *text = buffer_string(&page.out);
    CHECK_CONTAINS(text, "role=\"img\"");
    CHECK_CONTAINS(text, "aria-label=\"label\"");
    CHECK_CONTAINS(text, "<title>W1 &lt;b&gt; at 1.0: +2.00, from +1.50 to +2.50</title>");
    CHECK(count(text, "<title>") == 2);
    CHECK(count(text, "class=\"range\"") == 1);
    CHECK(strstr(text, "nan") == NULL);
    html_free(&page);
}

/* The number after name=" in a shape. */
static double attribute(const char *text, const char *name)
{
    const char *at = strstr(text, name);

    return at != NULL ? strtod(at + strlen(name), NULL) : (double)NAN;
}

static void an_interval_is_drawn_where_it_lies(void)
{
    struct interval_scale scale = {.width = 216, .strip = 10};
    struct interval interval = {23.8, 17.7, 29.9, TONE_GOOD, 0};
    struct html page = {0};

    interval_scale_add(&scale, &interval);
    interval_scale_finish(&scale);
    CHECK_NEAR(scale.reach, 30, 1e-12, "by hand: 29.9 up to a whole step of 10");
    chart_interval(&page, &scale, &interval, "label");
    const char *range = strstr(buffer_string(&page.out), "class=\"range\"");
    CHECK(range != NULL);
    if (range != NULL) {
        /* 8 .. 208 is -30 .. 30 */
        CHECK_NEAR(attribute(range, "x1=\""), 108 + 17.7 * 100 / 30, 0.006, "identity");
        CHECK_NEAR(attribute(range, "x2=\""), 108 + 29.9 * 100 / 30, 0.006, "identity");
        CHECK_NEAR(attribute(range, "cx=\""), 108 + 23.8 * 100 / 30, 0.006, "identity");
    }
    CHECK(strstr(buffer_string(&page.out), "hollow") == NULL);
    html_free(&page);
}

static void a_dot_is_hollow_when_zero_is_inside(void)
{
    struct interval_scale scale = {.width = 200, .reach = 10};
    struct interval inside = {1, -1, 3, TONE_MUTED, 0};
    struct interval none = {(double)NAN, (double)NAN, (double)NAN, TONE_MUTED, 0};
    struct html page = {0};

    chart_interval(&page, &scale, &inside, "label");
    CHECK_CONTAINS(buffer_string(&page.out), "mark hollow");
    CHECK(!interval_excludes_zero(&inside));
    CHECK(!interval_excludes_zero(&none));
    html_free(&page);
    chart_interval(&page, &scale, &none, "label");
    CHECK(strstr(buffer_string(&page.out), "range") == NULL);
    CHECK(strstr(buffer_string(&page.out), "circle") == NULL);
    html_free(&page);
}

/* A square of two triangles with values that rise along x. */
static const struct contour_vertex square[] = {{0, 0, 0}, {100, 0, 1}, {100, 100, 1}, {0, 100, 0}};
static const struct contour_triangle halves[] = {{{0, 1, 2}}, {{0, 2, 3}}};
static const struct contour_surface plane = {square, halves, 4, 2};

static void contours_of_a_plane_are_straight(void)
{
    struct contour_grid grid;
    struct fault fault = {0};
    struct path path = {0};

    CHECK_OK(contour_grid_make(&plane, 4, &grid, &fault), &fault);
    for (size_t j = 0; j < grid.rows; j++)
        for (size_t i = 0; i < grid.columns; i++) {
            double x = grid.left + grid.spacing * (double)i;
            double y = grid.top + grid.spacing * (double)j;
            if (x >= 0 && x <= 100 && y >= 0 && y <= 100)
                CHECK_NEAR(grid.value[j * grid.columns + i], x / 100, 1e-9, "identity");
        }
    CHECK_OK(contour_region(&grid, 0.5, &path, &fault), &fault);
    const char *text = buffer_string(&path.data);
    CHECK(count(text, "M") == 1);
    CHECK(count(text, "Z") == 1);
    CHECK(count(text, "L50.00 ") + count(text, "M50.00 ") > 20);
    path_free(&path);
    contour_grid_free(&grid);
}

static void the_hull_has_no_inner_sides(void)
{
    struct fault fault = {0};
    struct path path = {0};

    CHECK_OK(contour_hull(&plane, &path, &fault), &fault);
    CHECK(count(buffer_string(&path.data), "M") == 1);
    CHECK(count(buffer_string(&path.data), "L") == 3);
    path_free(&path);
}

static void regions_above_everything_are_empty(void)
{
    struct contour_grid grid;
    struct fault fault = {0};
    struct path path = {0};

    CHECK_OK(contour_grid_make(&plane, 4, &grid, &fault), &fault);
    CHECK_OK(contour_region(&grid, 2, &path, &fault), &fault);
    CHECK(path.data.length == 0);
    path_free(&path);
    contour_grid_free(&grid);
    struct contour_surface nowhere = {square, halves, 0, 0};
    CHECK(contour_grid_make(&nowhere, 4, &grid, &fault) == NO_RESULT);
}

static void a_dead_tap_is_a_cross_and_a_changed_one_a_square(void)
{
    static const struct map_tap taps[] = {{"T1", 0, 0, -1, (double)NAN, 0},
                                          {"T2", 1, 0, -0.5, (double)NAN, 0},
                                          {"T3", 1, 1, -0.2, (double)NAN, 1},
                                          {"T4", 0, 1, (double)NAN, (double)NAN, 0}};
    static const struct contour_triangle triangles[] = {{{0, 1, 2}}, {{0, 2, 3}}};
    struct map_chart chart = {"map", "Cp", taps, 4, triangles, 2, bands_sequential(-1, -0.2)};
    struct html page = {0};
    struct fault fault = {0};

    CHECK_OK(chart_map(&page, &chart, &fault), &fault);
    const char *text = buffer_string(&page.out);
    CHECK_CONTAINS(text, "<title>tap T4: dead</title>");
    CHECK_CONTAINS(text, "<title>tap T2: Cp \xE2\x88\x92"
                         "0.500</title>");
    CHECK(count(text, "<circle") == 2);
    CHECK(count(text, "class=\"tap changed\"") == 1);
    CHECK_CONTAINS(text, "<title>tap T3: Cp \xE2\x88\x92"
                         "0.200, changed</title>");
    CHECK_CONTAINS(text, "clip-path=\"url(#c1)\"");
    html_free(&page);
}

static const struct sweep_target attitudes[] = {
    {"a", {0.010, 0.030, 0, (double)NAN, (double)NAN, (double)NAN}},
    {"b", {0.020, 0.030, 0, (double)NAN, (double)NAN, (double)NAN}},
    {"c", {0.012, 0.036, 0, (double)NAN, (double)NAN, (double)NAN}},
    {"d", {0.010, 0.036, 0, (double)NAN, (double)NAN, (double)NAN}},
    {"e", {0.020, 0.036, 0, (double)NAN, (double)NAN, (double)NAN}},
    {"f", {0.010, 0.030, 0.1, (double)NAN, (double)NAN, (double)NAN}},
    {"g", {0.010, 0.030, -0.1, (double)NAN, (double)NAN, (double)NAN}}};

static void the_longest_front_sweep_is_found(void)
{
    struct sweep found = sweep_find(attitudes, 7, 7);

    CHECK(found.axis == 0);
    CHECK(found.n == 3);
    if (found.n == 3) {
        CHECK_TEXT(attitudes[found.member[0]].name, "d");
        CHECK_TEXT(attitudes[found.member[1]].name, "c");
        CHECK_TEXT(attitudes[found.member[2]].name, "e");
    }
    CHECK_TEXT(sweep_held(&found, attitudes).text, "rear ride height 36 mm, yaw 0 deg");
}

/* Two front heights at 30 mm are too few, so the sweep through a is over yaw. */
static void a_sweep_goes_through_the_attitude_asked_for(void)
{
    struct sweep found = sweep_find(attitudes, 7, 0);

    CHECK(found.axis == 2);
    CHECK(found.n == 3);
    if (found.n == 3) {
        CHECK_TEXT(attitudes[found.member[0]].name, "g");
        CHECK_TEXT(attitudes[found.member[1]].name, "a");
    }
    CHECK_TEXT(sweep_held(&found, attitudes).text,
               "front ride height 10 mm, rear ride height 30 mm");
    CHECK_TEXT(sweep_axis_label(found.axis).text, "yaw, deg, air from the right +");
    CHECK_TEXT(sweep_axis_label(0).text, "front ride height, mm");
    struct sweep other = sweep_find(attitudes, 7, 1); /* nothing through b: the longest */
    CHECK(other.axis == 0 && other.n == 3);
}

static void two_attitudes_are_no_sweep(void)
{
    struct sweep found = sweep_find(attitudes, 2, 0);

    CHECK(found.n == 0);
    CHECK_TEXT(sweep_held(&found, attitudes).text, "");
    CHECK(sweep_find(attitudes, 1, 0).n == 0);
    CHECK(sweep_find(attitudes, 0, 0).n == 0);
}

CU_TestInfo chart_shapes_tests[] = {
    {"scales run either way", scales_run_either_way},
    {"ticks are round and inside", ticks_are_round_and_inside},
    {"labels are pushed apart", labels_are_pushed_apart},
    {"a missing value is a gap", a_missing_value_is_a_gap},
    {"an interval is drawn where it lies", an_interval_is_drawn_where_it_lies},
    {"a dot is hollow when zero is inside", a_dot_is_hollow_when_zero_is_inside},
    {"contours of a plane are straight", contours_of_a_plane_are_straight},
    {"the hull has no inner sides", the_hull_has_no_inner_sides},
    {"regions above everything are empty", regions_above_everything_are_empty},
    {"a dead tap is a cross and a changed one a square",
     a_dead_tap_is_a_cross_and_a_changed_one_a_square},
    {"the longest front sweep is found", the_longest_front_sweep_is_found},
    {"a sweep goes through the attitude asked for", a_sweep_goes_through_the_attitude_asked_for},
    {"two attitudes are no sweep", two_attitudes_are_no_sweep},
    CU_TEST_INFO_NULL};
