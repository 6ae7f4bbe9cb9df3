/* point_budget.h - the uncertainty of one point's values, source by source. */
#ifndef LAPWING_POINT_BUDGET_H
#define LAPWING_POINT_BUDGET_H

#include "reduce/budget_sources.h"
#include "reduce/uncertain_point.h"

enum { BUDGET_TRIALS = 10000 };
extern const unsigned long budget_seed; /* of every point's trials */

struct point_budget {
    double contribution[BUDGET_PLACES][UNCERTAIN_OUTPUTS]; /* signed; 0 where there is nothing */
    double freedom[BUDGET_PLACES];
    int is_untold[BUDGET_PLACES]; /* 1: declared, and the point cannot tell what it does */
    struct combined total[UNCERTAIN_OUTPUTS]; /* NAN where the value is missing */
    double repeatability[UNCERTAIN_OUTPUTS];  /* what reaches a point or a run only */
    int is_bent[UNCERTAIN_OUTPUTS];           /* 1: steps do not tell it */
    int by_trials[UNCERTAIN_OUTPUTS];         /* 1: the total is drawn */
};

struct budget_request {
    const struct run_work *work;
    const struct point_row *row;
    const struct budget_list *list;
    const struct uncertain_point *point;
    const double *step_u; /* CARRIED_VALUES, added by the step to the target; or NULL */
    double step_freedom;
    int wants_trials[UNCERTAIN_OUTPUTS]; /* 1: where it is bent, draw */
};

/* Outcomes: OUTCOME_NO_MEMORY; OUTCOME_SINGULAR for more sources than the statistics take. */
enum outcome point_budget_make(const struct budget_request *request, struct point_budget *made);

/* Adds to contributions in CD CY CL CLF CLR what they are in balance, L/D, CDA and CLA at these values, by
 * their derivatives; missing ones stay 0. area: m2. */
void budget_derive(const double value[UNCERTAIN_OUTPUTS], double area,
                   double contribution[UNCERTAIN_OUTPUTS]);

#endif
