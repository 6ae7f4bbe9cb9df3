/* night_plan.c - see night_plan.h. */
#include "reduce/statistics/night_plan.h"

#include <math.h>
#include <stdlib.h>

#include "reduce/statistics/student.h"

enum { DRIFT_DEGREE = 2 };

static enum outcome check_times(const struct plan_request *request)
{
    const struct plan_times *times = &request->times;

    if (isnan(request->available) || !isfinite(times->run) || !(times->run > 0) ||
        !isfinite(times->sweep) || times->sweep < 0)
        return OUTCOME_NOT_FINITE;
    for (size_t c = 0; c <= request->order.configurations; c++)
        if (!isfinite(times->change[c]) || times->change[c] < 0)
            return OUTCOME_NOT_FINITE;
    return OUTCOME_OK;
}

static enum outcome check_request(const struct plan_request *request)
{
    if (request->order.configurations == 0 || !(request->noise.freedom > 0))
        return OUTCOME_TOO_FEW;
    if (request->order.configurations > CONTRASTS_MAX)
        return OUTCOME_SINGULAR;
    if (!isfinite(request->noise.variance) || !(request->worthwhile > 0))
        return OUTCOME_NOT_FINITE;
    return check_times(request);
}

enum variance_source night_plan_noise(const struct night_plan *plan,
                                      struct variance_estimate before,
                                      struct variance_estimate *used)
{
    struct variance_estimate own = {before.variance, plan->freedom};
    return variance_choose(own, before, NIGHT_LEAST_FREEDOM, used);
}

double night_plan_detectable(const struct night_plan *plan, size_t configuration,
                             struct variance_estimate before, int is_main,
                             struct assurance assurance)
{
    struct variance_estimate used;
    if (!(before.freedom > 0))
        return (double)NAN;
    (void)night_plan_noise(plan, before, &used);
    double alone = detectable_difference(used, plan->factor[configuration], assurance);
    if (!is_main)
        return alone;
    /* wider by the multiplier that holds for all of them, the same power */
    double more = plan->simultaneous - student_multiplier(1 - assurance.significance, used.freedom);
    return alone + more * sqrt(used.variance * plan->factor[configuration]);
}

/* Factors with the highest degree of drift that the order bears; NAN where it bears none. */
static enum outcome weigh(const struct plan_request *request, struct night_plan *plan)
{
    size_t order[RUN_ORDER_MAX];
    size_t n = planned_order_mountings(&plan->order, order), k = plan->configurations;
    struct variance_estimate used;
    double *correlation = calloc(k * k, sizeof *correlation);
    enum outcome outcome = OUTCOME_SINGULAR;

    if (correlation == NULL)
        return OUTCOME_NO_MEMORY;
    for (size_t degree = DRIFT_DEGREE + 1; degree-- > 0 && outcome != OUTCOME_OK;) {
        plan->degree = degree;
        outcome = order_contrasts(order, n, k, degree, plan->factor, correlation, &plan->freedom);
    }
    plan->simultaneous = (double)NAN;
    if (outcome == OUTCOME_OK) {
        (void)night_plan_noise(plan, request->noise, &used);
        outcome = simultaneous_multiplier(correlation, k, 1 - request->assurance.significance,
                                          used.freedom, &plan->simultaneous);
    }
    free(correlation);
    return outcome;
}

static enum outcome evaluate(const struct plan_request *request, struct night_plan *plan)
{
    enum outcome outcome = weigh(request, plan);

    plan->duration = planned_order_duration(&plan->order, &request->times);
    plan->detectable = outcome == OUTCOME_OK ? 0 : (double)NAN;
    for (size_t c = 0; outcome == OUTCOME_OK && c < plan->configurations; c++)
        plan->detectable = fmax(plan->detectable, night_plan_detectable(plan, c, request->noise, 1,
                                                                        request->assurance));
    if (plan->duration.whole > request->available)
        plan->answer = PLAN_DOES_NOT_FIT;
    else
        plan->answer = plan->detectable <= request->worthwhile ? PLAN_ENOUGH : PLAN_AS_MANY;
    return outcome;
}

static enum outcome try_repeats(const struct plan_request *request, size_t repeats,
                                struct night_plan *plan)
{
    struct order_request order = request->order;

    order.repeats = repeats;
    plan->repeats = repeats;
    enum outcome outcome = planned_order_make(&order, request->is_hard, &plan->order);
    return outcome == OUTCOME_OK ? evaluate(request, plan) : outcome;
}

/* An order that cannot tell is an answer, not a failure: the caller says so. */
static enum outcome take_given(const struct plan_request *request, struct night_plan *plan)
{
    enum outcome outcome =
        planned_order_take(request->given, request->n_given, request->is_hard, &plan->order);
    if (outcome != OUTCOME_OK)
        return outcome;
    outcome = evaluate(request, plan);
    return outcome == OUTCOME_SINGULAR || outcome == OUTCOME_TOO_FEW ? OUTCOME_OK : outcome;
}

static enum outcome search(const struct plan_request *request, size_t step, struct night_plan *plan)
{
    for (size_t repeats = step;; repeats += step) {
        struct night_plan next = *plan;
        enum outcome outcome = try_repeats(request, repeats, &next);
        if (outcome != OUTCOME_OK)
            return repeats == step ? outcome : OUTCOME_OK;
        if (next.answer == PLAN_DOES_NOT_FIT) {
            /* what does not fit is shown as it is when it is the least there is */
            if (repeats == step)
                *plan = next;
            return OUTCOME_OK;
        }
        *plan = next;
        if (plan->answer == PLAN_ENOUGH)
            return OUTCOME_OK;
    }
}

enum outcome night_plan_make(const struct plan_request *request, struct night_plan *plan)
{
    size_t step = request->order.scheme == SCHEME_ABBA ? 2 : 1;

    *plan = (struct night_plan){.answer = PLAN_DOES_NOT_FIT,
                                .configurations = request->order.configurations,
                                .detectable = (double)NAN,
                                .simultaneous = (double)NAN};
    enum outcome outcome = check_request(request);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (request->given != NULL)
        return take_given(request, plan);
    if (request->order.repeats > 0)
        return try_repeats(request, (request->order.repeats + step - 1) / step * step, plan);
    return search(request, step, plan);
}
