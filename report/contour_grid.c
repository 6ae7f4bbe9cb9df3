/* contour_grid.c - triangles to nodes; see contour.h. */
#include "report/contour.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { RIM = 4, RINGS = 2, NODES_MAX = 1000000 };

struct box {
    double left, right, top, bottom;
};

static int is_live(const struct contour_surface *surface, const struct contour_triangle *triangle)
{
    for (int i = 0; i < 3; i++)
        if (!isfinite(surface->vertices[triangle->corner[i]].value))
            return 0;
    return 1;
}

static struct box bounds(const struct contour_surface *surface)
{
    struct box box = {INFINITY, -INFINITY, INFINITY, -INFINITY};

    for (size_t i = 0; i < surface->n_vertices; i++) {
        const struct contour_vertex *v = &surface->vertices[i];
        box.left = fmin(box.left, v->x);
        box.right = fmax(box.right, v->x);
        box.top = fmin(box.top, v->y);
        box.bottom = fmax(box.bottom, v->y);
    }
    return box;
}

/* Barycentric value of triangle a b c at (x, y); NAN outside or when it has no area. */
static double triangle_value(const struct contour_vertex *a, const struct contour_vertex *b,
                             const struct contour_vertex *c, double x, double y)
{
    const double edge = -1e-9;
    double area = (b->x - a->x) * (c->y - a->y) - (c->x - a->x) * (b->y - a->y);
    double share_b = ((x - a->x) * (c->y - a->y) - (c->x - a->x) * (y - a->y)) / area;
    double share_c = ((b->x - a->x) * (y - a->y) - (x - a->x) * (b->y - a->y)) / area;
    double share_a = 1 - share_b - share_c;

    if (!(share_a >= edge && share_b >= edge && share_c >= edge))
        return NAN;
    return share_a * a->value + share_b * b->value + share_c * c->value;
}

static size_t node_index(double place, double origin, double spacing, size_t n)
{
    double index = floor((place - origin) / spacing);

    return index < 0 ? 0 : (size_t)fmin(index, (double)(n - 1));
}

static void fill_triangle(struct contour_grid *grid, const struct contour_vertex *a,
                          const struct contour_vertex *b, const struct contour_vertex *c)
{
    double low_x = fmin(a->x, fmin(b->x, c->x));
    double high_x = fmax(a->x, fmax(b->x, c->x));
    double low_y = fmin(a->y, fmin(b->y, c->y));
    double high_y = fmax(a->y, fmax(b->y, c->y));
    size_t last_i = node_index(high_x, grid->left, grid->spacing, grid->columns);
    size_t last_j = node_index(high_y, grid->top, grid->spacing, grid->rows);

    for (size_t j = node_index(low_y, grid->top, grid->spacing, grid->rows); j <= last_j; j++) {
        for (size_t i = node_index(low_x, grid->left, grid->spacing, grid->columns); i <= last_i;
             i++) {
            double value = triangle_value(a, b, c, grid->left + grid->spacing * (double)i,
                                          grid->top + grid->spacing * (double)j);
            if (!isnan(value))
                grid->value[j * grid->columns + i] = value;
        }
    }
}

/* Mean of the filled neighbours of an empty node, from the values before this ring. */
static double neighbour_mean(const double *value, size_t columns, size_t node)
{
    const size_t at[8] = {node - columns - 1, node - columns,    node - columns + 1,
                          node - 1,           node + 1,          node + columns - 1,
                          node + columns,     node + columns + 1};
    double sum = 0;
    int n = 0;

    for (int k = 0; k < 8; k++) {
        if (isnan(value[at[k]]))
            continue;
        sum += value[at[k]];
        n++;
    }
    return n > 0 ? sum / n : (double)NAN;
}

/* Carries values RINGS nodes outwards; the rim is wider than that and stays empty. */
static enum status carry_outwards(struct contour_grid *grid, struct fault *fault)
{
    size_t n = grid->columns * grid->rows;
    double *before = malloc(n * sizeof *before);

    if (before == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a map of %zu nodes", n);
    for (int ring = 0; ring < RINGS; ring++) {
        memcpy(before, grid->value, n * sizeof *before);
        for (size_t j = 1; j + 1 < grid->rows; j++)
            for (size_t i = 1; i + 1 < grid->columns; i++)
                if (isnan(before[j * grid->columns + i]))
                    grid->value[j * grid->columns + i] =
                        neighbour_mean(before, grid->columns, j * grid->columns + i);
    }
    free(before);
    return OK;
}

enum status contour_grid_make(const struct contour_surface *surface, double spacing,
                              struct contour_grid *grid, struct fault *fault)
{
    struct box box = bounds(surface);

    *grid = (struct contour_grid){0};
    double wide = (box.right - box.left) / spacing + 2 * RIM + 2;
    double tall = (box.bottom - box.top) / spacing + 2 * RIM + 2;
    if (!(wide * tall < NODES_MAX))
        return FAIL(fault, NO_RESULT, "a map of %zu taps has no finite extent to draw",
                    surface->n_vertices);
    grid->columns = (size_t)wide;
    grid->rows = (size_t)tall;
    grid->left = box.left - RIM * spacing;
    grid->top = box.top - RIM * spacing;
    grid->spacing = spacing;
    size_t n = grid->columns * grid->rows;
    grid->value = malloc(n * sizeof *grid->value);
    if (grid->value == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a map of %zu nodes", n);
    for (size_t k = 0; k < n; k++)
        grid->value[k] = NAN;
    for (size_t k = 0; k < surface->n_triangles; k++) {
        const size_t *corner = surface->triangles[k].corner;
        if (is_live(surface, &surface->triangles[k]))
            fill_triangle(grid, &surface->vertices[corner[0]], &surface->vertices[corner[1]],
                          &surface->vertices[corner[2]]);
    }
    enum status status = carry_outwards(grid, fault);
    if (status != OK)
        contour_grid_free(grid);
    return status;
}

void contour_grid_free(struct contour_grid *grid)
{
    free(grid->value);
    *grid = (struct contour_grid){0};
}
