/* coefficients.h - loads at the car's origin to the eight coefficients, and what derives from them.
 *
 * Order everywhere as schema/quantity.h: CD CY CL CLF CLR CRM CPM CYM. CL, CLF, CLR are downforce
 * positive; moments right-handed about x aft, y right, z up, on q A W with the wheelbase W.
 * Contact-patch convention: the couple of the drag about the ground is inside My, so it unloads the
 * front axle.                                                                                      */
#ifndef LAPWING_COEFFICIENTS_H
#define LAPWING_COEFFICIENTS_H

#include "reduce/physics/outcome.h"

enum coefficient {
    COEFFICIENT_CD,
    COEFFICIENT_CY,
    COEFFICIENT_CL,
    COEFFICIENT_CLF,
    COEFFICIENT_CLR,
    COEFFICIENT_CRM,
    COEFFICIENT_CPM,
    COEFFICIENT_CYM,
    COEFFICIENTS
};

/* C from loads (N, N m) at the origin, car axes; q Pa > 0, area m2 > 0, wheelbase m > 0.
 *   CL = -Fz/(qA); CPM = My/(qAW); CLF = CL/2 - CPM; CLR = CL/2 + CPM                              */
enum outcome coefficients_from_loads(const double load[6], double dynamic_pressure, double area,
                                     double wheelbase, double coefficient[COEFFICIENTS]);

/* Fills those of CL, CLF, CLR and CPM that are NAN and that the others decide:
 *   CL = CLF + CLR,  CL = 2 (CLF + CPM),  CL = 2 (CLR - CPM),
 *   CLF = CL/2 - CPM,  CLR = CL/2 + CPM,  CPM = (CLR - CLF)/2
 * What is given is never changed, also where it contradicts the rest. Source: as above. */
void coefficients_fill(double coefficient[COEFFICIENTS]);

/* Coefficients with the drag, the downforce and the front's share of it changed: CLR = CL - CLF and
 * CPM = (CLR - CLF)/2 move along, the others stay. Source: as above. */
void coefficients_change(const double c[COEFFICIENTS], double drag, double downforce, double front,
                         double changed[COEFFICIENTS]);

struct derived_quantities {
    double balance;        /* 100 CLF/CL, %; NAN when CL is 0 (stage flags it) */
    double lift_to_drag;   /* CL/CD; NAN when CD is 0 */
    double drag_area;      /* CD A, m2 as tested */
    double downforce_area; /* CL A, m2 as tested */
};

struct derived_quantities coefficients_derived(const double coefficient[COEFFICIENTS], double area);

#endif
