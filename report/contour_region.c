/* contour_region.c - marching squares with chained, closed outlines; see contour.h.
 *
 * Corners of a cell are counted 0 (i, j), 1 (i+1, j), 2 (i+1, j+1), 3 (i, j+1); its sides 0 between
 * corners 0 and 1, 1 between 1 and 2, 2 between 3 and 2, 3 between 0 and 3. Every crossed side of the
 * grid is left by exactly one segment and reached by exactly one, so following them closes.        */
#include "report/contour.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

static const size_t none = SIZE_MAX;

/* Segments by the corners that are inside, bit k for corner k: from side, to side; -1 none.
 * The two saddles are listed with their insides apart; joined ones are in joined_saddle. */
static const signed char segments[16][4] = {
    {-1, -1, -1, -1}, {0, 3, -1, -1}, {1, 0, -1, -1}, {1, 3, -1, -1},
    {2, 1, -1, -1},   {0, 3, 2, 1},   {2, 0, -1, -1}, {2, 3, -1, -1},
    {3, 2, -1, -1},   {0, 2, -1, -1}, {1, 0, 3, 2},   {1, 2, -1, -1},
    {3, 1, -1, -1},   {0, 1, -1, -1}, {3, 0, -1, -1}, {-1, -1, -1, -1},
};
static const signed char joined_saddle[2][4] = {{0, 1, 2, 3}, {3, 0, 1, 2}};

/* Horizontal sides are numbered first, then vertical ones. */
static size_t side_number(const struct contour_grid *grid, size_t i, size_t j, int side)
{
    size_t vertical = grid->columns * grid->rows;

    switch (side) {
    case 0:
        return j * grid->columns + i;
    case 1:
        return vertical + j * grid->columns + i + 1;
    case 2:
        return (j + 1) * grid->columns + i;
    default:
        return vertical + j * grid->columns + i;
    }
}

static const signed char *cell_segments(const double corner[4], double level)
{
    unsigned inside = 0;

    for (unsigned k = 0; k < 4; k++)
        if (corner[k] >= level)
            inside |= 1U << k;
    int is_saddle = inside == 5 || inside == 10;
    if (is_saddle && (corner[0] + corner[1] + corner[2] + corner[3]) / 4 >= level)
        return joined_saddle[inside == 10];
    return segments[inside];
}

static void link_cell(const struct contour_grid *grid, size_t i, size_t j, double level,
                      size_t *next)
{
    const double *row = grid->value + j * grid->columns + i;
    const double corner[4] = {row[0], row[1], row[grid->columns + 1], row[grid->columns]};
    const signed char *segment = cell_segments(corner, level);

    for (int k = 0; k < 4 && segment[k] >= 0; k += 2)
        next[side_number(grid, i, j, segment[k])] = side_number(grid, i, j, segment[k + 1]);
}

/* Where the level crosses a side; half way when one end is empty (a clip hides that part). */
static void add_crossing(const struct contour_grid *grid, size_t side, double level,
                         struct path *path)
{
    size_t nodes = grid->columns * grid->rows;
    int is_vertical = side >= nodes;
    size_t node = is_vertical ? side - nodes : side;
    double a = grid->value[node];
    double b = grid->value[is_vertical ? node + grid->columns : node + 1];
    double share = (level - a) / (b - a);

    if (!(share >= 0 && share <= 1))
        share = 0.5;
    size_t column = node % grid->columns;
    size_t row = node / grid->columns;
    double x = (double)column + (is_vertical ? 0 : share);
    double y = (double)row + (is_vertical ? share : 0);
    path_point(path, grid->left + grid->spacing * x, grid->top + grid->spacing * y);
}

static void follow(const struct contour_grid *grid, size_t start, double level, size_t *next,
                   struct path *path)
{
    size_t side = start;

    while (next[side] != none) {
        size_t following = next[side];
        add_crossing(grid, side, level, path);
        next[side] = none;
        side = following;
    }
    path_close(path);
}

enum status contour_region(const struct contour_grid *grid, double level, struct path *path,
                           struct fault *fault)
{
    size_t n = 2 * grid->columns * grid->rows;
    size_t *next = malloc(n * sizeof *next);

    if (next == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the outlines of a map");
    for (size_t k = 0; k < n; k++)
        next[k] = none;
    for (size_t j = 0; j + 1 < grid->rows; j++)
        for (size_t i = 0; i + 1 < grid->columns; i++)
            link_cell(grid, i, j, level, next);
    for (size_t k = 0; k < n; k++)
        if (next[k] != none)
            follow(grid, k, level, next, path);
    free(next);
    return OK;
}
