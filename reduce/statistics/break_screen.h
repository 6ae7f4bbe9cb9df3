/* break_screen.h - at which place would a step take most out of a fit's residuals?
 *
 * A full local fit with a step at each place would take many times as long as the fit itself. Here the slopes,
 * the squares and the levels of the runs are taken out of the values once, with equal weights, and out
 * of each step z in turn; a step then explains (r z)^2 / (z z) of the residuals r (Frisch and Waugh 1933). */
#ifndef LAPWING_BREAK_SCREEN_H
#define LAPWING_BREAK_SCREEN_H

#include "reduce/statistics/local_fit.h"

struct break_screen {
    size_t places; /* looked at: half way between each two values of the axis that are not one */
    double place;  /* that explains most; minus the target */
    double t;      /* of its height with equal weights; 0 when no step can be told */
};

/* 1 where x lies on the other side of the place than the target at 0, else 0. */
double break_side(double x, double place);

/* Looks along one axis. Values nearer than a fiftieth of the axis' scale have no place between them: so
 * near is an attitude set again. axis is below points->axes, points are finite. OUTCOME_OK;
 * OUTCOME_NO_MEMORY. */
enum outcome break_screen_find(const struct local_points *points, size_t axis,
                               struct break_screen *screen);

#endif
