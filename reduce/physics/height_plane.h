/* height_plane.h - from height readings at places on the car to ride heights at the axles.
 *
 * A rigid car's reference plane stands at the height
 *
 *   h(x, y) = a + b x + c y          x aft, y to the car's right, m; origin at mid-wheelbase
 *
 * above the ground at the car's own coordinates (x, y). That is exact at any angle: a point of the
 * plane is r0 + x e_x + y e_y, and its height is linear in x and y, with b and c the heights of the
 * car's unit vectors. Turned by the pitch (nose down positive) about y and then by the roll (right
 * side down positive) about the car's own x axis,
 *
 *   b = sin(pitch),   c = -sin(roll) cos(pitch)
 *
 * so pitch = asin b, roll = -asin(c / sqrt(1 - b^2)); no small angles are taken. Heights are vertical
 * ones; a beam fixed square to the car reads h/(cos pitch cos roll), 0.015 % more at one degree.
 *
 * Coefficients by least squares, every sensor with the same weight; redundant sensors leave residuals.
 * Source: Lawson, Hanson, Solving Least Squares Problems, 1974, chapters 4 and 7 (singular values and
 * rank; chapters from memory); pose by rotations about axes.                                       */
#ifndef LAPWING_HEIGHT_PLANE_H
#define LAPWING_HEIGHT_PLANE_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

enum { HEIGHT_PLACES_MAX = 8 };

enum height_model {
    HEIGHT_PLANE, /* a, b, c: three places or more, not on one line */
    HEIGHT_LINE   /* a, b, with c = 0: two places or more at different x */
};

struct height_place {
    double x, y; /* m */
};

/* Coefficients that places can fix, 1 to 3 (2 for a line); 0 without places. Places closer to one line
 * or one point than a millimetre (root of the sum of squares) do not fix what lies across: their
 * readings' noise would be all there is of it (common practice, no source). *missing (may be NULL) is
 * the unit direction in x, y of the slope that is not fixed; both 0 when all or none of the slopes is. */
int height_rank(enum height_model model, const struct height_place *place, size_t n,
                struct height_place *missing);

struct height_plane {
    double a, b, c;                     /* m, 1, 1; c is 0 on a line */
    double front, rear;                 /* m: at x = -W/2 and W/2, y = 0 */
    double pitch, roll;                 /* rad; roll is NAN on a line */
    size_t n;                           /* places */
    size_t spare;                       /* n minus coefficients: 0 leaves no residual to judge by */
    double residual[HEIGHT_PLACES_MAX]; /* m: height minus plane */
    /* The same as linear forms of the heights, for their uncertainty: front = sum of front_of[i] h_i;
     * pitch and roll by their derivatives at the pose; residual[i] = sum over j of residual_of[i][j] h_j. */
    double front_of[HEIGHT_PLACES_MAX], rear_of[HEIGHT_PLACES_MAX];
    double pitch_of[HEIGHT_PLACES_MAX], roll_of[HEIGHT_PLACES_MAX];
    double residual_of[HEIGHT_PLACES_MAX][HEIGHT_PLACES_MAX];
};

/* Fits n places and their heights, m, both finite; wheelbase W, m, positive.
 * OUTCOME_TOO_FEW: fewer places than coefficients, or more than HEIGHT_PLACES_MAX; OUTCOME_SINGULAR:
 * they do not fix the coefficients (height_rank()); OUTCOME_NOT_FINITE; OUTCOME_GEOMETRY: no wheelbase,
 * or a slope steeper than a right angle; OUTCOME_NO_MEMORY. *plane is written on OUTCOME_OK only. */
enum outcome height_plane_fit(enum height_model model, const struct height_place *place,
                              const double *height, size_t n, double wheelbase,
                              struct height_plane *plane);

#endif
