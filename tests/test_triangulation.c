/* test_triangulation.c - triangles between points. Points are invented. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stddef.h>
#include <string.h>

#include "reduce/physics/triangulation.h"
#include "tests/check.h"

extern CU_TestInfo triangulation_tests[];

static void splits_a_square_with_centre(void)
{
    const double x[] = {0, 1, 1, 0, 0.5}, y[] = {0, 0, 1, 1, 0.5};
    static const size_t want[] = {0, 1, 4, 0, 4, 3, 1, 2, 4, 2, 3, 4};
    size_t triangle[30];
    size_t count = 0;

    CHECK(triangulate(x, y, 5, triangle, 10, &count) == OUTCOME_OK);
    CHECK(count == 4);
    CHECK(memcmp(triangle, want, sizeof want) == 0); /* counter-clockwise, sorted */
}

/* Euler: n points, h of them on the hull, give 2n - 2 - h triangles; their areas fill the hull. */
static void fills_the_hull(void)
{
    enum { N = 100 };
    const size_t total = N + 4;
    double x[N + 4], y[N + 4];
    static const double corner_x[] = {-3, 2, 2, -3}, corner_y[] = {1, 1, 2.5, 2.5};
    size_t triangle[6 * (N + 4)];
    size_t count = 0;
    double area = 0;

    for (size_t i = 0; i < N; i++) { /* spread evenly and irregularly inside the corners */
        x[i] = -3 + 5 * fmod(0.5 + (double)(i + 1) * sqrt(2), 1);
        y[i] = 1 + 1.5 * fmod(0.5 + (double)(i + 1) * sqrt(3), 1);
    }
    memcpy(x + N, corner_x, sizeof corner_x);
    memcpy(y + N, corner_y, sizeof corner_y);
    CHECK(triangulate(x, y, total, triangle, 2 * total, &count) == OUTCOME_OK);
    CHECK_NEAR((double)count, 2.0 * (N + 4) - 2 - 4, 0, "Euler's relation for planar graphs");
    for (size_t i = 0; i < count; i++) {
        const size_t *t = &triangle[3 * i];
        double twice =
            (x[t[1]] - x[t[0]]) * (y[t[2]] - y[t[0]]) - (x[t[2]] - x[t[0]]) * (y[t[1]] - y[t[0]]);
        CHECK(twice > 0 && t[0] < t[1] && t[0] < t[2]);
        area += 0.5 * twice;
    }
    CHECK_NEAR(area, 7.5, 1e-12, "identity: area of the rectangle");
}

/* A regular grid, every cell on one circle, far from the origin: still every cell in two. */
static void splits_a_grid(void)
{
    enum { SIDE = 12 };
    const size_t total = (size_t)SIDE * SIDE;
    double x[SIDE * SIDE], y[SIDE * SIDE];
    size_t triangle[6 * SIDE * SIDE];
    size_t again[6 * SIDE * SIDE];
    size_t count = 0;
    size_t count_again = 0;

    for (size_t i = 0; i < total; i++) {
        size_t row = i / SIDE;
        x[i] = 1000 + 0.1 * (double)(i % SIDE);
        y[i] = 0.1 * (double)row;
    }
    CHECK(triangulate(x, y, total, triangle, 2 * total, &count) == OUTCOME_OK);
    CHECK_NEAR((double)count, 2.0 * (SIDE - 1) * (SIDE - 1), 0, "identity: two a cell");
    CHECK(triangulate(x, y, total, again, 2 * total, &count_again) == OUTCOME_OK);
    CHECK(count == count_again && memcmp(triangle, again, 3 * count * sizeof *triangle) == 0);
}

static void uses_the_first_of_points_at_one_place(void)
{
    const double x[] = {0, 0, 1, 0, 1}, y[] = {0, 0, 0, 1, 0};
    size_t triangle[30];
    size_t count = 0;

    CHECK(triangulate(x, y, 5, triangle, 10, &count) == OUTCOME_OK);
    CHECK(count == 1 && triangle[0] == 0 && triangle[1] == 2 && triangle[2] == 3);
    const double same[] = {1, 1, 1, 2};
    CHECK(triangulate(same, same, 4, triangle, 10, &count) == OUTCOME_TOO_FEW);
}

static void refuses_by_name(void)
{
    double x[] = {0, 0.1, 0.2, 0.3}, y[] = {0, 0.3, 0.6, 0.9};
    size_t triangle[24];
    size_t count = 7;

    CHECK(triangulate(x, y, 4, triangle, 8, &count) == OUTCOME_SINGULAR);
    CHECK(count == 0);
    CHECK(triangulate(x, y, 2, triangle, 8, &count) == OUTCOME_TOO_FEW);
    CHECK(triangulate(x, y, 0, triangle, 8, &count) == OUTCOME_TOO_FEW);
    y[3] = 5;
    CHECK(triangulate(x, y, 4, triangle, 1, &count) == OUTCOME_TOO_FEW); /* no room */
    CHECK(count == 0);
    y[1] = (double)NAN;
    CHECK(triangulate(x, y, 4, triangle, 8, &count) == OUTCOME_NOT_FINITE);
}

CU_TestInfo triangulation_tests[] = {
    {"a square with its centre", splits_a_square_with_centre},
    {"triangles fill the hull, as many as Euler says", fills_the_hull},
    {"points on circles are split the same way each time", splits_a_grid},
    {"of points at one place the first counts", uses_the_first_of_points_at_one_place},
    {"refuses by name", refuses_by_name},
    CU_TEST_INFO_NULL,
};
