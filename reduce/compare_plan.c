/* compare_plan.c - see compare_plan.h. */
#include "reduce/compare_plan.h"

static const enum quantity always[] = {QUANTITY_CLF, QUANTITY_CLR, QUANTITY_CY};

static void add_quantity(struct compare_plan *plan, enum quantity quantity)
{
    if (quantity == QUANTITY_COUNT)
        return;
    for (size_t i = 0; i < plan->n_quantities; i++)
        if (plan->quantities[i] == quantity)
            return;
    plan->quantities[plan->n_quantities++] = quantity;
}

struct compare_plan compare_plan_make(const struct campaign *campaign, const struct family *family)
{
    struct compare_plan plan = {.n_quantities = 0,
                                .main_measure = family->n_measures,
                                .confidence = campaign->limits.confidence};
    for (size_t i = 0; i < campaign->n_metrics; i++)
        add_quantity(&plan, quantity_from_symbol(campaign->metrics[i].quantity));
    for (size_t i = 0; i < sizeof always / sizeof always[0]; i++)
        add_quantity(&plan, always[i]);
    if (campaign->main_metric == NULL || campaign->main_attitude == NULL)
        return plan;
    plan.main_metric = campaign_metric(campaign, campaign->main_metric);
    plan.main_measure = family_measure(family, campaign->main_attitude);
    return plan;
}

int compare_plan_has_main(const struct compare_plan *plan, const struct family *family)
{
    return plan->main_metric != NULL && plan->main_measure < family->n_measures;
}

int compare_plan_is_main(const struct compare_plan *plan, const struct family *family,
                         enum quantity quantity, size_t measure)
{
    return compare_plan_has_main(plan, family) && measure == plan->main_measure &&
           quantity == quantity_from_symbol(plan->main_metric->quantity);
}
