/* freestream.h - from the pressures a tunnel measures to Mach number, dynamic pressure and speed.
 *
 * p0 - p is not q: it is larger by M^2/4, 0.6 % at M 0.15. Everything here is isentropic flow of air
 * with a heat ratio of 1.4; near M = 0 the relations are written with expm1 and log1p, so that a
 * difference of 1 Pa on an atmosphere keeps all its digits. Not in it: humidity (saturated at 30 degC
 * the heat ratio is 0.004 lower and q 6e-5 lower at M 0.3).
 * Source of all relations: NACA Report 1135, "Equations, tables, and charts for compressible flow",
 * 1953, equations 43 to 46 (equation numbers from memory).                                         */
#ifndef LAPWING_FREESTREAM_H
#define LAPWING_FREESTREAM_H

#include "reduce/physics/outcome.h"

enum { DROP_TERMS = 4 };

/* Largest Mach number that is taken; no road-vehicle tunnel comes near it. */
extern const double FREESTREAM_FASTEST;

/* Mach number from static pressure p and p0 - p, both Pa: M^2 = 5 [(1 + (p0 - p)/p)^(2/7) - 1].
 * Outcomes: OUTCOME_NOT_FINITE; OUTCOME_AIR_RANGE when p is not positive; OUTCOME_NO_WIND when p0 - p
 * is not positive; OUTCOME_TOO_FAST above M 0.6. *mach is written on OUTCOME_OK only. */
enum outcome freestream_mach(double static_pressure, double total_minus_static, double *mach);

/* Mach number from static pressure and dynamic pressure: M^2 = q / (0.7 p). Outcomes as above, with
 * OUTCOME_NO_WIND when q is not positive. */
enum outcome freestream_mach_from_q(double static_pressure, double dynamic_pressure, double *mach);

/* q = 0.7 p M^2, Pa. */
double freestream_dynamic_pressure(double static_pressure, double mach);

/* p0 - p = p [(1 + 0.2 M^2)^3.5 - 1], Pa: the inverse of freestream_mach(). */
double freestream_pressure_rise(double static_pressure, double mach);

/* Cp0 = (p0 - p)/q = 1 + M^2/4 + M^4/40 + ..., the largest Cp that a flow without a fan can show. */
double freestream_stagnation_cp(double mach);

/* T = T0 / (1 + 0.2 M^2), K. */
double freestream_static_temperature(double total_temperature, double mach);

/* q = c0 + c1 dp + c2 dp^2 + c3 dp^3, Pa, of a pressure drop dp, Pa, that the tunnel runs by; coefficients
 * in Pa, 1, 1/Pa, 1/Pa^2, from the facility's calibration of its empty section, a probe at the car's
 * place. Three methods differ in where the drop is taken and so in the polynomial:
 *
 *   contraction  between two rings of taps in a closed tunnel's contraction
 *   nozzle       settling chamber to the nozzle's wall before its exit, q = k_N dp
 *   plenum       settling chamber to the plenum about the jet, whose pressure is the jet's static one
 *
 * A car near an open nozzle changes the velocity over its exit, so that both methods are biased by it,
 * each in its own way; what corrects for it is no part of this.
 * Source: W. Kuenstner, K. Deutenbach, J.-D. Vagt, "Measurement of reference dynamic pressure in
 * open-jet automotive wind tunnels", SAE 920344, 1992; E. Mercker, G. Wickern, J. Wiedemann,
 * "Contemplation of nozzle blockage in open jet wind-tunnels in view of different 'Q' determination
 * techniques", SAE 970136, 1997 (both: authors from memory). */
double freestream_of_drop(const double polynomial[DROP_TERMS], double drop);

/* dq/d(dp) of the same polynomial, 1: how much of the drop's movement q takes part in. */
double freestream_drop_slope(const double polynomial[DROP_TERMS], double drop);

/* V = sqrt(2 q / rho), m/s. */
double freestream_speed(double dynamic_pressure, double density);

#endif
