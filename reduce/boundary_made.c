/* boundary_made.c - see boundary_made.h. */
#include "reduce/boundary_made.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/physics/maskell.h"
#include "reduce/physics/reynolds.h"

static double or_zero(double value)
{
    return isnan(value) ? 0.0 : value;
}

static enum outcome make_maskell(const struct facility *facility, struct boundary_made *made)
{
    const struct maskell_block *block = &facility->boundary.maskell;
    struct blockage_constants *constants = &made->constants;
    constants->base_cp = block->base_cp;
    constants->wake_factor = block->wake_factor;
    constants->attached_drag = or_zero(block->attached_drag);
    constants->vortex_drag = or_zero(block->vortex_drag);
    if (block->sweep_cd.n == 0)
        return OUTCOME_OK;
    enum outcome outcome = maskell_vortex_fit(block->sweep_cd.value, block->sweep_cl.value,
                                              block->sweep_cd.n, &made->vortex);
    constants->vortex_drag = made->vortex.slope;
    return outcome;
}

static enum outcome make_jet(const struct facility *facility, struct boundary_made *made)
{
    const struct jet_block *block = &facility->boundary.jet;
    struct blockage_constants *constants = &made->constants;
    constants->car_distance = block->car_distance;
    constants->collector_area = block->collector_area;
    constants->collector_distance = block->collector_distance;
    constants->collector_wake_factor = or_zero(block->collector_wake_factor);
    constants->collector_wake_constant = or_zero(block->collector_wake_constant);
    constants->expansion = block->expansion;
    constants->nozzle = block->nozzle;
    constants->nozzle_q = block->nozzle_q;
    constants->collector = block->collector;
    return OUTCOME_OK;
}

static enum outcome make_slotted(const struct facility *facility, struct boundary_made *made)
{
    const struct slotted_block *block = &facility->boundary.slotted;
    struct blockage_constants *constants = &made->constants;
    constants->facility_factor = block->factor;
    if (block->area.n == 0)
        return OUTCOME_OK;
    double *share = calloc(block->area.n, sizeof *share);
    if (share == NULL)
        return OUTCOME_NO_MEMORY;
    for (size_t i = 0; i < block->area.n; i++)
        share[i] = block->area.value[i] / (facility->width * facility->height);
    enum outcome outcome =
        slotted_from_series(share, block->coefficient.value, block->area.n, &made->slotted);
    free(share);
    constants->facility_factor = made->slotted.factor;
    constants->facility_share = made->slotted.highest;
    return outcome;
}

static enum outcome make_gradients(const struct facility *facility, struct boundary_made *made)
{
    const struct gradients_block *block = &facility->boundary.gradients;
    const struct number_list *const lists[CARRIED] = {
        [CARRIED_CD] = &block->cd, [CARRIED_CL] = &block->cl, [CARRIED_CLF] = &block->clf};
    enum outcome outcome = OUTCOME_OK;
    for (int i = 0; outcome == OUTCOME_OK && i < CARRIED; i++) {
        int beyond = 0;
        if (lists[i]->n < 2)
            continue;
        const double *g = block->gradient.value, *c = lists[i]->value;
        const struct gradient_pair pair = {{g[0], g[1]}, {c[0], c[1]}};
        outcome = gradient_sensitivity_of(&pair, 0.0, &made->sensitivity[i]);
        if (outcome == OUTCOME_OK)
            outcome = gradient_part(&made->sensitivity[i], facility->pressure_gradient,
                                    &made->gradient_part[i], &beyond);
        made->gradient_beyond = made->gradient_beyond || beyond;
    }
    return outcome;
}

static enum outcome make_turn(const struct facility *facility, struct boundary_made *made)
{
    const struct turn_block *block = &facility->boundary.turn;
    struct line_fit body, mirrored;
    struct yaw_offset offset;
    size_t n = block->yaw.n;
    double *yaw = calloc(n + 1, sizeof *yaw);
    if (yaw == NULL)
        return OUTCOME_NO_MEMORY;
    for (size_t i = 0; i < n; i++) /* the block counts as the logs do, points as targets do */
        yaw[i] = facility->yaw_sign < 0 ? -block->yaw.value[i] : block->yaw.value[i];
    enum outcome outcome = flow_yaw_of_zero(yaw, block->cy.value, n, &made->body_offset, &body);
    if (outcome == OUTCOME_OK)
        outcome = flow_yaw_of_zero(yaw, block->mirrored_cy.value, n, &offset, &mirrored);
    free(yaw);
    if (outcome == OUTCOME_OK)
        outcome = flow_turn_of(&body, &mirrored, &made->turn);
    made->yaw_turn = made->turn.is_confirmed ? made->turn.turn : 0.0;
    return outcome;
}

static enum outcome make_reynolds(const struct facility *facility, struct boundary_made *made)
{
    const struct reynolds_block *block = &facility->boundary.reynolds;
    const struct number_list *const lists[CARRIED] = {
        [CARRIED_CD] = &block->cd, [CARRIED_CL] = &block->cl, [CARRIED_CLF] = &block->clf};
    double change = 0.0, u = 0.0;
    made->reynolds.to = block->to;
    for (int i = 0; i < CARRIED; i++) {
        struct line_fit *fit = &made->reynolds.fit[i];
        if (lists[i]->n == 0)
            continue;
        enum outcome outcome = reynolds_fit(block->re.value, lists[i]->value, block->re.n, fit);
        if (outcome == OUTCOME_OK) /* the reference must lie in the sweep itself */
            outcome = reynolds_change(fit, block->to, block->to, &change, &u);
        if (outcome != OUTCOME_OK)
            return outcome;
        made->reynolds.has[i] = 1;
    }
    return OUTCOME_OK;
}

enum outcome boundary_make(const struct facility *facility, struct boundary_made *made,
                           const char **what)
{
    static const struct {
        enum boundary_block block;
        const char *name;
        enum outcome (*make)(const struct facility *facility, struct boundary_made *made);
    } makers[] = {
        {BOUNDARY_MASKELL, "maskell", make_maskell},
        {BOUNDARY_OPEN_JET, "open_jet", make_jet},
        {BOUNDARY_SLOTTED, "slotted", make_slotted},
        {BOUNDARY_TWO_GRADIENTS, "two_gradients", make_gradients},
        {BOUNDARY_FLOW_ANGULARITY, "flow_angularity", make_turn},
        {BOUNDARY_REYNOLDS, "reynolds", make_reynolds},
    };
    memset(made, 0, sizeof *made);
    made->constants.base_cp = (double)NAN;
    for (size_t i = 0; i < sizeof makers / sizeof *makers; i++) {
        if (!facility->boundary.given[makers[i].block])
            continue;
        enum outcome outcome = makers[i].make(facility, made);
        *what = makers[i].name;
        if (outcome != OUTCOME_OK)
            return outcome;
    }
    return OUTCOME_OK;
}
