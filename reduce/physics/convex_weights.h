/* convex_weights.h - interpolation among scattered places, and never outside them.
 *
 * A place inside the convex hull of others is a mean of them with weights that are not negative:
 *
 *   sum w_i x_i = x,   sum w_i = 1,   w_i >= 0
 *
 * Of all such weights those with the least sum of w_i |x_i - x|^2 are taken. They are the barycentric
 * weights in the simplex of the Delaunay triangulation that holds x, in any number of dimensions:
 * linear interpolation between the nearest measurements, continuous, exact at every place and for
 * every plane. Where several places are on one sphere (a grid) the simplex is not unique; the first
 * by index is taken, so the same places give the same weights.
 *
 * The minimum is found by the simplex method with Bland's rule.
 * Source: the Delaunay triangulation as the lower hull of the paraboloid, K. Brown, Information
 * Processing Letters 9 (1979) 223; R. Bland, Mathematics of Operations Research 2 (1977) 103 (both from
 * memory).                                                                                          */
#ifndef LAPWING_CONVEX_WEIGHTS_H
#define LAPWING_CONVEX_WEIGHTS_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

enum { CONVEX_AXES_MAX = 8 };

/* Weights of n places, given row by row with `axes` coordinates each, for the place `at`. Coordinates
 * are compared as they are: the caller scales them to one unit. No axes: the nearest is any, and the
 * first has all the weight. Rounding of 1e-9 of the largest distance is let through at the hull.
 * OUTCOME_OUTSIDE: not in the hull; OUTCOME_TOO_FEW: n is 0; OUTCOME_NOT_FINITE; OUTCOME_GEOMETRY: more
 * than CONVEX_AXES_MAX axes; OUTCOME_SINGULAR: the method did not end; OUTCOME_NO_MEMORY. weight is
 * written on OUTCOME_OK only. */
enum outcome convex_weights(const double *place, size_t n, size_t axes, const double *at,
                            double *weight);

#endif
