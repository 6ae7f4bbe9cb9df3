/* axes.c - see axes.h. */
#include "reduce/physics/axes.h"

#include <math.h>

#include "reduce/physics/finite.h"

static int are_signs(const double sign[3])
{
    for (int i = 0; i < 3; i++)
        if (sign[i] != 1.0 && sign[i] != -1.0)
            return 0;
    return 1;
}

enum outcome axes_to_car(const double load[6], const double axis_sign[3],
                         const double moment_sign[3], double car[6])
{
    if (!all_finite(load, 6) || !all_finite(axis_sign, 3) || !all_finite(moment_sign, 3))
        return OUTCOME_NOT_FINITE;
    if (!are_signs(axis_sign) || !are_signs(moment_sign))
        return OUTCOME_GEOMETRY;
    for (int i = 0; i < 3; i++) {
        car[i] = axis_sign[i] * load[i];
        car[i + 3] = moment_sign[i] * load[i + 3];
    }
    return OUTCOME_OK;
}

enum outcome axes_transfer(const double load[6], const double point[3], double at_origin[6])
{
    if (!all_finite(load, 6) || !all_finite(point, 3))
        return OUTCOME_NOT_FINITE;
    double cross[3];
    for (int i = 0; i < 3; i++) {
        int j = (i + 1) % 3, k = (i + 2) % 3;
        cross[i] = point[j] * load[k] - point[k] * load[j];
    }
    for (int i = 0; i < 3; i++) {
        at_origin[i] = load[i];
        at_origin[i + 3] = load[i + 3] + cross[i];
    }
    return OUTCOME_OK;
}

enum outcome axes_axle_split(double downforce, double pitching_moment, double wheelbase,
                             double *front, double *rear)
{
    if (!isfinite(downforce) || !isfinite(pitching_moment) || !isfinite(wheelbase))
        return OUTCOME_NOT_FINITE;
    if (wheelbase <= 0.0)
        return OUTCOME_GEOMETRY;
    *front = downforce / 2.0 - pitching_moment / wheelbase;
    *rear = downforce / 2.0 + pitching_moment / wheelbase;
    return OUTCOME_OK;
}

enum outcome axes_to_wind(const double load[6], double yaw, double wind[6])
{
    if (!all_finite(load, 6) || !isfinite(yaw))
        return OUTCOME_NOT_FINITE;
    for (int first = 0; first < 6; first += 3) { /* forces, then moments */
        double x = load[first], y = load[first + 1];
        wind[first] = x * cos(yaw) - y * sin(yaw);
        wind[first + 1] = x * sin(yaw) + y * cos(yaw);
        wind[first + 2] = load[first + 2];
    }
    return OUTCOME_OK;
}

enum outcome axes_from_wind(const double wind[6], double yaw, double load[6])
{
    return axes_to_wind(wind, -yaw, load); /* turned back by the same angle */
}

enum outcome axes_sae_j1594(const double coefficient[COEFFICIENTS], double sae[COEFFICIENTS])
{
    static const double sense[COEFFICIENTS] = {
        [COEFFICIENT_CD] = 1.0,   [COEFFICIENT_CY] = 1.0,   [COEFFICIENT_CL] = -1.0,
        [COEFFICIENT_CLF] = -1.0, [COEFFICIENT_CLR] = -1.0, [COEFFICIENT_CRM] = -1.0,
        [COEFFICIENT_CPM] = 1.0,  [COEFFICIENT_CYM] = -1.0};
    if (!all_finite(coefficient, COEFFICIENTS))
        return OUTCOME_NOT_FINITE;
    for (int i = 0; i < COEFFICIENTS; i++)
        sae[i] = sense[i] * coefficient[i];
    return OUTCOME_OK;
}
