/* pressure.h - surface pressures: Cp, its blockage correction, and the forces it adds up to. */
#ifndef LAPWING_PRESSURE_H
#define LAPWING_PRESSURE_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

/* Cp = (p - p_static)/q from the pressure above the static reference, Pa, and q, Pa.
 * Outcomes: OUTCOME_NOT_FINITE; OUTCOME_NO_WIND when q is not positive. */
enum outcome pressure_coefficient(double above_static, double dynamic_pressure, double *cp);

/* Cp as free air would give it: Cp_c = Cp0 - (Cp0 - Cp)/(q_c/q).
 *
 * The walls do not change the total pressure, so the stagnation value Cp0 (freestream.h) stays where
 * it is and everything else is referred to the higher speed. Floor integrals of Cp_c therefore carry
 * an offset of Cp0 (1 - q/q_c) times the projected area against the balance's coefficient.
 * Given:    cp measured; stagnation_cp 1 .. 1.1; q_ratio q_c/q, positive
 * Outcomes: OUTCOME_NOT_FINITE; OUTCOME_BLOCKAGE_RANGE when q_ratio is not positive
 * Source:   identity, from 1 - Cp = (v/U)^2 with the same v in both. */
enum outcome pressure_corrected(double cp, double stagnation_cp, double q_ratio, double *corrected);

/* Force coefficient of taps that each stand for a flat piece: F/q = -sum Cp A n, m2.
 *
 * Given:    n taps: cp; unit outward normals nx ny nz, row by row; areas, m2, not negative
 * Outcomes: OUTCOME_NOT_FINITE; OUTCOME_GEOMETRY for a negative area; OUTCOME_TOO_FEW for no tap
 * Source:   definition, the midpoint rule. */
enum outcome pressure_force(const double *cp, const double *normal, const double *area, size_t n,
                            double force[3]);

struct section_force {
    double normal; /* cn, along +y of the section */
    double axial;  /* ca, along +x: aft positive */
};

/* Normal and axial force of a closed section from taps in order round the loop, straight lines
 * between neighbours and from the last back to the first; clockwise and counter-clockwise lists give
 * the same answer.
 *
 *   cn = loop integral of Cp dx,   ca = -loop integral of Cp dy,   counter-clockwise, x/c and y/c
 *
 * Error of order 1/n^2; it is low at suction peaks that no tap meets. Base pressure of a blunt end is
 * given by repeating a corner with the base's Cp.
 * Outcomes: OUTCOME_TOO_FEW below 3 taps; OUTCOME_NOT_FINITE; OUTCOME_GEOMETRY when the loop has no
 * area. Source: definition, the trapezoid rule. */
enum outcome pressure_section(const double *x, const double *y, const double *cp, size_t n,
                              struct section_force *force);

/* cl = cn cos(alpha) - ca sin(alpha), and the pressure part of cd = cn sin(alpha) + ca cos(alpha);
 * alpha in rad, nose up positive. Source: rotation of axes. */
double pressure_section_lift(const struct section_force *force, double alpha);
double pressure_section_drag(const struct section_force *force, double alpha);

#endif
