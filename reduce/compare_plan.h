/* compare_plan.h - what of a family is compared: which quantities, and which measure is judged. */
#ifndef LAPWING_COMPARE_PLAN_H
#define LAPWING_COMPARE_PLAN_H

#include "reduce/family.h"
#include "schema/campaign.h"

struct compare_plan {
    enum quantity quantities[QUANTITY_COUNT];
    size_t n_quantities;
    const struct metric *main_metric; /* NULL when none is declared */
    size_t main_measure;              /* the family's number of measures when none is declared */
    double confidence;
};

/* The quantities of the campaign's metrics, then CLF, CLR and CY, because every one of them rests on
 * those. The campaign must outlive the plan. */
struct compare_plan compare_plan_make(const struct campaign *campaign, const struct family *family);

/* 1 when the campaign declares a main measure that the family has. */
int compare_plan_has_main(const struct compare_plan *plan, const struct family *family);

/* 1 when this is it. */
int compare_plan_is_main(const struct compare_plan *plan, const struct family *family,
                         enum quantity quantity, size_t measure);

#endif
