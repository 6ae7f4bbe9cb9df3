/* test_drawn_floor.c - maps of pressures: taps at their places, in the band that the legend gives their
 * values, over bands that agree with them. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "tests/check.h"
#include "tests/drawn_night.h"
#include "tests/svg_axis.h"

enum { ROWS = 300, BANDS = 16 };
enum { X, Y, VALUE, IS_CHANGED };

static const char level_sql[] =
    "SELECT t.tap, '', '', '', t.x_m, t.y_m, m.cp, 0, 0, 0 FROM map_tap AS m JOIN tap AS t ON "
    "t.tap = m.tap WHERE m.configuration = 'C0' AND m.target = 'F10 R36'";
static const char change_sql[] =
    "SELECT t.tap, '', '', '', t.x_m, t.y_m, m.delta_cp, coalesce(m.q_value <= 0.05, 0), 0, 0 FROM "
    "map_tap AS m JOIN tap AS t ON t.tap = m.tap WHERE m.configuration = 'W2' AND m.target = 'F10 "
    "R36'";

struct band {
    char fill[16];
    double low, high;
};

struct map {
    struct svg svg;
    struct svg_axis up, across;
    struct band bands[BANDS]; /* from low to high */
    int n_bands;
    const char *regions[BANDS]; /* painted one over the other, the lowest first */
    int n_regions;
};

/* Rectangles of the legend, whose edges the ticks beside them name. */
static void read_legend(struct map *map)
{
    struct svg_axis legend = svg_axis_read(map->svg, SVG_LEGEND, SVG_LINEAR);

    for (const char *at = svg_next_class(map->svg.from, map->svg.stop, "band"); at != NULL;
         at = svg_next_class(at, map->svg.stop, "band")) {
        if (strncmp(at, "<rect", 5) != 0) {
            CHECK(map->n_regions < BANDS);
            map->regions[map->n_regions++ % BANDS] = at;
            continue;
        }
        CHECK(map->n_bands < BANDS);
        struct band *band = &map->bands[map->n_bands++ % BANDS];
        double top = svg_attribute(at, "y");
        svg_attribute_text(at, "fill", band->fill, sizeof band->fill);
        band->high = svg_value(&legend, top);
        band->low = svg_value(&legend, top + svg_attribute(at, "height"));
        CHECK(band->high > band->low);
        if (map->n_bands > 1)
            CHECK_NEAR(band->low, band[-1].high, 2 * svg_near(&legend), "no gap, low to high");
    }
}

static int band_of(const struct map *map, const char *element)
{
    char fill[16];

    svg_attribute_text(element, "fill", fill, sizeof fill);
    for (int i = 0; i < map->n_bands; i++)
        if (strcmp(map->bands[i].fill, fill) == 0)
            return i;
    return -1;
}

/* Of what is painted under a place, what is on top; -1 for nothing. */
static int painted(const struct map *map, struct svg_place at)
{
    int top = -1;

    for (int i = 0; i < map->n_regions; i++)
        if (svg_covers(map->regions[i], at))
            top = band_of(map, map->regions[i]);
    return top;
}

/* Well inside the measured hull, which is the lowest region. */
static int is_inside(const struct map *map, struct svg_place at)
{
    const double room = 3;

    for (int k = 0; k < 4; k++) {
        struct svg_place beside = {at.x + (k == 0   ? room
                                           : k == 1 ? -room
                                                    : 0),
                                   at.y + (k == 2   ? room
                                           : k == 3 ? -room
                                                    : 0)};
        if (!svg_covers(map->regions[0], beside))
            return 0;
    }
    return 1;
}

/* Gives 1 where the bands below the tap could be told from its neighbours'. The bands lie on a grid of a few
 * page units, so that near a limit the next one may be there. */
