/* local_fit.h - the slope of a coefficient about an attitude, from the configuration's own points.
 *
 * Weighted least squares on the points nearest to the target: constant, slopes in the axes that vary,
 * and squares where the points bear them; distances scaled axis by axis. Used to carry a point the
 * last fraction of a millimetre to its target, never to predict.                                   */
#ifndef LAPWING_LOCAL_FIT_H
#define LAPWING_LOCAL_FIT_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

enum { LOCAL_AXES_MAX = 6 };

struct local_points {
    const double *coordinate; /* n x axes, row-major, minus the target: 0 is the target */
    const double *value;      /* n */
    const int *group;         /* n: run of the point; each run has its own level in the fit */
    size_t n;
    size_t axes;
    const double *scale;      /* axes: distance that counts as one, > 0 */
};

struct local_gradient {
    double slope[LOCAL_AXES_MAX];                      /* per unit of each axis; 0 where it does not vary */
    double covariance[LOCAL_AXES_MAX * LOCAL_AXES_MAX]; /* of the slopes, row-major axes x axes */
    double curvature[LOCAL_AXES_MAX];                  /* second derivative, 0 where not fitted */
    double residual_sd;
    size_t used;                                       /* points with weight */
    int varies[LOCAL_AXES_MAX];                        /* 1: the axis is in the fit */
};

/* OUTCOME_TOO_FEW: fewer points than terms + 2; OUTCOME_SINGULAR: the points do not span the axes;
 * OUTCOME_NOT_FINITE. */
enum outcome local_gradient_fit(const struct local_points *points, struct local_gradient *gradient);

/* Change of the value over step (axes of them), slopes and squares, and its standard uncertainty
 * from the slopes. OUTCOME_SINGULAR when step moves along an axis that does not vary in the fit. */
enum outcome local_gradient_carry(const struct local_gradient *gradient, const double *step,
                                  size_t axes, double *change, double *uncertainty);

#endif
