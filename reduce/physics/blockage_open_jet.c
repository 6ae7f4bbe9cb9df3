/* blockage_open_jet.c - the pieces of the open jet, each with the weight that the user gives it.
 *
 *   q_c/q = (1 + w_S eps_S + w_N eps_N + w_q eps_qN + w_C eps_C)^2
 *
 * A weight of 0 switches a piece off, and all are off by default: which of them a facility's q already
 * holds depends on how it measures q (w_q belongs to a q read from the nozzle), and neither that nor the
 * sum could be read in the source. A piece that is on needs its sizes; one that is off needs none.
 * Evidence, equations and source: open_jet.h. Not verified against the paper: weights, collector, sum. */
#include <math.h>

#include "reduce/physics/blockage.h"
#include "reduce/physics/constants.h"
#include "reduce/physics/finite.h"
#include "reduce/physics/open_jet.h"
#include "reduce/physics/spheroid.h"

/* K as given, or of a spheroid with its mirror image in the floor. */
static double shape_of(const struct blockage_input *input)
{
    if (input->shape != 0.0)
        return input->shape;
    return spheroid_body_factor(input->length / sqrt(8.0 * input->area / PI));
}

static enum outcome find_nozzle(const struct blockage_input *input, const struct open_jet *jet,
                                double piece[BLOCKAGE_PIECES])
{
    struct open_jet_nozzle nozzle;
    if (input->constants.nozzle == 0.0 && input->constants.nozzle_q == 0.0)
        return OUTCOME_OK;
    enum outcome outcome = open_jet_nozzle(jet, &nozzle);
    if (outcome != OUTCOME_OK)
        return outcome;
    piece[1] = input->constants.nozzle * nozzle.at_car;
    piece[2] = input->constants.nozzle_q * nozzle.in_nozzle;
    return OUTCOME_OK;
}

static enum outcome find_expansion(const struct blockage_input *input, const struct open_jet *jet,
                                   double piece[BLOCKAGE_PIECES])
{
    double expansion = 0.0;
    if (input->constants.expansion == 0.0)
        return OUTCOME_OK;
    enum outcome outcome = open_jet_expansion(jet, &expansion);
    piece[0] = input->constants.expansion * expansion;
    return outcome == OUTCOME_NOT_FINITE && isnan(jet->shape) ? OUTCOME_GEOMETRY : outcome;
}

static enum outcome find_collector(const struct blockage_input *input, const struct open_jet *jet,
                                   double piece[BLOCKAGE_PIECES])
{
    const struct blockage_constants *given = &input->constants;
    double collector = 0.0;
    if (given->collector == 0.0)
        return OUTCOME_OK;
    enum outcome outcome =
        open_jet_collector(jet, input->drag_coefficient, given->collector_wake_factor,
                           given->collector_wake_constant, &collector);
    piece[3] = given->collector * collector;
    return outcome;
}

static enum outcome check_weights(const struct blockage_constants *given)
{
    const double weights[] = {given->expansion, given->nozzle, given->nozzle_q, given->collector};
    return all_finite(weights, 4) ? OUTCOME_OK : OUTCOME_NOT_FINITE;
}

enum outcome blockage_open_jet(const struct blockage_input *input, struct blockage_result *result)
{
    const struct open_jet jet = {.nozzle_width = input->section_width,
                                 .nozzle_height = input->section_height,
                                 .area = input->area,
                                 .length = input->length,
                                 .volume = input->volume,
                                 .distance = input->constants.car_distance,
                                 .shape = shape_of(input),
                                 .collector_area = input->constants.collector_area,
                                 .collector_distance = input->constants.collector_distance};
    struct blockage_result found = {0};
    double share = 0.0, speed = 1.0;
    int beyond = 0;
    enum outcome outcome = blockage_area_share(input, &share, &beyond);
    if (outcome == OUTCOME_OK)
        outcome = check_weights(&input->constants);
    if (outcome == OUTCOME_OK)
        outcome = find_expansion(input, &jet, found.piece);
    if (outcome == OUTCOME_OK)
        outcome = find_nozzle(input, &jet, found.piece);
    if (outcome == OUTCOME_OK)
        outcome = find_collector(input, &jet, found.piece);
    if (outcome != OUTCOME_OK)
        return outcome;
    for (int i = 0; i < 4; i++)
        speed += found.piece[i];
    if (speed <= 0.0)
        return OUTCOME_BLOCKAGE_RANGE;
    found.q_ratio = speed * speed;
    found.solid = found.piece[0] + found.piece[1] + found.piece[2];
    found.wake = found.piece[3];
    found.beyond_evidence = beyond || input->length > input->section_width;
    *result = found;
    return OUTCOME_OK;
}
