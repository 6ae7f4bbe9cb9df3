/* blockage_area_ratio.c - the car as a plug: the air beside it passes through what is left.
 *
 *   q_c/q = (1 - S/C)^-2
 *
 * S frontal area, C section area, m2. With a floor image both double and the ratio stays.
 * Evidence: an upper bound for slender cars; within some 5 % for a blunt saloon at S/C = 0.20
 *           (abstract of a comparison of methods, J. Fluids Eng. 2015, 10.1115/1.4030183).
 * Source:   continuity of incompressible flow, one dimension.                                      */
#include "reduce/physics/blockage.h"

enum outcome blockage_area_ratio(const struct blockage_input *input, struct blockage_result *result)
{
    double share = 0.0;
    int beyond = 0;
    enum outcome outcome = blockage_area_share(input, &share, &beyond);
    if (outcome != OUTCOME_OK)
        return outcome;
    *result = (struct blockage_result){.q_ratio = 1.0 / ((1.0 - share) * (1.0 - share)),
                                       .beyond_evidence = beyond};
    return OUTCOME_OK;
}
