/* blockage_quarter_rule.c - one increment for solid and wake blockage of unusual shapes.
 *
 *   eps = S/(4C),   q_c/q = (1 + eps)^2
 *
 * S frontal area, C section area, m2. With a floor image both double and the ratio stays.
 * Evidence: a rule of thumb for bodies without a better estimate; it knows no volume and no drag, so
 *           a bluff car is under-corrected. It reproduces 1.024 of a maker's report on a racing
 *           saloon, S/C = 0.047 (manufacturer's wind-tunnel report, c. 1969, table II).
 * Source:   Barlow, Rae, Pope, "Low-Speed Wind Tunnel Testing", 3rd edition, 1999 (from memory).   */
#include "reduce/physics/blockage.h"

enum outcome blockage_quarter_rule(const struct blockage_input *input,
                                   struct blockage_result *result)
{
    double share = 0.0;
    int beyond = 0;
    enum outcome outcome = blockage_area_share(input, &share, &beyond);
    if (outcome != OUTCOME_OK)
        return outcome;
    double increment = share / 4.0;
    *result = (struct blockage_result){.q_ratio = (1.0 + increment) * (1.0 + increment),
                                       .beyond_evidence = beyond};
    return OUTCOME_OK;
}
