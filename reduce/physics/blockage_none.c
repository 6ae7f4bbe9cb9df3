/* blockage_none.c - no correction: what the tunnel measured, or what a facility already corrected.
 *
 * Evidence: none needed; uncorrected numbers compare within one tunnel and one size of car only.
 * Source:   definition.                                                                            */
#include "reduce/physics/blockage.h"

enum outcome blockage_none(const struct blockage_input *input, struct blockage_result *result)
{
    (void)input;
    *result = (struct blockage_result){.q_ratio = 1.0};
    return OUTCOME_OK;
}
