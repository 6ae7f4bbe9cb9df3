/* contour_hull.c - the outline of a triangulation: its sides that belong to one triangle only.
 *
 * Triangles are turned the same way round, so an inner side is met once in each direction and an
 * outer one only once. A few hundred taps give some 1,500 sides; comparing all pairs is quick.     */
#include "report/contour.h"

#include <math.h>
#include <stdlib.h>

struct side {
    size_t from, to;
    int is_used;
};

/* The three sides of a triangle in the common direction; gives how many were added (0 or 3). */
static size_t triangle_sides(const struct contour_surface *surface,
                             const struct contour_triangle *triangle, struct side *out)
{
    const size_t *corner = triangle->corner;
    const struct contour_vertex *a = &surface->vertices[corner[0]];
    const struct contour_vertex *b = &surface->vertices[corner[1]];
    const struct contour_vertex *c = &surface->vertices[corner[2]];
    double area = (b->x - a->x) * (c->y - a->y) - (c->x - a->x) * (b->y - a->y);

    if (!isfinite(a->value) || !isfinite(b->value) || !isfinite(c->value))
        return 0;
    size_t second = area > 0 ? corner[1] : corner[2];
    size_t third = area > 0 ? corner[2] : corner[1];
    out[0] = (struct side){corner[0], second, 0};
    out[1] = (struct side){second, third, 0};
    out[2] = (struct side){third, corner[0], 0};
    return 3;
}

static void mark_inner(struct side *sides, size_t n)
{
    for (size_t i = 0; i < n; i++)
        for (size_t j = i + 1; j < n; j++)
            if (sides[i].from == sides[j].to && sides[i].to == sides[j].from)
                sides[i].is_used = sides[j].is_used = 1;
}

static struct side *unused_from(struct side *sides, size_t n, size_t vertex)
{
    for (size_t i = 0; i < n; i++)
        if (!sides[i].is_used && sides[i].from == vertex)
            return &sides[i];
    return NULL;
}

static void follow(const struct contour_surface *surface, struct side *sides, size_t n,
                   struct side *first, struct path *path)
{
    struct side *side = first;

    while (side != NULL) {
        const struct contour_vertex *at = &surface->vertices[side->from];
        path_point(path, at->x, at->y);
        side->is_used = 1;
        side = unused_from(sides, n, side->to);
    }
    path_close(path);
}

enum status contour_hull(const struct contour_surface *surface, struct path *path,
                         struct fault *fault)
{
    size_t n = 0;
    struct side *sides = malloc((3 * surface->n_triangles + 1) * sizeof *sides);

    if (sides == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the outline of %zu triangles",
                    surface->n_triangles);
    for (size_t k = 0; k < surface->n_triangles; k++)
        n += triangle_sides(surface, &surface->triangles[k], sides + n);
    mark_inner(sides, n);
    for (size_t k = 0; k < n; k++)
        if (!sides[k].is_used)
            follow(surface, sides, n, &sides[k], path);
    free(sides);
    return OK;
}
