/* local_fit.h - the slope of a coefficient about an attitude, from the configuration's own points.
 *
 * Weighted least squares on the points nearest to the target: constant, slopes in the axes that
 * vary, and squares where the points bear them; distances scaled axis by axis. Used to carry a
 * point the last fraction of a millimetre to its target, never to predict. */
#ifndef LAPWING_LOCAL_FIT_H
#define LAPWING_LOCAL_FIT_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

enum { LOCAL_AXES_MAX = 7 }; /* six of attitude, and one for a break (local_break.h) */

struct local_points {
    const double *coordinate; /* n x axes, row-major, minus the target: 0 is the target */
    const double *value;      /* n */
    const int *group;         /* n: run of the point; each run has its own level in the fit */
    size_t n;
    size_t axes;
    const double *scale; /* axes: distance that counts as one, > 0 */
};

struct local_gradient {
    double slope[LOCAL_AXES_MAX];     /* per unit of each axis; 0 where it does not vary */
    double curvature[LOCAL_AXES_MAX]; /* second derivative, 0 where not fitted */
    /* of the slopes, then the second derivatives: row-major, 2 axes x 2 axes; 0 where not fitted */
    double covariance[4 * LOCAL_AXES_MAX * LOCAL_AXES_MAX];
    double residual_sd;
    double degrees_of_freedom;  /* of residual_sd^2 and so of the covariance: Satterthwaite's */
    size_t used;                /* points with weight */
    int varies[LOCAL_AXES_MAX]; /* 1: the axis is in the fit */
    /* span of those points on each axis, minus the target: 0 lies inside unless the target is
     * beyond the points */
    double lowest[LOCAL_AXES_MAX], highest[LOCAL_AXES_MAX];
};

/* Fits  value = level of its run + sum_a (slope_a x_a + curvature_a x_a^2 / 2)  to the points
 * nearest to x = 0; which those are and what they bear: neighbours.h. No products of axes: on
 * points that lie evenly about the target they do not touch the slopes. Squares are left out when
 * there are too few points for them. residual_sd is that of one point; its degrees of freedom are
 * (tr M)^2 / tr(M^2), M = sqrt(W) (I - P) sqrt(W), of the weighted sum of squares r'r = y'M y
 * (Satterthwaite, "An Approximate Distribution of Estimates of Variance Components", 1946).
 * OUTCOME_TOO_FEW: fewer points than runs + terms + 2; OUTCOME_SINGULAR: no axis varies within a
 * run, or those that do move together, or axes is not 1 .. LOCAL_AXES_MAX; OUTCOME_NOT_FINITE;
 * OUTCOME_NO_MEMORY. Then every slope is 0, no axis varies and residual_sd is NAN. */
enum outcome local_gradient_fit(const struct local_points *points, struct local_gradient *gradient);

/* Change of the value from the target to target + step, and its standard uncertainty:
 *
 *   change = sum_a (slope_a step_a + curvature_a step_a^2 / 2),   u^2 = z' covariance z,
 *   z = (step_1, step_2 .., step_1^2 / 2, step_2^2 / 2 ..)
 *
 * So the value of a point that stands at x (minus the target), carried to the target, is its value
 * minus the change over step = x; not plus the change over -x, which has the curvature's sign
 * wrong. axes is the fit's own. u is that of slopes and squares: over a step as long as the points
 * are apart the squares' own is the larger. OUTCOME_SINGULAR when step moves along an axis that does not vary in the fit: a
 * caller passes 0 for an axis that is within its tolerance. OUTCOME_NOT_FINITE. Then both results
 * are NAN. */
enum outcome local_gradient_carry(const struct local_gradient *gradient, const double *step,
                                  size_t axes, double *change, double *uncertainty);

/* How far the target lies outside the points of the fit on one axis, as a share of their span there;
 * 0 when it lies among them, infinite when they all stand at one place beside it. A carry over a
 * share of more than a tenth rests on points that are not there (common practice, no source). */
double local_gradient_beyond(const struct local_gradient *gradient, size_t axis);

#endif
