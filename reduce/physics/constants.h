/* constants.h - the one table of physical constants: value, unit, source, year.
 *
 * "from memory" means that the number is the commonly printed one and that the paper itself was not
 * at hand; every such number is checked against an independent value in the tests.                 */
#ifndef LAPWING_CONSTANTS_H
#define LAPWING_CONSTANTS_H

/* name, value                                   unit          source, year */
static const double PI = 3.14159265358979323846; /* 1          mathematics */
static const double HEAT_RATIO = 1.4; /* 1          NACA Report 1135, 1953: diatomic air */

/* Standard acceleration of free fall: 3rd General Conference on Weights and Measures, 1901. The place's
 * own differs by up to 0.3 %. */
static const double STANDARD_GRAVITY = 9.80665; /* m/s2 */

/* Density of moist air: Picard, Davis, Glaeser, Fujii, "Revised formula for the density of moist air
 * (CIPM-2007)", Metrologia 45 (2008) 149-155, appendix A1. */
static const double MOLAR_GAS_CONSTANT = 8.314472; /* J/(mol K)  as published there (CODATA 2006) */
static const double MOLAR_MASS_AIR = 28.96546e-3;  /* kg/mol     dry, 400 parts per million CO2 */
static const double MOLAR_MASS_WATER = 18.01528e-3; /* kg/mol */
static const double CELSIUS_ZERO = 273.15; /* K          definition of the degree Celsius */

/* Viscosity and speed of sound: U.S. Standard Atmosphere, NOAA-S/T 76-1562, 1976 (ISO 2533:1975 has
 * the same two viscosity constants and 287.05287). */
static const double SUTHERLAND_FACTOR = 1.458e-6;             /* kg/(m s K^0.5) */
static const double SUTHERLAND_TEMPERATURE = 110.4;           /* K */
static const double GAS_CONSTANT_DRY_AIR = 8314.32 / 28.9644; /* J/(kg K), 287.05307 */

#endif
