/* report_fixture_floor.c - the floor's taps of the report's fixture; see report_fixture_parts.h. */
#include <math.h>
#include <stdio.h>

#include "tests/report_fixture_parts.h"

struct floor {
    struct fixture *fixture;
    int columns, rows;
};

static const int dead_column = 6, dead_row = 3;

static void tap_name(int columns, int i, int j, char out[16])
{
    (void)snprintf(out, 16, "T%03d", 1 + j * columns + i);
}

static double floor_cp(double x, double y)
{
    double peak = exp(-8 * (x + 0.35) * (x + 0.35)) + 0.6 * exp(-12 * (x - 0.45) * (x - 0.45));

    return -0.25 - 1.5 * peak * (1 - 1.6 * y * y);
}

static double floor_change(double x, double y, int c)
{
    double side = exp(-20 * (fabs(y) - 0.32) * (fabs(y) - 0.32));

    return (c == 2 ? -0.11 : -0.04) * side * exp(-3 * (x - 0.1) * (x - 0.1)) +
           0.03 * exp(-10 * (x + 0.55) * (x + 0.55));
}

/* Invented: it falls with the change, to 0.05 and less of its double from 0.02 on. */
static double floor_p(double change)
{
    return 0.5 * exp(-fabs(change) * log(20) / 0.02);
}

static void put_tap(const struct floor *floor, int i, int j)
{
    struct fixture *fixture = floor->fixture;
    int is_dead = i == dead_column && j == dead_row;
    int number = j * floor->columns + i;
    double x = -0.85 + 1.75 * i / (floor->columns - 1) + 0.012 * fixture_scatter((unsigned)number);
    double y =
        -0.42 + 0.84 * j / (floor->rows - 1) + 0.010 * fixture_scatter((unsigned)number + 500);
    char name[16];

    tap_name(floor->columns, i, j, name);
    fixture_put(fixture,
                "INSERT INTO tap VALUES (?1, ?2, ?1, ?3, ?4, 0.02, 0, 0, -1, 0.01, 'floor', NULL)",
                "tirr", name, number, x, y);
    for (int c = 0; c < CONFIGURATIONS; c++) {
        double change =
            c == 0 ? 0 : floor_change(x, y, c) + 0.003 * fixture_scatter((unsigned)(number + c));
        fixture_put(
            fixture,
            "INSERT INTO map_tap VALUES (200, ?1, 'F10 R36', ?2, ?3, ?4, ?5, 9, ?6, ?7, ?8, 3)",
            "ttrrrrrt", fixture->name[c], name, is_dead ? (double)NAN : floor_cp(x, y) + change,
            is_dead || c == 0 ? (double)NAN : change, is_dead || c == 0 ? (double)NAN : 0.004,
            is_dead || c == 0 ? (double)NAN : floor_p(change),
            is_dead || c == 0 ? (double)NAN : 2 * floor_p(change), is_dead ? "dead tap" : "");
    }
    fixture_put(fixture, "INSERT INTO tap_result VALUES (1, '8', ?1, ?2, ?3, 0.002, 200, ?4)",
                "trrt", name, is_dead ? (double)NAN : floor_cp(x, y) * 1.01,
                is_dead ? (double)NAN : floor_cp(x, y), is_dead ? "failed" : "ok");
}

static void put_triangle(const struct floor *floor, int *number, const int corner[6])
{
    struct fixture *fixture = floor->fixture;
    char a[16], b[16], c[16];

    tap_name(floor->columns, corner[0], corner[1], a);
    tap_name(floor->columns, corner[2], corner[3], b);
    tap_name(floor->columns, corner[4], corner[5], c);
    for (int k = 0; k < CONFIGURATIONS; k++)
        fixture_put(fixture,
                    "INSERT INTO map_triangle VALUES (200, ?1, 'F10 R36', 'floor', ?2, ?3, ?4, ?5)",
                    "tittt", fixture->name[k], *number, a, b, c);
    (*number)++;
}

/* Two triangles a cell; about the dead tap a diamond of its four neighbours and four corners. */
static void put_triangles(const struct floor *floor)
{
    int x = dead_column, y = dead_row, number = 0;
    const int about[6][6] = {
        {x, y - 1, x + 1, y, x, y + 1},     {x, y - 1, x, y + 1, x - 1, y},
        {x - 1, y - 1, x, y - 1, x - 1, y}, {x, y - 1, x + 1, y - 1, x + 1, y},
        {x + 1, y, x + 1, y + 1, x, y + 1}, {x, y + 1, x - 1, y + 1, x - 1, y}};

    for (int j = 0; j + 1 < floor->rows; j++) {
        for (int i = 0; i + 1 < floor->columns; i++) {
            const int lower[6] = {i, j, i + 1, j, i + 1, j + 1};
            const int upper[6] = {i, j, i + 1, j + 1, i, j + 1};
            int touches = (i == x || i + 1 == x) && (j == y || j + 1 == y);
            if (touches)
                continue;
            put_triangle(floor, &number, lower);
            put_triangle(floor, &number, upper);
        }
    }
    for (int k = 0; k < 6; k++)
        put_triangle(floor, &number, about[k]);
}

void fixture_put_floor(struct fixture *fixture, int columns, int rows)
{
    const struct floor floor = {fixture, columns, rows};

    fixture_put(
        fixture,
        "INSERT INTO reduction VALUES (200, 'pressure_map', 'saltmarsh/February/' || ?1, 'beef', "
        "'inputs', 1)",
        "t", fixture->name[0]);
    for (int j = 0; j < rows; j++)
        for (int i = 0; i < columns; i++)
            put_tap(&floor, i, j);
    put_triangles(&floor);
}

void fixture_dead_tap(int columns, char out[16])
{
    tap_name(columns, dead_column, dead_row, out);
}
