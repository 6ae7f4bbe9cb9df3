/* point_quantities.c - see point_quantities.h. */
#include "reduce/point_quantities.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/inputs.h"
#include "reduce/point_rows.h"
#include "reduce/point_tares.h"
#include "reduce/sensed_heights.h"

int point_inputs_fill(const struct run_work *work, const struct point_row *point,
                      struct tunnel_inputs *inputs)
{
    double attitude[ATTITUDE_COUNT];
    inputs_fill(&work->recipe, &work->data, point, &work->zeros, inputs);
    boundary_taps_fill(work, point, inputs);
    attained_attitude(work->night->campaign, work->recipe.facility, &work->data, point, attitude);
    return point_tares(work, point, attitude, inputs, NULL, NULL);
}

int point_quantities(const struct run_work *work, const struct tunnel_inputs *inputs,
                     double quantity[QUANTITY_COUNT])
{
    struct tunnel_result result;
    if (tunnel_point_reduce(&work->recipe.tunnel, inputs, &result) != OUTCOME_OK)
        return 0;
    quantities_from_coefficients(result.corrected, work->recipe.tunnel.reference_area, quantity);
    return 1;
}

static enum quantity main_quantity(const struct campaign *campaign)
{
    const struct metric *metric =
        campaign->main_metric == NULL ? NULL : campaign_metric(campaign, campaign->main_metric);
    return metric == NULL ? QUANTITY_COUNT : quantity_from_symbol(metric->quantity);
}

double count_size(const struct campaign *campaign)
{
    return campaign->count > 0 ? campaign->count : 0.001;
}

double effect_in_counts(const struct campaign *campaign, const double from[QUANTITY_COUNT],
                        const double to[QUANTITY_COUNT])
{
    enum quantity quantity = main_quantity(campaign);
    if (quantity == QUANTITY_COUNT || !quantity_row(quantity)->in_counts)
        return (double)NAN;
    double effect = (to[quantity] - from[quantity]) / count_size(campaign);
    return isfinite(effect) ? effect : (double)NAN;
}

void effect_say(const struct campaign *campaign, double effect, char *detail, size_t size)
{
    enum quantity quantity = main_quantity(campaign);
    if (quantity == QUANTITY_COUNT || !quantity_row(quantity)->in_counts)
        return;
    const char *symbol = quantity_row(quantity)->symbol;
    size_t length = strlen(detail);
    if (effect == 0) /* exactly: it enters no step of the coefficient */
        (void)snprintf(detail + length, size - length, "; it takes no part in %s", symbol);
    else if (isfinite(effect))
        (void)snprintf(detail + length, size - length, "; effect on %s %+.3g counts", symbol,
                       effect);
    else
        (void)snprintf(detail + length, size - length, "; effect on %s not known", symbol);
}
