/* maskell.c - see maskell.h. */
#include "reduce/physics/maskell.h"

#include <math.h>
#include <stdlib.h>

enum outcome maskell_from_base_pressure(double drag, double base_cp, double share,
                                        struct maskell *found)
{
    if (!isfinite(drag) || !isfinite(base_cp) || !isfinite(share))
        return OUTCOME_NOT_FINITE;
    if (share <= 0.0)
        return OUTCOME_GEOMETRY;
    double m = drag * share, measured = 1.0 - base_cp;
    double sum = 1.0 + measured - m; /* of the two roots; their product is k^2 */
    double discriminant = sum * sum - 4.0 * measured;
    if (drag < 0.0 || !(discriminant >= 0.0))
        return OUTCOME_NO_ROOT;
    double apart = sqrt(discriminant);
    double root = (sum + apart) / 2.0;
    if (!(root > 1.0))
        return OUTCOME_NO_ROOT;
    *found = (struct maskell){.base_parameter = root,
                              .factor = 1.0 / (root - 1.0),
                              .q_ratio = measured / root,
                              .amplification = (root - 1.0) / apart};
    return OUTCOME_OK;
}

enum outcome maskell_split(double drag, double attached, double vortex, double factor, double share,
                           double *increment)
{
    if (!isfinite(drag) || !isfinite(attached) || !isfinite(vortex) || !isfinite(factor) ||
        !isfinite(share))
        return OUTCOME_NOT_FINITE;
    if (share <= 0.0 || factor <= 0.0 || attached < 0.0 || vortex < 0.0)
        return OUTCOME_GEOMETRY;
    double separated = drag - vortex - attached;
    if (separated < 0.0)
        return OUTCOME_NO_ROOT;
    *increment = attached * share / 4.0 + factor / 2.0 * share * separated;
    return OUTCOME_OK;
}

enum outcome maskell_vortex_fit(const double *drag, const double *downforce, size_t n,
                                struct line_fit *fit)
{
    struct line_fit found;
    double *square = n > 0 ? malloc(n * sizeof *square) : NULL;
    if (n == 0)
        return OUTCOME_TOO_FEW;
    if (square == NULL)
        return OUTCOME_NO_MEMORY;
    for (size_t i = 0; i < n; i++)
        square[i] = downforce[i] * downforce[i];
    enum outcome outcome = line_fit_make(square, drag, n, &found);
    free(square);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (found.slope < 0.0)
        return OUTCOME_NO_ROOT;
    *fit = found;
    return OUTCOME_OK;
}
