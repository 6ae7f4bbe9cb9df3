/* drift_watch.c - what the drift of the zero does to the coefficients; see point_checks.h.
 *
 * The point is reduced twice, with the zero before and with the zero after; the difference is the
 * effect of the whole drift through every step, at this point's own load and q.                    */
#include "reduce/point_checks.h"

#include <math.h>
#include <stdio.h>

#include "schema/quantity.h"

static enum outcome reduce_at(const struct run_work *work, const struct reduced_point *made,
                              double fraction, struct tunnel_result *result)
{
    struct tunnel_inputs inputs = made->inputs;
    inputs.zero_fraction = fraction;
    return tunnel_point_reduce(&work->recipe.tunnel, &inputs, result);
}

void drift_watch_add(struct drift_watch *watch, const struct run_work *work,
                     const struct reduced_point *made)
{
    struct tunnel_result before;
    struct tunnel_result after;
    const struct campaign *campaign = work->night->campaign;
    if (work->zeros.choice.kind != ZERO_KIND_LINEAR ||
        work->recipe.tunnel.source == LOADS_AS_COEFFICIENTS ||
        reduce_at(work, made, 0, &before) != OUTCOME_OK ||
        reduce_at(work, made, 1, &after) != OUTCOME_OK)
        return;
    for (size_t i = 0; i < campaign->n_metrics; i++) {
        const struct metric *metric = &campaign->metrics[i];
        enum quantity quantity = quantity_from_symbol(metric->quantity);
        if (quantity >= COEFFICIENT_COUNT || !(metric->worthwhile > 0))
            continue;
        double delta = after.corrected[quantity] - before.corrected[quantity];
        double share = fabs(delta) / metric->worthwhile;
        if (watch->metric != NULL && !(share > watch->share))
            continue;
        *watch = (struct drift_watch){metric, share, delta};
    }
}

int drift_watch_check(const struct drift_watch *watch, const struct run_work *work,
                      struct flag_note *note)
{
    const struct campaign *campaign = work->night->campaign;
    double share_limit = campaign->limits.zero_drift;
    if (watch->metric == NULL || !(watch->share > share_limit))
        return 0;
    double count = campaign->count > 0 ? campaign->count : 0.001;
    double limit = share_limit * watch->metric->worthwhile;
    *note = flag_note_make(FLAG_ZERO_DRIFT, work->run->run, "", watch->metric->quantity);
    note->value = watch->delta;
    note->limit = limit;
    note->unit = "1";
    (void)snprintf(note->detail, sizeof note->detail,
                   "the zero moved from %s to %s by %+.1f counts of %s, limit %.1f (%g of the "
                   "smallest worthwhile delta)",
                   work->zeros.choice.before.run->run, work->zeros.choice.after.run->run,
                   watch->delta / count, watch->metric->quantity, limit / count, share_limit);
    return 1;
}
