/* pressure.c - see pressure.h. */
#include "reduce/physics/pressure.h"

#include <math.h>

#include "reduce/physics/finite.h"

enum outcome pressure_coefficient(double above_static, double dynamic_pressure, double *cp)
{
    if (!isfinite(above_static) || !isfinite(dynamic_pressure))
        return OUTCOME_NOT_FINITE;
    if (dynamic_pressure <= 0.0)
        return OUTCOME_NO_WIND;
    *cp = above_static / dynamic_pressure;
    return OUTCOME_OK;
}

enum outcome pressure_corrected(double cp, double stagnation_cp, double q_ratio, double *corrected)
{
    if (!isfinite(cp) || !isfinite(stagnation_cp) || !isfinite(q_ratio))
        return OUTCOME_NOT_FINITE;
    if (q_ratio <= 0.0)
        return OUTCOME_BLOCKAGE_RANGE;
    *corrected = stagnation_cp - (stagnation_cp - cp) / q_ratio;
    return OUTCOME_OK;
}

enum outcome pressure_force(const double *cp, const double *normal, const double *area, size_t n,
                            double force[3])
{
    double sum[3] = {0.0, 0.0, 0.0};
    if (n == 0)
        return OUTCOME_TOO_FEW;
    if (!all_finite(cp, n) || !all_finite(normal, 3 * n) || !all_finite(area, n))
        return OUTCOME_NOT_FINITE;
    for (size_t i = 0; i < n; i++) {
        if (area[i] < 0.0)
            return OUTCOME_GEOMETRY;
        for (size_t k = 0; k < 3; k++)
            sum[k] -= cp[i] * area[i] * normal[3 * i + k];
    }
    for (size_t k = 0; k < 3; k++)
        force[k] = sum[k];
    return OUTCOME_OK;
}

enum outcome pressure_section(const double *x, const double *y, const double *cp, size_t n,
                              struct section_force *force)
{
    double normal = 0.0, axial = 0.0, twice_area = 0.0;
    if (n < 3)
        return OUTCOME_TOO_FEW;
    if (!all_finite(x, n) || !all_finite(y, n) || !all_finite(cp, n))
        return OUTCOME_NOT_FINITE;
    for (size_t i = 0; i < n; i++) {
        size_t next = (i + 1) % n;
        double mean = (cp[i] + cp[next]) / 2.0;
        normal += mean * (x[next] - x[i]);
        axial -= mean * (y[next] - y[i]);
        twice_area += x[i] * y[next] - x[next] * y[i];
    }
    if (twice_area == 0.0)
        return OUTCOME_GEOMETRY;
    double sense = twice_area > 0.0 ? 1.0 : -1.0; /* counter-clockwise, clockwise */
    force->normal = sense * normal;
    force->axial = sense * axial;
    return OUTCOME_OK;
}

double pressure_section_lift(const struct section_force *force, double alpha)
{
    return force->normal * cos(alpha) - force->axial * sin(alpha);
}

double pressure_section_drag(const struct section_force *force, double alpha)
{
    return force->normal * sin(alpha) + force->axial * cos(alpha);
}
