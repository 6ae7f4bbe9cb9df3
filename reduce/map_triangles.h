/* map_triangles.h - Delaunay triangles over the live taps of each surface, for drawing maps. */
#ifndef LAPWING_MAP_TRIANGLES_H
#define LAPWING_MAP_TRIANGLES_H

#include <stdint.h>

#include "reduce/tap_map.h"

struct triangle_writer {
    struct statement *insert;
    int64_t reduction;
};

/* On OK the caller ends *writer with triangle_writer_end(). */
enum status triangle_writer_open(struct store *store, int64_t reduction,
                                 struct triangle_writer *writer, struct fault *fault);
void triangle_writer_end(struct triangle_writer *writer); /* an empty one is fine */

/* Triangulates every surface in plan view (x, y) over its taps with is_live set. A surface whose taps
 * bear no triangle (fewer than three, or all on one line) gets none. */
enum status triangles_write(struct triangle_writer *writer, const char *configuration,
                            const char *target, const struct tap_map *map, const int *is_live,
                            struct fault *fault);

#endif
