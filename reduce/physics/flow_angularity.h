/* flow_angularity.h - how far the tunnel's flow is turned against its turntable, from yaw symmetry.
 *
 * A body that is the same on both sides has no side force where it meets the flow straight on. With psi
 * the yaw that the log counts,
 *
 *   CY = a1 (psi + psi0) + a0
 *
 * psi0 turn of the flow (and of the model on its turntable), a0 what the body's own asymmetry gives. One
 * body tells their sum only: the yaw at which CY is 0. The same body turned over to its mirror image has -a0,
 *
 *   psi0 = (b + b')/(2 a1),   a0 = (b - b')/2,   b, b' the side force at psi = 0 of both
 *
 * so psi0 is told, and applied, only where such a reference body confirms it; else the offset is reported.
 * Evidence: yaw within the straight part of CY, some 5 degrees.
 * Source:   common practice, no source; uncertainties by JCGM 100:2008 (GUM), equation 13.         */
#ifndef LAPWING_FLOW_ANGULARITY_H
#define LAPWING_FLOW_ANGULARITY_H

#include <stddef.h>

#include "reduce/physics/line_fit.h"
#include "reduce/physics/outcome.h"

struct yaw_offset {
    double yaw,
        yaw_u; /* rad, the yaw of symmetry as the log counts it, and its standard uncertainty */
};

/* Yaw at which a coefficient that is odd in yaw (CY, CRM, CYM) is 0; *line may be NULL.
 * Outcomes: those of line_fit_make(); OUTCOME_SINGULAR when the slope is 0 within two standard
 * uncertainties. */
enum outcome flow_yaw_of_zero(const double *yaw, const double *odd, size_t n,
                              struct yaw_offset *offset, struct line_fit *line);

/* Yaw at which a coefficient that is even in yaw (CD, CL) has its vertex, by a parabola through n >= 4.
 * Outcomes: OUTCOME_TOO_FEW; OUTCOME_NOT_FINITE; OUTCOME_SINGULAR when yaw does not vary or the curvature
 * is 0 within two standard uncertainties; OUTCOME_UNMEASURED when the vertex lies outside the sweep;
 * OUTCOME_NO_MEMORY. */
enum outcome flow_yaw_of_vertex(const double *yaw, const double *even, size_t n,
                                struct yaw_offset *offset);

struct flow_turn {
    double turn, turn_u;           /* psi0, rad: add to the yaw that the log counts */
    double asymmetry, asymmetry_u; /* a0 of the body */
    int is_confirmed; /* 1: psi0 differs from 0 by more than two standard uncertainties */
};

/* Separates both from the lines CY(psi) of a reference body and of its mirror image.
 * Outcomes: OUTCOME_SINGULAR when their slopes differ by more than three standard uncertainties of the
 * difference (they are not one body), or are 0. *found is written on OUTCOME_OK only. */
enum outcome flow_turn_of(const struct line_fit *body, const struct line_fit *mirrored,
                          struct flow_turn *found);

#endif
