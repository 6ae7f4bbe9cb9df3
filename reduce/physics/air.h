/* air.h - what the air in a tunnel weighs, how sticky it is, how fast sound goes in it.
 *
 * Symbols: p static pressure, Pa absolute; T static temperature, K; h relative humidity, 0 dry to
 * 1 saturated. Air is refused as "not air" outside 50 .. 120 kPa, 223.15 .. 333.15 K and 0 .. 1: wide
 * enough for any road-vehicle tunnel and Mexico City, narrow enough that kilopascals, degrees Celsius
 * and percent are caught.                                                                          */
#ifndef LAPWING_AIR_H
#define LAPWING_AIR_H

#include "reduce/physics/outcome.h"

struct air {
    double density; /* kg/m3 */
    int in_range;   /* 1 inside the formula's own range, 60 .. 110 kPa and 15 .. 27 degC */
};

/* Density of moist air with 400 parts per million of carbon dioxide.
 *
 *   rho = p Ma / (Z R T) [1 - xv (1 - Mv/Ma)],   xv = h f(p,t) psv(T) / p
 *
 * Given:    pressure Pa, temperature K, humidity 0..1 (0 is dry air)
 * Outcomes: OUTCOME_NOT_FINITE; OUTCOME_AIR_RANGE outside the limits above; then *air is untouched
 * Accuracy: 22e-6 relative inside its range (from memory); outside it the number stands, flagged.
 *           The ideal-gas short form is low by about 4e-4 against it.
 * Source:   Picard, Davis, Glaeser, Fujii, "Revised formula for the density of moist air
 *           (CIPM-2007)", Metrologia 45 (2008) 149-155, equations A1.1 to A1.4. */
enum outcome air_density(double pressure, double temperature, double humidity, struct air *air);

/* Saturation vapour pressure over water, psv = 1 Pa exp(A T^2 + B T + C + D/T), Pa; NAN for a
 * temperature outside 223.15 .. 333.15 K. Source: as air_density, equation A1.1. */
double air_saturation_pressure(double temperature);

/* Dynamic viscosity, Pa s, mu = 1.458e-6 T^1.5 / (T + 110.4); NAN for a temperature outside
 * 223.15 .. 333.15 K. Humidity is left out: saturated at 30 degC it is about 1 % lower (from memory),
 * which only moves the Reynolds number. Source: U.S. Standard Atmosphere 1976, equation 51. */
double air_viscosity(double temperature);

/* Speed of sound in dry air, m/s, a = sqrt(1.4 R T), R = 287.05307 J/(kg K); NAN for a temperature
 * outside 223.15 .. 333.15 K. Source: U.S. Standard Atmosphere 1976, equation 50. */
double air_sound_speed(double temperature);

#endif
