/* maskell.h - what the walls do to a body with a large separated wake.
 *
 * The walls raise the speed outside the wake and, with it, the suction on the base. For a body that
 * carries no lift
 *
 *   q_c/q = 1 + theta CD S/C,   theta = 1/(k_c^2 - 1),   k_c^2 = 1 - Cpb_c,   k^2/k_c^2 = q_c/q
 *
 * CD the measured drag coefficient, S frontal area, C section area, Cpb measured base pressure
 * coefficient, k^2 = 1 - Cpb, index c in free air. With m = CD S/C the corrected base parameter is the
 * larger root of a quadratic,
 *
 *   k_c^2 = [ (1 + k^2 - m) + sqrt((1 + k^2 - m)^2 - 4 k^2) ] / 2
 *
 * and the smaller root is q_c/q of that solution. Plausible-looking inputs often have no real root; the
 * iteration that is usually printed walks to rubbish there, so it is not used.
 *
 * Evidence: theta is a little above 5/2 for axisymmetric and square-like bodies and changes little to
 *           aspect ratio 10, a little below 1 in two dimensions (abstract of Maskell's paper); flat
 *           plates 1/3 <= h/b <= 3 also on a wall (abstract of Gould, ARC R&M 3649, 1969), so a body on
 *           the floor may be corrected. A body with attached flow is not what it is about.
 * Recalled: that CD in q_c/q is the measured one, and the relation k^2/k_c^2 = q_c/q; taking the corrected
 *           drag changes q_c/q in second order of theta m. The closed root is derived here.
 * Source:   Maskell, "A theory of the blockage effects on bluff bodies and stalled wings in a closed
 *           wind tunnel", ARC R&M 3400, 1963 (abstract read; equations from memory).                */
#ifndef LAPWING_MASKELL_H
#define LAPWING_MASKELL_H

#include <stddef.h>

#include "reduce/physics/line_fit.h"
#include "reduce/physics/outcome.h"

struct maskell {
    double base_parameter; /* k_c^2 */
    double factor;         /* theta */
    double q_ratio;
    double
        amplification; /* change of ln(q_c/q) for a change of m, over theta: 1 without feedback of the
                             base pressure; large where the two roots nearly meet */
};

/* The correction from a measured base pressure.
 *
 * Given:    drag CD >= 0, base_cp Cpb, share S/C > 0
 * Outcomes: OUTCOME_NOT_FINITE; OUTCOME_GEOMETRY when share is not positive; OUTCOME_NO_ROOT when the
 *           drag is negative, the roots are complex, or k_c^2 is not above 1 (no suction on the base)
 * *found is written on OUTCOME_OK only. */
enum outcome maskell_from_base_pressure(double drag, double base_cp, double share,
                                        struct maskell *found);

/* Wake increment of a car with lift, from the drag in three parts:
 *
 *   eps_w = CD0 S/(4C) + (theta/2)(S/C) (CD - CDi - CD0),   q_c/q = (1 + eps_s + eps_w)^2
 *
 * CD0 drag of the attached flow, CDi = K CL^2 of the trailing vortices, the rest that of separation;
 * theta = 5/2 gives the printed 5S/4C. The plain wake term CD S/(4C) is inside: never add it too.
 * Given:    share S/C > 0; attached CD0 >= 0, vortex CDi >= 0, factor theta > 0
 * Outcomes: OUTCOME_NOT_FINITE; OUTCOME_GEOMETRY for a share or factor that is not positive, or a
 *           negative part; OUTCOME_NO_ROOT when CD0 + CDi exceeds CD: the parts contradict the drag
 * Source:   Barlow, Rae, Pope, "Low-Speed Wind Tunnel Testing", 3rd edition, 1999 (from memory;
 *           consistent with 5/2 on q). */
enum outcome maskell_split(double drag, double attached, double vortex, double factor, double share,
                           double *increment);

/* CD = a + K CL^2 by least squares over a sweep of one configuration: slope K is the vortex drag, the
 * intercept what does not go with the lift. Only the straight part of the sweep belongs in it: where the
 * flow separates CD rises above the line.
 * Outcomes: those of line_fit_make(), OUTCOME_NO_MEMORY, and OUTCOME_NO_ROOT when the slope is negative. */
enum outcome maskell_vortex_fit(const double *drag, const double *downforce, size_t n,
                                struct line_fit *fit);

#endif
