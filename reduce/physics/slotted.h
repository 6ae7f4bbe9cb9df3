/* slotted.h - the factor of a slotted or adaptive section, from bodies of one shape in several sizes.
 *
 *   C_measured = C_free (1 + k S/C)
 *
 * is a straight line in the area ratio S/C; its intercept is what the shape has in free air and its slope
 * over its intercept the facility's factor k. Closed walls have k > 0, an open jet k < 0, slots lie
 * between; formulas of either do not hold, the factor is the facility's own.
 * Evidence: the class of shapes and the range of S/C in the series; q_c/q = 1 + k S/C beyond it is an
 *           extrapolation.
 * Source:   common practice, no source; the standard uncertainty of k is that of a ratio by JCGM 100:2008
 *           (GUM), equation 13, with the line's covariance.                                        */
#ifndef LAPWING_SLOTTED_H
#define LAPWING_SLOTTED_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

struct slotted_factor {
    double factor, factor_u; /* k and its standard uncertainty */
    double free_air;         /* coefficient at S/C = 0 */
    double residual_sd;      /* of the coefficient about the line */
    double degrees_of_freedom;
    double highest; /* largest S/C of the series */
};

/* Fits a series of n >= 3 measurements at two or more sizes.
 * Outcomes: OUTCOME_TOO_FEW; OUTCOME_NOT_FINITE; OUTCOME_GEOMETRY for a share outside 0 .. 0.35;
 * OUTCOME_SINGULAR when the sizes are one, or the coefficient in free air is 0 within its uncertainty.
 * *found is written on OUTCOME_OK only. */
enum outcome slotted_from_series(const double *share, const double *coefficient, size_t n,
                                 struct slotted_factor *found);

#endif
