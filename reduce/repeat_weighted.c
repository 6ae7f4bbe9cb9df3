/* repeat_weighted.c - see repeat_weighted.h. */
#include "reduce/repeat_weighted.h"

#include <math.h>

#include "reduce/point_rows.h"

/* The run's weighted quantity with one point in place of its target's mean; NAN without one. */
static double replaced(const struct campaign *campaign, const struct family *family,
                       const struct repeat_point *point, enum quantity quantity)
{
    double coefficient[COEFFICIENTS];
    double made[QUANTITY_COUNT];
    double weight = campaign->attitudes.targets[point->target].weight;
    for (int i = 0; i < COEFFICIENTS; i++) {
        enum quantity of = (enum quantity)i;
        double mean = family_value(family, point->run, point->target, of);
        coefficient[i] = family_value(family, point->run, family->n_measures - 1, of) +
                         weight * (point->value[i] - mean);
    }
    quantities_from_coefficients(coefficient, campaign->car.reference_area, made);
    return isfinite(point->value[quantity]) ? made[quantity] : (double)NAN;
}

static struct visit_estimate within_target(const struct campaign *campaign,
                                           const struct family *family,
                                           const struct repeat_points *points,
                                           enum quantity quantity, size_t target,
                                           struct visit_point *values)
{
    struct visit_estimate within, returned;
    size_t n = 0;
    for (size_t i = 0; i < points->n; i++) {
        const struct repeat_point *point = &points->points[i];
        if (point->target != target)
            continue;
        double value = replaced(campaign, family, point, quantity);
        if (isfinite(value))
            values[n++] = (struct visit_point){point->group, point->visit, value};
    }
    visit_variances(values, n, &within, &returned);
    return within;
}

struct visit_estimate repeat_weighted_within(const struct campaign *campaign,
                                             const struct family *family,
                                             const struct repeat_points *points,
                                             enum quantity quantity, struct visit_point *values)
{
    const struct visit_estimate none = {{(double)NAN, 0}, 0};
    struct visit_estimate sum = {{0, 0}, 0};
    double spread = 0;
    for (size_t k = 0; k < campaign->attitudes.n_targets; k++) {
        if (!(campaign->attitudes.targets[k].weight > 0))
            continue;
        struct visit_estimate part = within_target(campaign, family, points, quantity, k, values);
        if (!(part.estimate.freedom > 0))
            return none;
        sum.estimate.variance += part.estimate.variance;
        spread += part.estimate.variance * part.estimate.variance / part.estimate.freedom;
        sum.measurements += part.measurements;
    }
    if (!(spread > 0))
        return none;
    sum.estimate.freedom = sum.estimate.variance * sum.estimate.variance / spread;
    return sum;
}
