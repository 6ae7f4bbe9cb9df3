/* contour.h - filled bands over scattered points: triangles, a grid between them, closed outlines.
 *
 * Values are linear over each triangle, so nothing overshoots and each colour can be traced to three
 * measured points. Everything is in page coordinates. Outlines are marching squares whose segments
 * are chained by the grid edges they cross, oriented with the high side on one hand, and always
 * closed, because the grid's rim is kept empty. Drawing low to high over each other leaves no
 * seams.                                                                                           */
#ifndef LAPWING_REPORT_CONTOUR_H
#define LAPWING_REPORT_CONTOUR_H

#include <stddef.h>

#include "report/svg.h"
#include "schema/fault.h"

struct contour_vertex {
    double x, y;  /* page */
    double value; /* NAN: takes no part */
};

struct contour_triangle {
    size_t corner[3]; /* indices of vertices */
};

struct contour_surface {
    const struct contour_vertex *vertices;
    const struct contour_triangle *triangles;
    size_t n_vertices, n_triangles;
};

/* Node values, row by row; NAN where there is none. */
struct contour_grid {
    double *value;
    size_t columns, rows;
    double left, top, spacing;
};

/* Linear values on nodes of the given spacing, carried a little beyond the hull, so that a clip to
 * the hull has a full edge. Triangles with a corner of NAN are skipped. On OK the caller ends the
 * grid with contour_grid_free(). */
enum status contour_grid_make(const struct contour_surface *surface, double spacing,
                              struct contour_grid *grid, struct fault *fault);
void contour_grid_free(struct contour_grid *grid);

/* Adds the closed outlines of the region at or above level. */
enum status contour_region(const struct contour_grid *grid, double level, struct path *path,
                           struct fault *fault);

/* Adds the closed outline of all triangles with three live corners: the measured hull. */
enum status contour_hull(const struct contour_surface *surface, struct path *path,
                         struct fault *fault);

#endif
