/* blockage_slotted.c - a slotted or adaptive section by its own factor.
 *
 *   q_c/q = 1 + k S/C
 *
 * k is declared, or fitted to a series of one shape in several sizes (slotted.h). Formulas of closed or
 * open walls do not hold between slots.
 * Evidence: the shapes and sizes of that series; beyond its largest S/C the number stands and is flagged.
 * Source:   common practice, no source.                                                            */
#include <math.h>

#include "reduce/physics/blockage.h"

enum outcome blockage_slotted(const struct blockage_input *input, struct blockage_result *result)
{
    double share = 0.0, factor = input->constants.facility_factor,
           largest = input->constants.facility_share;
    int beyond = 0;
    enum outcome outcome = blockage_area_share(input, &share, &beyond);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (!isfinite(factor))
        return OUTCOME_NOT_FINITE;
    double ratio = 1.0 + factor * share;
    if (ratio <= 0.0)
        return OUTCOME_BLOCKAGE_RANGE;
    *result =
        (struct blockage_result){.q_ratio = ratio,
                                 .piece = {factor},
                                 .beyond_evidence = beyond || (largest > 0.0 && share > largest)};
    return OUTCOME_OK;
}
