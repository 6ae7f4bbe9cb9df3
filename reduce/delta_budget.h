/* delta_budget.h - what the difference of two configurations is uncertain by, beside what each of them is.
 *
 * A configuration's value is the mean over its runs; of a run, the mean over its points at a target, or the
 * weighted sum of such means. What reaches a point or a run is drawn anew for each and averages down; what
 * reaches the entry or always is one draw for all points of both, so that the contributions are averaged
 * with their signs and subtracted, and only their difference, as of a scale, is left. The step to the
 * target is one draw a configuration: its slopes carried all of its points. Balance and L/D are ratios of
 * the averages, by their derivatives there.
 * Source: GUM (JCGM 100:2008), equation 13.                                                        */
#ifndef LAPWING_DELTA_BUDGET_H
#define LAPWING_DELTA_BUDGET_H

#include "reduce/family.h"
#include "reduce/point_budget.h"

/* A point that is compared. */
struct budget_point {
    struct point_budget budget;
    size_t next; /* of the same run and target, from 1; 0: the last */
};

struct family_budget {
    const struct night *night;
    const struct family *family;
    struct budget_list list;     /* of the facility: what holds for every run */
    struct budget_point *points; /* [0] is none */
    size_t n, capacity;
    size_t *first; /* runs x targets: place of the first point, 0: none */
};

/* Reads the contributions of all points of the family that are compared. On OK the caller ends *made with
 * family_budget_end(). */
enum status family_budget_read(const struct night *night, const struct run_group *group,
                               const struct family *family, struct family_budget *made,
                               struct fault *fault);
void family_budget_end(struct family_budget *made);

/* Of one configuration at one measure in one quantity of uncertain_outputs. */
struct configuration_budget {
    size_t runs;                  /* 0: it has no value there, and nothing below holds */
    struct budget_sum own;        /* what is drawn anew for points and runs */
    double shared[BUDGET_PLACES]; /* signed, what is one draw for all of the comparison */
    double step[BUDGET_PLACES];   /* the step to the target alone */
    double freedom[BUDGET_PLACES];
    double mounting_variance; /* of one mounting's value, by the budget */
    size_t mountings;
};

void configuration_budget_make(const struct family_budget *data, size_t configuration,
                               size_t measure, size_t output, struct configuration_budget *made);

/* The whole of one, and of the difference of two. The budgets must be of the same data. */
struct budget_sum budget_absolute(const struct configuration_budget *of);
struct budget_sum budget_delta(const struct configuration_budget *of,
                               const struct configuration_budget *baseline);

#endif
