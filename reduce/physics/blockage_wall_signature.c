/* blockage_wall_signature.c - the increment that the walls' own pressures tell.
 *
 *   q_c/q = (1 + eps)^2, eps at the car's middle
 *
 * Evidence, equations and source: wall_signature.h. Beyond it where the sources leave more than a fifth of
 * the largest speed on the walls unexplained, or the increment at nose or tail differs from that at the
 * middle by more than half of it (common practice, no source).                                     */
#include <math.h>

#include "reduce/physics/blockage.h"

static const double most_residual = 0.2, most_uneven = 0.5;

static int is_beyond(const struct wall_increment *found)
{
    double uneven = fmax(fabs(found->nose - found->middle), fabs(found->tail - found->middle));
    return found->residual_sd > most_residual * found->largest ||
           uneven > most_uneven * fabs(found->middle);
}

enum outcome blockage_wall_signature(const struct blockage_input *input,
                                     struct blockage_result *result)
{
    const struct wall_reading *wall = &input->wall;
    struct wall_increment found;
    double share = 0.0;
    int beyond = 0;
    enum outcome outcome = blockage_area_share(input, &share, &beyond);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (wall->signature == NULL)
        return OUTCOME_GEOMETRY;
    outcome =
        wall_signature_read(wall->signature, wall->value, wall->pressure, wall->empty, &found);
    if (outcome != OUTCOME_OK)
        return outcome;
    double speed = 1.0 + found.middle;
    *result = (struct blockage_result){
        .q_ratio = speed * speed,
        .solid = found.solid,
        .wake = found.wake,
        .piece = {found.solid, found.wake, found.nose, found.tail, found.residual_sd},
        .beyond_evidence = beyond || is_beyond(&found)};
    return OUTCOME_OK;
}
