/* map_triangles.c - triangles of the pressure maps; see map_triangles.h. */
#include "reduce/map_triangles.h"

#include <stdlib.h>
#include <string.h>

#include "reduce/physics/triangulation.h"
#include "reduce/rows.h"

enum status triangle_writer_open(struct store *store, int64_t reduction,
                                 struct triangle_writer *writer, struct fault *fault)
{
    writer->reduction = reduction;
    return statement_prepare(store,
                             "INSERT INTO map_triangle (reduction, configuration, target, surface, "
                             "tap_a, tap_b, tap_c, triangle) VALUES (?,?,?,?,?,?,?,?)",
                             &writer->insert, fault);
}

void triangle_writer_end(struct triangle_writer *writer)
{
    statement_free(writer->insert);
    writer->insert = NULL;
}

/* The live taps of one surface. */
struct surface_taps {
    double *x, *y;
    size_t *tap;     /* index in the map */
    size_t *triples; /* three indices into tap a triangle */
    size_t n;
};

static void surface_end(struct surface_taps *surface)
{
    free(surface->x);
    free(surface->y);
    free(surface->tap);
    free(surface->triples);
}

/* n points in the plane have fewer than 2n triangles. */
static enum status surface_make(size_t n, struct surface_taps *surface, struct fault *fault)
{
    void *parts[4] = {NULL, NULL, NULL, NULL};
    const size_t counts[] = {n, n, n, 6 * n};
    const size_t sizes[] = {sizeof(double), sizeof(double), sizeof(size_t), sizeof(size_t)};
    enum status status = OK;
    for (int i = 0; status == OK && i < 4; i++)
        status = array_make(&parts[i], counts[i], sizes[i], fault);
    *surface = (struct surface_taps){parts[0], parts[1], parts[2], parts[3], 0};
    if (status != OK)
        surface_end(surface);
    return status;
}

static void collect(const struct tap_map *map, const int *is_live, const char *name,
                    struct surface_taps *surface)
{
    surface->n = 0;
    for (size_t i = 0; i < map->n_taps; i++) {
        if (!is_live[i] || strcmp(map->taps[i].surface, name) != 0)
            continue;
        surface->x[surface->n] = map->taps[i].x;
        surface->y[surface->n] = map->taps[i].y;
        surface->tap[surface->n++] = i;
    }
}

static enum status write_triangle(struct triangle_writer *writer, const char *const texts[6],
                                  size_t triangle, struct fault *fault)
{
    enum status status = statement_bind_integer(writer->insert, 1, writer->reduction, fault);
    for (int i = 0; status == OK && i < 6; i++)
        status = statement_bind_text(writer->insert, 2 + i, texts[i], fault);
    if (status == OK)
        status = statement_bind_integer(writer->insert, 8, (int64_t)triangle, fault);
    return status == OK ? statement_run(writer->insert, fault) : status;
}

static enum status write_surface(struct triangle_writer *writer, const char *configuration,
                                 const char *target, const struct tap_map *map, const char *name,
                                 const struct surface_taps *surface, struct fault *fault)
{
    size_t n = 0;
    enum status status = OK;
    if (surface->n < 3)
        return OK;
    enum outcome outcome =
        triangulate(surface->x, surface->y, surface->n, surface->triples, 2 * surface->n, &n);
    if (outcome == OUTCOME_NO_MEMORY)
        return FAIL(fault, NO_MEMORY, "no memory for the triangles of surface %s", name);
    if (outcome != OUTCOME_OK)
        return OK;
    for (size_t i = 0; status == OK && i < n; i++) {
        const size_t *corner = &surface->triples[3 * i];
        const char *const texts[] = {configuration,
                                     target,
                                     name,
                                     map->taps[surface->tap[corner[0]]].tap,
                                     map->taps[surface->tap[corner[1]]].tap,
                                     map->taps[surface->tap[corner[2]]].tap};
        status = write_triangle(writer, texts, i + 1, fault);
    }
    return status;
}

/* 1 for the first tap of its surface: each surface is drawn once. */
static int is_first(const struct tap_map *map, size_t tap)
{
    for (size_t i = 0; i < tap; i++)
        if (strcmp(map->taps[i].surface, map->taps[tap].surface) == 0)
            return 0;
    return 1;
}

enum status triangles_write(struct triangle_writer *writer, const char *configuration,
                            const char *target, const struct tap_map *map, const int *is_live,
                            struct fault *fault)
{
    struct surface_taps surface;
    enum status status = surface_make(map->n_taps, &surface, fault);
    if (status != OK)
        return status;
    for (size_t i = 0; status == OK && i < map->n_taps; i++) {
        if (!is_first(map, i))
            continue;
        collect(map, is_live, map->taps[i].surface, &surface);
        status = write_surface(writer, configuration, target, map, map->taps[i].surface, &surface,
                               fault);
    }
    surface_end(&surface);
    return status;
}
