/* buoyancy.c - see buoyancy.h. */
#include "reduce/physics/buoyancy.h"

#include <math.h>

enum outcome buoyancy_drag(double gradient, double volume_factor, double volume, double area,
                           double *drag_coefficient)
{
    if (!isfinite(gradient) || !isfinite(volume_factor) || !isfinite(volume) || !isfinite(area))
        return OUTCOME_NOT_FINITE;
    if (volume_factor <= 0.0 || volume <= 0.0 || area <= 0.0)
        return OUTCOME_GEOMETRY;
    *drag_coefficient = -gradient * volume_factor * volume / area;
    return OUTCOME_OK;
}

void buoyancy_take_off(const double coefficient[COEFFICIENTS], double drag_coefficient,
                       double without[COEFFICIENTS])
{
    for (int i = 0; i < COEFFICIENTS; i++)
        without[i] = coefficient[i];
    without[COEFFICIENT_CD] -= drag_coefficient;
}
