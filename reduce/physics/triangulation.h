/* triangulation.h - triangles between points in a plane, none of whose circles holds another point.
 *
 * Used to draw what pressure taps measured: a value inside a triangle is linear between three
 * taps and can be traced to them. The work is Qhull's (Barber, Dobkin and Huhdanpaa, "The
 * Quickhull Algorithm for Convex Hulls", 1996); order and orientation are made definite here. */
#ifndef LAPWING_TRIANGULATION_H
#define LAPWING_TRIANGULATION_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

/* Delaunay triangulation of n points.
 *
 * Given:    x, y      n each, finite, one unit for both
 *           capacity  triangles that fit into triangle; 2 n are always enough
 * Returned: triangle  3 indices each, counter-clockwise from the smallest; sorted by the first
 *                     index, then the second, then the third
 *           count     their number, 0 on any other outcome than OK
 * Of points at the same place only the first is a corner. Four or more points on one circle are
 * split in a way that depends on their order only. Triangles flat to rounding are left out.
 * OUTCOME_TOO_FEW: fewer than 3 places, or capacity is too small; OUTCOME_SINGULAR: all on one
 * line; OUTCOME_NOT_FINITE; OUTCOME_NO_MEMORY. Allocates while at work, keeps nothing; safe in
 * threads. */
enum outcome triangulate(const double *x, const double *y, size_t n, size_t *triangle,
                         size_t capacity, size_t *count);

#endif
