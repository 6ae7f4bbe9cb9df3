/* drift_watch.c - what the drift of the zero does to the quantities judged by; see point_checks.h.
 *
 * The point is reduced twice, with the zero before and with the zero after; the difference is the
 * effect of the whole drift through every step, at this point's own load and q.                    */
#include "reduce/point_checks.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/point_quantities.h"
#include "reduce/statistics/record_rules.h"

enum { OUTPUTS = 6, BEFORE = 0, AFTER = 1 };

/* One zero that drifts: of an output, or of a cell that is added. */
struct drifting {
    enum role role;
    size_t before, after; /* offsets in struct tunnel_inputs */
};

/* Outputs first, then cells; 0 when there is no such zero. */
static int drifting_zero(const struct tunnel_recipe *recipe, int i, struct drifting *zero)
{
    if (i < OUTPUTS) {
        const size_t at = (size_t)i * sizeof(double);
        zero->role = (enum role)((int)recipe_first_role(recipe->source) + i);
        zero->before = offsetof(struct tunnel_inputs, zero_before) + at;
        zero->after = offsetof(struct tunnel_inputs, zero_after) + at;
        return 1;
    }
    int cell = i - OUTPUTS;
    const size_t at = (size_t)cell * sizeof(double);
    zero->role = recipe_cell_role((enum wheel_cell)cell);
    zero->before = offsetof(struct tunnel_inputs, cell_zero_before) + at;
    zero->after = offsetof(struct tunnel_inputs, cell_zero_after) + at;
    return recipe->cell_added[cell];
}

/* The point with the zero at one end of the drift. */
struct drift_end {
    struct tunnel_inputs inputs;
    double quantity[QUANTITY_COUNT];
};

static int reduce_end(const struct run_work *work, const struct reduced_point *made, int end,
                      struct drift_end *reduced)
{
    reduced->inputs = made->inputs;
    reduced->inputs.zero_fraction = end;
    return point_quantities(work, &reduced->inputs, reduced->quantity);
}

/* Standard error of one channel's zero; 0 where it cannot be told. */
static double zero_error(const struct zero_reading *zero, enum role role)
{
    int channel = run_data_channel(&zero->data, role);
    double error = channel < 0 || zero->point == NULL
                       ? (double)NAN
                       : channel_standard_error(&zero->point->channels[channel]);
    return isfinite(error) ? error : 0;
}

/* Adds what the zero's own uncertainty does to each quantity, squared; channels as independent. */
static void add_variance(const struct run_work *work, const struct drift_end *from, int end,
                         double variance[QUANTITY_COUNT])
{
    const struct zero_reading *zero = end == BEFORE ? &work->zeros.before : &work->zeros.after;
    for (int i = 0; i < OUTPUTS + WHEEL_CELLS; i++) {
        struct tunnel_inputs inputs = from->inputs;
        double quantity[QUANTITY_COUNT];
        struct drifting drifting;
        if (!drifting_zero(&work->recipe.tunnel, i, &drifting))
            continue;
        double error = zero_error(zero, drifting.role);
        size_t at = end == BEFORE ? drifting.before : drifting.after;
        *(double *)(void *)((char *)&inputs + at) += error;
        if (error == 0 || !point_quantities(work, &inputs, quantity))
            continue;
        for (int q = 0; q < QUANTITY_COUNT; q++)
            variance[q] += (quantity[q] - from->quantity[q]) * (quantity[q] - from->quantity[q]);
    }
}

void drift_watch_add(struct drift_watch *watch, const struct run_work *work,
                     const struct reduced_point *made)
{
    struct drift_end before;
    struct drift_end after;
    double variance[QUANTITY_COUNT] = {0};
    const struct campaign *campaign = work->night->campaign;
    if (work->zeros.choice.kind != ZERO_KIND_LINEAR || !recipe_has_loads(&work->recipe.tunnel) ||
        !reduce_end(work, made, BEFORE, &before) || !reduce_end(work, made, AFTER, &after))
        return;
    add_variance(work, &before, BEFORE, variance);
    add_variance(work, &after, AFTER, variance);
    double effect = effect_in_counts(campaign, before.quantity, after.quantity);
    for (size_t i = 0; i < campaign->n_metrics; i++) {
        const struct metric *metric = &campaign->metrics[i];
        enum quantity quantity = quantity_from_symbol(metric->quantity);
        if (quantity == QUANTITY_COUNT || !(metric->worthwhile > 0) ||
            (quantity == QUANTITY_BALANCE && made->balance_undefined))
            continue;
        double delta = after.quantity[quantity] - before.quantity[quantity];
        double u = sqrt(variance[quantity]);
        double share = record_drift(delta, u, 0).value / metric->worthwhile;
        if (!isfinite(share) || (watch->metric != NULL && share <= watch->share))
            continue;
        *watch = (struct drift_watch){metric, share, delta, u, effect};
    }
}

/* In counts where the quantity is counted, else in its own unit. */
static void describe(const struct drift_watch *watch, const struct run_work *work,
                     const struct quantity_row *row, struct flag_note *note)
{
    const struct campaign *campaign = work->night->campaign;
    double size = row->in_counts ? count_size(campaign) : 1;
    const char *unit = row->in_counts ? "counts" : strcmp(row->unit, "1") == 0 ? "" : row->unit;
    const char *blank = unit[0] == '\0' ? "" : " ";
    (void)snprintf(note->detail, sizeof note->detail,
                   "with zero %.80s instead of %.80s %s would change by %+.3g%s%s, standard "
                   "uncertainty %.2g%s%s; limit %.3g%s%s (%g of the smallest worthwhile delta)",
                   work->zeros.choice.after.run->run, work->zeros.choice.before.run->run,
                   row->symbol, watch->delta / size, blank, unit, watch->u / size, blank, unit,
                   note->limit / size, blank, unit, campaign->limits.zero_drift);
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
    note->effect = watch->effect;
    describe(watch, work, row, note);
    effect_say(work->night->campaign, note->effect, note->detail, sizeof note->detail);
    return 1;
}
