/* size_checks.c - an uncertainty or a correction too large for its point; see point_checks.h. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/point_checks.h"
#include "reduce/point_quantities.h"
#include "reduce/point_rows.h"

static const double correction_limit = 0.2;     /* of the coefficient before all corrections */
static const double standard_error_share = 0.5; /* of the smallest delta worth having */

static double uncertainty_of(const struct run_work *work, const struct reduced_point *made,
                             enum quantity quantity)
{
    const struct tunnel_uncertainty *spread = &made->spread;
    double area = work->recipe.tunnel.reference_area;
    if ((int)quantity < COEFFICIENT_COUNT)
        return spread->coefficient[quantity];
    switch (quantity) {
    case QUANTITY_BALANCE:
        return made->balance_undefined ? (double)NAN : spread->balance;
    case QUANTITY_LD:
        return spread->lift_to_drag;
    case QUANTITY_CDA:
        return area * spread->coefficient[COEFFICIENT_CD];
    case QUANTITY_CLA:
        return area * spread->coefficient[COEFFICIENT_CL];
    default:
        return (double)NAN;
    }
}

/* A cautious bound in place of an uncertainty has its own flag and is not held against the limit. */
int check_standard_error(const struct run_work *work, const struct reduced_point *made,
                         struct flag_note *note)
{
    const struct campaign *campaign = work->night->campaign;
    const struct metric *metric =
        campaign->main_metric == NULL ? NULL : campaign_metric(campaign, campaign->main_metric);
    enum quantity quantity =
        metric == NULL ? QUANTITY_COUNT : quantity_from_symbol(metric->quantity);
    if (quantity == QUANTITY_COUNT || made->spread_is_guess || made->spread_unknown)
        return 0;
    double u = uncertainty_of(work, made, quantity);
    double limit = standard_error_share * metric->worthwhile;
    if (!(u > limit) || !(limit > 0))
        return 0;
    const struct quantity_row *row = quantity_row(quantity);
    double size = row->in_counts ? count_size(campaign) : 1;
    const char *unit = row->in_counts ? " counts" : strcmp(row->unit, "%") == 0 ? " %" : "";
    *note = flag_note_make(FLAG_STANDARD_ERROR, work->run->run, made->point->point, row->symbol);
    note->value = u;
    note->limit = limit;
    note->unit = row->unit;
    note->effect = row->in_counts ? u / size : (double)NAN;
    (void)snprintf(note->detail, sizeof note->detail,
                   "the standard uncertainty of %s is %.3g%s, limit %.3g%s, half the smallest "
                   "delta worth having",
                   row->symbol, u / size, unit, limit / size, unit);
    return 1;
}

/* One correction of one coefficient. */
struct correction {
    const char *step;
    const double *before, *after; /* all coefficients */
    enum coefficient coefficient;
};

static double share_of(const struct reduced_point *made, const struct correction *correction)
{
    enum coefficient k = correction->coefficient;
    double share = (correction->after[k] - correction->before[k]) / made->result.raw[k];
    return k == COEFFICIENT_CL && made->balance_undefined ? (double)NAN : share;
}

int check_correction_size(const struct run_work *work, const struct reduced_point *made,
                          struct flag_note *note)
{
    const struct tunnel_result *result = &made->result;
    const struct correction corrections[] = {
        {"buoyancy", result->raw, result->buoyancy, COEFFICIENT_CD},
        {"buoyancy", result->raw, result->buoyancy, COEFFICIENT_CL},
        {"blockage", result->buoyancy, result->blocked, COEFFICIENT_CD},
        {"blockage", result->buoyancy, result->blocked, COEFFICIENT_CL},
    };
    const struct correction *worst = NULL;
    double share = correction_limit;
    for (size_t i = 0; i < sizeof corrections / sizeof corrections[0]; i++) {
        double own = fabs(share_of(made, &corrections[i]));
        if (!(own > share)) /* also when there is no such coefficient */
            continue;
        share = own;
        worst = &corrections[i];
    }
    if (worst == NULL)
        return 0;
    double before[QUANTITY_COUNT];
    double after[QUANTITY_COUNT];
    double area = work->recipe.tunnel.reference_area;
    const struct campaign *campaign = work->night->campaign;
    const char *symbol = quantity_row((enum quantity)worst->coefficient)->symbol;
    quantities_from_coefficients(worst->before, area, before);
    quantities_from_coefficients(worst->after, area, after);
    *note = flag_note_make(FLAG_CORRECTION_LARGE, work->run->run, made->point->point, symbol);
    note->value = share;
    note->limit = correction_limit;
    note->unit = "1";
    note->effect = effect_in_counts(campaign, before, after);
    (void)snprintf(note->detail, sizeof note->detail,
                   "%s takes %s from %.4f to %.4f, %.0f %% of the uncorrected one, limit %g %%",
                   worst->step, symbol, worst->before[worst->coefficient],
                   worst->after[worst->coefficient], 100 * share, 100 * correction_limit);
    effect_say(campaign, note->effect, note->detail, sizeof note->detail);
    return 1;
}
