/* outcome.c - see outcome.h. */
#include "reduce/physics/outcome.h"

static const char *const sentences[OUTCOME_COUNT] = {
    [OUTCOME_OK] = "a number was found",
    [OUTCOME_NOT_FINITE] = "an input is missing or not finite",
    [OUTCOME_AIR_RANGE] = "pressure, temperature or humidity is not that of air in a tunnel",
    [OUTCOME_NO_WIND] = "total pressure is not above static pressure",
    [OUTCOME_TOO_FAST] = "the Mach number is above 0.6",
    [OUTCOME_GEOMETRY] = "a length, area or volume is missing, not positive or contradictory",
    [OUTCOME_BLOCKAGE_RANGE] = "the car fills too much of the test section for this correction",
    [OUTCOME_UNKNOWN_FAMILY] = "there is no blockage correction of that name",
    [OUTCOME_SINGULAR] = "the equations have no unique answer",
    [OUTCOME_TOO_FEW] = "there are fewer data than unknowns",
    [OUTCOME_OUTSIDE] = "the place is outside those that were measured",
    [OUTCOME_NO_CONVERGENCE] = "the iteration from outputs to loads does not settle",
    [OUTCOME_NO_LOADS] = "no loads within ten times the rating give these outputs",
    [OUTCOME_NO_MEMORY] = "memory ran out",
    [OUTCOME_NO_ROOT] = "the equation has no real solution for these inputs",
    [OUTCOME_UNMEASURED] = "it is asked for outside the range that was measured",
};

const char *outcome_sentence(enum outcome outcome)
{
    if ((unsigned)outcome >= OUTCOME_COUNT)
        return "an outcome that is not in the table";
    return sentences[outcome];
}
