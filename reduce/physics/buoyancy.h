/* buoyancy.h - the drag that the empty tunnel's own pressure gradient adds to a measurement.
 *
 * Where the static pressure falls downstream (dCp/dx < 0) the car is pushed downstream, the measured
 * drag is too high, and the increment below is positive. It acts on the drag only, on the ground
 * (z = 0) through the origin: no moment, so neither axle load moves.                              */
#ifndef LAPWING_BUOYANCY_H
#define LAPWING_BUOYANCY_H

#include "reduce/physics/coefficients.h"
#include "reduce/physics/outcome.h"

/* Drag coefficient contained in the measurement: dCD = -(dCp/dx) G V / A.
 *
 * Given:    gradient dCp/dx 1/m; volume_factor G, 1 for the volume alone, 1 + k1 with the added mass
 *           of a spheroid, about 1.75 for blunt cars (recalled, not read); volume V m3; area A m2
 * Outcomes: OUTCOME_NOT_FINITE; OUTCOME_GEOMETRY when G, V or A is not positive
 * Source:   Glauert, "Wind tunnel interference on wings, bodies and airscrews", ARC R&M 1566, 1933:
 *           dD = -(1 + k1) V dp/dx. */
enum outcome buoyancy_drag(double gradient, double volume_factor, double volume, double area,
                           double *drag_coefficient);

/* The eight coefficients with that increment taken off the drag. */
void buoyancy_take_off(const double coefficient[COEFFICIENTS], double drag_coefficient,
                       double without[COEFFICIENTS]);

#endif
