/* night_plan.c - see night_plan.h. */
#include "reduce/statistics/night_plan.h"

#include <math.h>

enum { DRIFT_DEGREE = 2 };

double plan_duration(const size_t *order, size_t n, double run, const double *change)
{
    double duration = 0;

    for (size_t i = 0; i < n; i++)
        duration += run + (i > 0 && order[i] != order[i - 1] ? change[order[i]] : 0);
    return duration;
}

static enum outcome check_request(const struct plan_request *request)
{
    if (request->configurations == 0 || !(request->noise.freedom > 0))
        return OUTCOME_TOO_FEW;
    if (!isfinite(request->available) || !isfinite(request->run) || !(request->run > 0) ||
        !isfinite(request->noise.variance) || !(request->worthwhile > 0))
        return OUTCOME_NOT_FINITE;
    for (size_t c = 0; c <= request->configurations; c++)
        if (!isfinite(request->change[c]) || request->change[c] < 0)
            return OUTCOME_NOT_FINITE;
    return OUTCOME_OK;
}

/* The largest over the configurations, with the highest degree that all of them bear. */
static double find_detectable(const struct plan_request *request, struct night_plan *plan)
{
    for (size_t degree = DRIFT_DEGREE + 1; degree-- > 0;) {
        double largest = 0;
        for (size_t c = 1; c <= request->configurations; c++) {
            struct order_worth worth;
            enum outcome outcome = order_worth(plan->order, plan->runs, c, degree, &worth);
            double found =
                outcome == OUTCOME_OK
                    ? detectable_difference(request->noise, worth.factor, request->assurance)
                    : (double)NAN;
            largest = isnan(found) ? found : fmax(largest, found);
            if (isnan(found))
                break;
        }
        plan->drift_degree = degree;
        if (!isnan(largest))
            return largest;
    }
    return (double)NAN;
}

static enum outcome plan_repeats(const struct plan_request *request, size_t repeats,
                                 struct night_plan *plan)
{
    struct order_request order = {request->scheme, request->configurations, repeats, request->group,
                                  request->seed};
    plan->repeats = repeats;
    enum outcome outcome = order_make(&order, plan->order, &plan->runs);
    if (outcome != OUTCOME_OK)
        return outcome;
    plan->duration = plan_duration(plan->order, plan->runs, request->run, request->change);
    plan->detectable = find_detectable(request, plan);
    return OUTCOME_OK;
}

enum outcome night_plan_make(const struct plan_request *request, struct night_plan *plan)
{
    size_t step = request->scheme == SCHEME_ABBA ? 2 : 1;

    *plan = (struct night_plan){.answer = PLAN_DOES_NOT_FIT, .detectable = (double)NAN};
    enum outcome outcome = check_request(request);
    if (outcome != OUTCOME_OK)
        return outcome;
    for (size_t repeats = step;; repeats += step) {
        struct night_plan next = *plan;
        outcome = plan_repeats(request, repeats, &next);
        if (outcome != OUTCOME_OK && repeats == step)
            return outcome;
        if (outcome != OUTCOME_OK || next.duration > request->available) {
            /* what does not fit is shown as it is when it is the least there is */
            if (repeats == step)
                *plan = next;
            return OUTCOME_OK;
        }
        *plan = next;
        plan->answer = next.detectable <= request->worthwhile ? PLAN_ENOUGH : PLAN_AS_MANY;
        if (plan->answer == PLAN_ENOUGH)
            return OUTCOME_OK;
    }
}