static int check_tap(const struct map *map, const char *tap, const struct drawn_row *row)
{
    struct svg_place at = svg_centre(tap);
    int band = band_of(map, tap), is_dead = svg_is(tap, "dead");

    CHECK_NEAR(svg_value(&map->across, at.x), row->number[X], svg_near(&map->across),
               "the database");
    CHECK_NEAR(svg_value(&map->up, at.y), row->number[Y], svg_near(&map->up), "the database");
    CHECK(is_dead == isnan(row->number[VALUE]));
    CHECK(svg_is(tap, "changed") == (row->number[IS_CHANGED] != 0));
    if (is_dead)
        return 0;
    CHECK(band >= 0);
    if (band < 0)
        return 0;
    double wide = map->bands[band].high - map->bands[band].low, near = 0.005 * wide;
    CHECK(row->number[VALUE] >= map->bands[band].low - near);
    CHECK(row->number[VALUE] <= map->bands[band].high + near);
    if (!is_inside(map, at))
        return 0;
    double edge =
        fmin(row->number[VALUE] - map->bands[band].low, map->bands[band].high - row->number[VALUE]);
    int below = painted(map, at);
    CHECK(below >= band - 1 && below <= band + 1);
    if (edge < 0.25 * wide)
        return 0;
    CHECK(below == band);
    return 1;
}

/* One metre is as long across as up, and x grows to the right, y (to the car's right) upwards. */
static void check_shape(const struct map *map)
{
    double along = svg_place_of(&map->across, 1) - svg_place_of(&map->across, 0);
    double side = svg_place_of(&map->up, 0) - svg_place_of(&map->up, 1);

    CHECK(along > 0);
    CHECK_RELATIVE(side, along, 1e-3, "the same scale both ways");
}

static void check_map(const struct drawn_night *night, const char *label, const char *sql,
                      int is_change)
{
    static struct drawn_row rows[ROWS];
    struct map map = {.svg = svg_find(night->text, label)};
    size_t n = drawn_rows(night->store, sql, rows, ROWS), seen = 0, told = 0;

    CHECK(map.svg.from != NULL);
    if (map.svg.from == NULL)
        return;
    map.up = svg_axis_read(map.svg, SVG_UP, SVG_LINEAR);
    map.across = svg_axis_read(map.svg, SVG_ACROSS, SVG_LINEAR);
    check_shape(&map);
    read_legend(&map);
    CHECK(map.n_bands >= 3 && map.n_regions >= 3);
    for (const char *tap = svg_next_class(map.svg.from, map.svg.stop, "tap"); tap != NULL;
         tap = svg_next_class(tap, map.svg.stop, "tap")) {
        char name[64];
        if (svg_is(tap, "halo"))
            continue;
        svg_child_text(tap, "title", ":", name, sizeof name);
        const struct drawn_row *row = drawn_row_of(rows, n, name + strlen("tap "), NULL);
        CHECK(row != NULL);
        if (row == NULL)
            break;
        told += (size_t)check_tap(&map, tap, row);
        seen++;
    }
    CHECK(seen == n && told > n / 4);
    if (is_change) { /* zero is the middle of a band */
        int middle = map.n_bands / 2;
        CHECK(map.n_bands % 2 == 1);
        CHECK_NEAR(map.bands[middle].low, -map.bands[middle].high, 1e-3 * map.bands[middle].high,
                   "about zero");
    }
}

static void levels_are_the_rows(void)
{
    struct drawn_night night;

    if (drawn_night_make(&night, 0, NULL))
        check_map(&night, "map of Cp on the floor, C0 at F10 R36", level_sql, 0);
    drawn_night_end(&night);
}

static void changes_are_the_rows(void)
{
    struct drawn_night night;

    if (drawn_night_make(&night, 0, NULL))
        check_map(&night,
                  "map of \xCE\x94"
                  "Cp on the floor, W2 at F10 R36",
                  change_sql, 1);
    drawn_night_end(&night);
}

extern CU_TestInfo drawn_floor_tests[];
CU_TestInfo drawn_floor_tests[] = {{"levels are the rows", levels_are_the_rows},
                                   {"changes are the rows", changes_are_the_rows},
                                   CU_TEST_INFO_NULL};
