/* air.c - see air.h. */
#include "reduce/physics/air.h"

#include <math.h>

#include "reduce/physics/constants.h"

static const double least_pressure = 50e3, most_pressure = 120e3;          /* Pa */
static const double least_temperature = 223.15, most_temperature = 333.15; /* K */

static int is_within(double value, double least, double most)
{
    return value >= least && value <= most; /* false for NAN */
}

static int is_air_temperature(double temperature)
{
    return is_within(temperature, least_temperature, most_temperature);
}

double air_saturation_pressure(double temperature)
{
    const double a = 1.2378847e-5, b = -1.9121316e-2, c = 33.93711047, d = -6.3431645e3;
    if (!is_air_temperature(temperature))
        return NAN;
    return exp(a * temperature * temperature + b * temperature + c + d / temperature);
}

/* Equation A1.2: how much the vapour pressure over water rises because air is present too. */
static double enhancement_factor(double pressure, double celsius)
{
    return 1.00062 + 3.14e-8 * pressure + 5.6e-7 * celsius * celsius;
}

/* Equation A1.4: departure from an ideal gas; x is the mole fraction of water vapour. */
static double compressibility(double pressure, double celsius, double x)
{
    const double a0 = 1.58123e-6, a1 = -2.9331e-8, a2 = 1.1043e-10;
    const double b0 = 5.707e-6, b1 = -2.051e-8, c0 = 1.9898e-4, c1 = -2.376e-6;
    const double d = 1.83e-11, e = -0.765e-8;
    double ratio = pressure / (celsius + CELSIUS_ZERO);
    double first = a0 + a1 * celsius + a2 * celsius * celsius + (b0 + b1 * celsius) * x +
                   (c0 + c1 * celsius) * x * x;
    return 1.0 - ratio * first + ratio * ratio * (d + e * x * x);
}

enum outcome air_density(double pressure, double temperature, double humidity, struct air *air)
{
    if (!isfinite(pressure) || !isfinite(temperature) || !isfinite(humidity))
        return OUTCOME_NOT_FINITE;
    if (!is_within(pressure, least_pressure, most_pressure) || !is_air_temperature(temperature) ||
        !is_within(humidity, 0.0, 1.0))
        return OUTCOME_AIR_RANGE;

    double celsius = temperature - CELSIUS_ZERO;
    double vapour = humidity * enhancement_factor(pressure, celsius) *
                    air_saturation_pressure(temperature) / pressure;
    double dry = pressure * MOLAR_MASS_AIR /
                 (compressibility(pressure, celsius, vapour) * MOLAR_GAS_CONSTANT * temperature);
    air->density = dry * (1.0 - vapour * (1.0 - MOLAR_MASS_WATER / MOLAR_MASS_AIR));
    air->in_range = is_within(pressure, 60e3, 110e3) && is_within(celsius, 15.0, 27.0);
    return OUTCOME_OK;
}

double air_viscosity(double temperature)
{
    if (!is_air_temperature(temperature))
        return NAN;
    return SUTHERLAND_FACTOR * temperature * sqrt(temperature) /
           (temperature + SUTHERLAND_TEMPERATURE);
}

double air_sound_speed(double temperature)
{
    if (!is_air_temperature(temperature))
        return NAN;
    return sqrt(HEAT_RATIO * GAS_CONSTANT_DRY_AIR * temperature);
}
