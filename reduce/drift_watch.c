/* drift_watch.c - what the drift of the zero does to the quantities judged by; see point_checks.h.
 *
 * The point is reduced twice, with the zero before and with the zero after; the difference is the
 * effect of the whole drift through every step, at this point's own load and q.                    */
#include "reduce/point_checks.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/point_rows.h"
#include "schema/quantity.h"

/* All quantities of the point with the zero at one end of the drift; 0 when there are none. */
static int quantities_at(const struct run_work *work, const struct reduced_point *made,
                         double fraction, double quantity[QUANTITY_COUNT])
{
    struct tunnel_result result;
    struct tunnel_inputs inputs = made->inputs;
    inputs.zero_fraction = fraction;
    if (tunnel_point_reduce(&work->recipe.tunnel, &inputs, &result) != OUTCOME_OK)
        return 0;
    quantities_from_coefficients(result.corrected, work->recipe.tunnel.reference_area, quantity);
    return 1;
}

void drift_watch_add(struct drift_watch *watch, const struct run_work *work,
                     const struct reduced_point *made)
{
    double before[QUANTITY_COUNT];
    double after[QUANTITY_COUNT];
    const struct campaign *campaign = work->night->campaign;
    if (work->zeros.choice.kind != ZERO_KIND_LINEAR ||
        work->recipe.tunnel.source == LOADS_AS_COEFFICIENTS ||
        !quantities_at(work, made, 0, before) || !quantities_at(work, made, 1, after))
        return;
    for (size_t i = 0; i < campaign->n_metrics; i++) {
        const struct metric *metric = &campaign->metrics[i];
        enum quantity quantity = quantity_from_symbol(metric->quantity);
        if (quantity == QUANTITY_COUNT || !(metric->worthwhile > 0) ||
            (quantity == QUANTITY_BALANCE && made->balance_undefined))
            continue;
        double delta = after[quantity] - before[quantity];
        double share = fabs(delta) / metric->worthwhile;
        if (!isfinite(share) || (watch->metric != NULL && share <= watch->share))
            continue;
        *watch = (struct drift_watch){metric, share, delta};
    }
}

/* In counts where the quantity is counted, else in its own unit. */
static void describe(const struct drift_watch *watch, const struct run_work *work,
                     const struct quantity_row *row, struct flag_note *note)
{
    const struct campaign *campaign = work->night->campaign;
    double count = campaign->count > 0 ? campaign->count : 0.001;
    double size = row->in_counts ? count : 1;
    const char *unit = row->in_counts ? "counts" : strcmp(row->unit, "1") == 0 ? "" : row->unit;
    (void)snprintf(
        note->detail, sizeof note->detail,
        "with zero %.80s instead of %.80s %s would change by %+.3g%s%s; limit %.3g (%g of "
        "the smallest worthwhile delta)",
        work->zeros.choice.after.run->run, work->zeros.choice.before.run->run, row->symbol,
        watch->delta / size, unit[0] == '\0' ? "" : " ", unit, note->limit / size,
        campaign->limits.zero_drift);
}

int drift_watch_check(const struct drift_watch *watch, const struct run_work *work,
                      struct flag_note *note)
{
    double share_limit = work->night->campaign->limits.zero_drift;
    if (watch->metric == NULL || !(watch->share > share_limit))
        return 0;
    const struct quantity_row *row = quantity_row(quantity_from_symbol(watch->metric->quantity));
    *note = flag_note_make(FLAG_ZERO_DRIFT, work->run->run, "", row->symbol);
    note->value = watch->delta;
    note->limit = share_limit * watch->metric->worthwhile;
    note->unit = row->unit;
    describe(watch, work, row, note);
    return 1;
}
