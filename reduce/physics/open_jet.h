/* open_jet.h - what an open jet does to a car, in separate pieces.
 *
 * A nozzle of area A_N (one of a floor: its mirror image doubles it) blows at the car; a collector of area
 * A_C takes the jet in at the distance L_TS from the nozzle's plane. The car, frontal area A, length L,
 * volume V, has its middle at x_M from the nozzle's plane.
 *
 *   nozzle    R_N = sqrt(2 A_N/pi), source of the nose at x_s = x_M - L/2 + sqrt(A/(2 pi)):
 *             eps_qN = A/(2 A_N) [1 - x_s/sqrt(x_s^2 + R_N^2)]    in the nozzle's plane
 *             eps_N  = eps_qN R_N^3/(x_M^2 + R_N^2)^1.5           at the car
 *   expansion eps_S  = K tau_open 2V/(2 A_N)^1.5 < 0, tau_open of the section B x 2H
 *   collector eps_C  = (A/A_C)(a CD + b) R_C^3/[(L_TS - x_M)^2 + R_C^2]^1.5, R_C = sqrt(2 A_C/pi)
 *
 * eps_qN is the mean slowing over the nozzle's disc by a source that makes a half-body of the car's
 * area; eps_N the field of the vortex ring at the nozzle's lip that undoes it; eps_S the images of the car
 * in the jet's free boundary.
 * Evidence: nozzle and expansion follow from potential flow as described here, and were computed
 *           independently; how much of each a real jet shows is not verified against the paper. The
 *           collector's a and b (1/4 and 0.41 are recalled) and the sum of all pieces could not be read:
 *           they are the user's, and every piece is off until he gives its weight.
 * Source:   Mercker, Wiedemann, "On the correction of interference effects in open jet wind tunnels", SAE
 *           960671, 1996 (abstract read: its five effects; equations derived here or from memory).  */
#ifndef LAPWING_OPEN_JET_H
#define LAPWING_OPEN_JET_H

#include "reduce/physics/outcome.h"

struct open_jet {
    double nozzle_width, nozzle_height;        /* m */
    double area, length, volume;               /* of the car: m2, m, m3 */
    double distance;                           /* x_M, m */
    double shape;                              /* K; sqrt(pi)/2 is a slender body */
    double collector_area, collector_distance; /* A_C m2, L_TS m; used with the collector */
};

struct open_jet_nozzle {
    double radius, source; /* R_N, x_s, m */
    double in_nozzle;      /* eps_qN */
    double at_car;         /* eps_N */
};

/* Outcomes of the three: OUTCOME_NOT_FINITE; OUTCOME_GEOMETRY when a size they use is not positive, or the
 * car's nose reaches into the nozzle (x_M < L/2), or the car is larger than the nozzle, or its middle lies
 * behind the collector's plane. */
enum outcome open_jet_nozzle(const struct open_jet *jet, struct open_jet_nozzle *nozzle);
enum outcome open_jet_expansion(const struct open_jet *jet, double *expansion);

/* wake_factor a and wake_constant b are not verified against the paper. */
enum outcome open_jet_collector(const struct open_jet *jet, double drag, double wake_factor,
                                double wake_constant, double *collector);

#endif
