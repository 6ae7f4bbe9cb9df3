/* freestream.c - see freestream.h. */
#include "reduce/physics/freestream.h"

#include <math.h>

const double FREESTREAM_FASTEST = 0.6;

static enum outcome accept_mach(double mach, double *accepted)
{
    if (mach > FREESTREAM_FASTEST)
        return OUTCOME_TOO_FAST;
    *accepted = mach;
    return OUTCOME_OK;
}

static enum outcome check_pressures(double static_pressure, double rise)
{
    if (!isfinite(static_pressure) || !isfinite(rise))
        return OUTCOME_NOT_FINITE;
    if (static_pressure <= 0.0)
        return OUTCOME_AIR_RANGE;
    return rise > 0.0 ? OUTCOME_OK : OUTCOME_NO_WIND;
}

enum outcome freestream_mach(double static_pressure, double total_minus_static, double *mach)
{
    enum outcome outcome = check_pressures(static_pressure, total_minus_static);
    if (outcome != OUTCOME_OK)
        return outcome;
    return accept_mach(sqrt(5.0 * expm1(2.0 / 7.0 * log1p(total_minus_static / static_pressure))),
                       mach);
}

enum outcome freestream_mach_from_q(double static_pressure, double dynamic_pressure, double *mach)
{
    enum outcome outcome = check_pressures(static_pressure, dynamic_pressure);
    if (outcome != OUTCOME_OK)
        return outcome;
    return accept_mach(sqrt(dynamic_pressure / (0.7 * static_pressure)), mach);
}

double freestream_dynamic_pressure(double static_pressure, double mach)
{
    return 0.7 * static_pressure * mach * mach;
}

/* (p0 - p)/p */
static double relative_rise(double mach)
{
    return expm1(3.5 * log1p(0.2 * mach * mach));
}

double freestream_pressure_rise(double static_pressure, double mach)
{
    return static_pressure * relative_rise(mach);
}

double freestream_stagnation_cp(double mach)
{
    double square = mach * mach;
    if (square == 0.0)
        return 1.0; /* the limit; 0/0 otherwise */
    return relative_rise(mach) / (0.7 * square);
}

double freestream_static_temperature(double total_temperature, double mach)
{
    return total_temperature / (1.0 + 0.2 * mach * mach);
}

double freestream_of_drop(const double polynomial[DROP_TERMS], double drop)
{
    double q = 0.0;
    for (int k = DROP_TERMS - 1; k >= 0; k--)
        q = q * drop + polynomial[k];
    return q;
}

double freestream_drop_slope(const double polynomial[DROP_TERMS], double drop)
{
    double slope = 0.0;
    for (int k = DROP_TERMS - 1; k >= 1; k--)
        slope = slope * drop + k * polynomial[k];
    return slope;
}

double freestream_speed(double dynamic_pressure, double density)
{
    return sqrt(2.0 * dynamic_pressure / density);
}
