/* blockage_maskell.c - a bluff car by its base pressure, and a car with lift by its drag in three parts.
 *
 *   maskell        q_c/q = 1 + theta CD S/C, theta from the base pressure, measured or declared
 *   maskell split  q_c/q = (1 + eps_s + eps_w)^2, eps_s of the image sum, eps_w of maskell_split()
 *
 * With a floor image S and C double and S/C stays. In the split form theta is declared (5/2 is the source's
 * own), or follows from the base pressure and the drag of separation alone.
 * Evidence, what is recalled and source: maskell.h. Beyond it where the feedback of the base pressure
 * more than triples the correction (maskell.h, amplification above 3; common practice, no source).  */
#include <math.h>

#include "reduce/physics/blockage.h"
#include "reduce/physics/maskell.h"

static const double most_amplification = 3.0;

/* The declared one, else the measured one. */
static double base_of(const struct blockage_input *input)
{
    return isnan(input->constants.base_cp) ? input->base_cp : input->constants.base_cp;
}

enum outcome blockage_maskell(const struct blockage_input *input, struct blockage_result *result)
{
    struct maskell found;
    double share = 0.0;
    int beyond = 0;
    enum outcome outcome = blockage_area_share(input, &share, &beyond);
    if (outcome == OUTCOME_OK)
        outcome =
            maskell_from_base_pressure(input->drag_coefficient, base_of(input), share, &found);
    if (outcome != OUTCOME_OK)
        return outcome;
    *result = (struct blockage_result){
        .q_ratio = found.q_ratio,
        .piece = {found.factor, found.base_parameter, base_of(input)},
        .beyond_evidence = beyond || found.amplification > most_amplification};
    return OUTCOME_OK;
}

/* theta as declared, or from the base pressure with the drag of separation. */
static enum outcome find_factor(const struct blockage_input *input, double separated, double share,
                                double *factor, int *beyond)
{
    struct maskell found;
    *factor = input->constants.wake_factor;
    if (*factor != 0.0)
        return OUTCOME_OK;
    enum outcome outcome = maskell_from_base_pressure(separated, base_of(input), share, &found);
    if (outcome != OUTCOME_OK)
        return outcome;
    *factor = found.factor;
    *beyond = *beyond || found.amplification > most_amplification;
    return OUTCOME_OK;
}

enum outcome blockage_maskell_split(const struct blockage_input *input,
                                    struct blockage_result *result)
{
    const struct blockage_constants *given = &input->constants;
    double share = 0.0, solid = 0.0, wake = 0.0, factor = 0.0;
    int beyond = 0;
    double lift = input->downforce_coefficient, vortex = given->vortex_drag * lift * lift;
    double separated = input->drag_coefficient - vortex - given->attached_drag;
    enum outcome outcome = blockage_area_share(input, &share, &beyond);
    if (outcome == OUTCOME_OK)
        outcome = blockage_solid(input, &solid, &beyond);
    if (outcome == OUTCOME_OK && !isfinite(separated))
        outcome = OUTCOME_NOT_FINITE;
    if (outcome == OUTCOME_OK)
        outcome = find_factor(input, separated, share, &factor, &beyond);
    if (outcome == OUTCOME_OK)
        outcome = maskell_split(input->drag_coefficient, given->attached_drag, vortex, factor,
                                share, &wake);
    if (outcome != OUTCOME_OK)
        return outcome;
    double speed = 1.0 + solid + wake;
    *result = (struct blockage_result){.q_ratio = speed * speed,
                                       .solid = solid,
                                       .wake = wake,
                                       .piece = {solid, wake, factor, vortex},
                                       .beyond_evidence = beyond};
    return OUTCOME_OK;
}
