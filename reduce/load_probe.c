/* load_probe.c - see load_probe.h. */
#include "reduce/load_probe.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/point_checks.h"
#include "reduce/point_quantities.h"
#include "reduce/point_spread.h"

void load_probe_find(const struct run_work *work, struct load_probe *probe)
{
    memset(probe, 0, sizeof *probe);
    for (size_t i = 0; i < work->data.n_points; i++) {
        const struct point_row *point = &work->data.points[i];
        struct reduced_point *made = &probe->made;
        if (!point_inputs_fill(work, point, &made->inputs) ||
            !point_quantities(work, &made->inputs, probe->quantity))
            continue;
        made->point = point;
        made->outcome = tunnel_point_reduce(&work->recipe.tunnel, &made->inputs, &made->result);
        point_spread_fill(work, made);
        made->balance_undefined = point_balance_undefined(made);
        return;
    }
}

int load_probe_add(const struct run_work *work, const struct load_probe *probe,
                   const double change[6], double quantity[QUANTITY_COUNT])
{
    struct tunnel_inputs inputs = probe->made.inputs;
    if (probe->made.point == NULL)
        return 0;
    for (int i = 0; i < 6; i++)
        inputs.tare[i] -= change[i];
    return point_quantities(work, &inputs, quantity);
}

struct metric_share metric_share_of(const struct campaign *campaign, const struct load_probe *probe,
                                    const double change[QUANTITY_COUNT])
{
    struct metric_share worst = {NULL, QUANTITY_COUNT, 0, 0};
    for (size_t i = 0; i < campaign->n_metrics; i++) {
        const struct metric *metric = &campaign->metrics[i];
        enum quantity quantity = quantity_from_symbol(metric->quantity);
        if (quantity == QUANTITY_COUNT || !(metric->worthwhile > 0) ||
            (quantity == QUANTITY_BALANCE && probe->made.balance_undefined))
            continue;
        double share = fabs(change[quantity]) / metric->worthwhile;
        if (isfinite(share) && (worst.metric == NULL || share > worst.share))
            worst = (struct metric_share){metric, quantity, change[quantity], share};
    }
    return worst;
}

void quantity_change_say(const struct campaign *campaign, enum quantity quantity, double change,
                         char *out, size_t size)
{
    const struct quantity_row *row = quantity_row(quantity);
    double unit = row->in_counts ? count_size(campaign) : 1;
    const char *words = row->in_counts ? "counts" : strcmp(row->unit, "1") == 0 ? "" : row->unit;
    (void)snprintf(out, size, "%s %+.3g%s%s", row->symbol, change / unit,
                   words[0] == '\0' ? "" : " ", words);
}

double smallest_worthwhile(const struct campaign *campaign)
{
    double smallest = (double)INFINITY;
    for (size_t i = 0; i < campaign->n_metrics; i++) {
        const struct metric *metric = &campaign->metrics[i];
        enum quantity quantity = quantity_from_symbol(metric->quantity);
        if (quantity != QUANTITY_COUNT && quantity_row(quantity)->in_counts &&
            metric->worthwhile > 0)
            smallest = fmin(smallest, metric->worthwhile);
    }
    return isfinite(smallest) ? smallest : count_size(campaign);
}
