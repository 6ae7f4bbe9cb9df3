/* local_break.h - does a value step somewhere among the points of a local fit?
 *
 * A quadratic laid over a cliff looks like a slope, and a carry along it is wrong by a part of the
 * cliff. So the fit is made again with a step between each two neighbouring values of one axis:
 *
 *   value = level of its run + slopes and squares + height [x lies beyond the place]
 *
 * The place is the one whose step explains most of the residuals (break_screen.h); it is a break when
 * the t of its height in the weighted fit is beyond Student's two-sided multiplier for 0.001 over the
 * number of places looked at (Bonferroni): chance makes one fit in a thousand step. Three values on an
 * axis can't tell a step from a curve, and then none is found: there it is the curvature that speaks
 * (local_bend.h).
 * Source: a regression on a dummy variable at an unknown place as in R. E. Quandt, "The Estimation
 * of the Parameters of a Linear Regression System Obeying Two Separate Regimes" (1958), from memory;
 * 0.001 is common practice, no source.                                                             */
#ifndef LAPWING_LOCAL_BREAK_H
#define LAPWING_LOCAL_BREAK_H

#include "reduce/statistics/local_fit.h"

struct local_break {
    int is_found;
    size_t axis;
    double place;  /* half way between the two points beside it, minus the target */
    double height; /* of the value: beyond the place less on the target's side */
    double t, limit;
    struct local_gradient gradient; /* of the fit with the step: its last axis is the break */
};

/* Looks along one axis, among the points within the span of a gradient that local_gradient_fit() made
 * of the same points, or within the scale of the target: a point that is carried may stand outside that span. found->is_found 0: there
 * is no break, or the points can't tell. OUTCOME_OK; OUTCOME_SINGULAR when there is no axis left for
 * the step (LOCAL_AXES_MAX); OUTCOME_NO_MEMORY. */
enum outcome local_break_find(const struct local_points *points,
                              const struct local_gradient *gradient, size_t axis,
                              struct local_break *found);

/* Change of the value from the target to target + step with the break in the fit, as
 * local_gradient_carry(); axes is that of the fit without the break. NAN where that is refused. */
double local_break_change(const struct local_break *broken, const double *step, size_t axes);

#endif
