/* tunnel.h - the invented tunnel "saltmarsh", forward: from free air to what its instruments read.
 *
 * The section is closed, the floor mirrors the car, q is measured upstream, and the balance stands
 * under the floor and pitches with the car. Written for the generator alone, from the textbooks, so
 * that the reduction is checked by something it did not write.                                     */
#ifndef SAMPLE_RUNS_TUNNEL_H
#define SAMPLE_RUNS_TUNNEL_H

#include "sample_runs/car.h"

/* Velocity increment of the solid car between the walls; costs a lattice sum, so it is found once. */
double tunnel_solid_blockage(void);

/* What the walls make of free-air coefficients: (1 + eps)^2 with eps from the solid car and its
 * wake, and the drag of the pressure falling along the section. *q_ratio receives the factor. */
struct car_coefficients tunnel_confined(const struct car_coefficients *free_air, double solid,
                                        double *q_ratio);

/* Pressure coefficient read between the walls: total pressure is not changed by them. */
double tunnel_confined_pressure(double cp, double q_ratio, double stagnation_cp);

/* Air. */
double tunnel_mach(double dynamic_pressure, double static_pressure);
double tunnel_total_minus_static(double mach, double static_pressure); /* Pa */
double tunnel_speed(double mach, double total_temperature, double static_pressure, double humidity,
                    double dynamic_pressure); /* m/s */

/* Loads at the car's origin (ground, mid-wheelbase), car axes, N and N m: Fx Fy Fz Mx My Mz. */
void tunnel_loads(const struct car_coefficients *confined, double dynamic_pressure, double load[6]);
/* The same loads about the balance's reference point. */
void tunnel_to_balance(const double at_origin[6], double at_balance[6]);
/* Weight of the car at this attitude less that at the zero's attitude, about the balance. */
void tunnel_weight_change(const struct attitude *attitude, double load[6]);

#endif
