/* night_plan.c - see night_plan.h. */
#include "reduce/statistics/night_plan.h"

#include <gsl/gsl_cdf.h>
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

double night_plan_noise_limit(struct variance_estimate before, double probability)
{
    if (!(before.freedom > 0) || !(probability > 0 && probability < 1))
        return (double)NAN;
    if (isinf(before.freedom))
        return sqrt(before.variance);
    return sqrt(before.variance * before.freedom / gsl_cdf_chisq_Qinv(probability, before.freedom));
}

/* The night's own noise is found beside the variance of a walk, and where its degrees of freedom are few
 * that costs some power: 1 + 4 / v^2 brings it back to within 0.04 of what is asked for from v = 9 on, in
 * simulated nights (tests/test_plan_power.c); below 8 that of 8. */
static double search_cost(enum variance_source source, double freedom)
{
    double counted = fmax(freedom, NIGHT_LEAST_FREEDOM);
    return source == VARIANCE_TONIGHTS ? 1 + 4 / (counted * counted) : 1;
}

double night_plan_detectable(const struct night_plan *plan, size_t configuration,
                             struct variance_estimate before, int is_main,
                             struct assurance assurance)
{
    struct variance_estimate used;
    if (!(before.freedom > 0))
        return (double)NAN;
    enum variance_source source = night_plan_noise(plan, before, &used);
    double cost = search_cost(source, used.freedom);
    double alone = detectable_difference(used, plan->factor[configuration], assurance);
    if (!is_main)
        return cost * alone;
    /* wider by the multiplier that holds for all of them, the same power */
    double more = plan->simultaneous - student_multiplier(1 - assurance.significance, used.freedom);
    return cost * (alone + more * sqrt(used.variance * plan->factor[configuration]));
}

/* The largest least difference over the configurations, of intervals that hold for all of them or alone. */
static double largest_detectable(const struct plan_request *request, const struct night_plan *plan,
                                 int is_main)
{
    double largest = 0;
    for (size_t c = 0; c < plan->configurations; c++)
        largest = fmax(largest,
                       night_plan_detectable(plan, c, request->noise, is_main, request->assurance));
    return largest;
}

/* The multiplier for all of them is the slow part. Where not even single intervals find what matters it
 * can wait: they are narrower. */
static enum outcome find_detectable(const struct plan_request *request, int is_trial,
                                    const double *correlation, struct night_plan *plan)
{
    struct variance_estimate used;
    plan->detectable = largest_detectable(request, plan, 0);
    if (is_trial && plan->detectable > request->worthwhile)
        return OUTCOME_OK;
    (void)night_plan_noise(plan, request->noise, &used);
    enum outcome outcome = simultaneous_multiplier(correlation, plan->configurations,
                                                   1 - request->assurance.significance,
                                                   used.freedom, &plan->simultaneous);
    plan->detectable = outcome == OUTCOME_OK ? largest_detectable(request, plan, 1) : (double)NAN;
    return outcome;
}

/* Factors with the highest degree of drift that the order bears. */
static enum outcome weigh(const struct plan_request *request, int is_trial, struct night_plan *plan)
{
    size_t order[RUN_ORDER_MAX];
    size_t n = planned_order_mountings(&plan->order, order), k = plan->configurations;
    double *correlation = calloc(k * k, sizeof *correlation);
    enum outcome outcome = OUTCOME_SINGULAR;

    plan->simultaneous = (double)NAN;
    plan->detectable = (double)NAN;
    if (correlation == NULL)
        return OUTCOME_NO_MEMORY;
    for (size_t degree = DRIFT_DEGREE + 1; degree-- > 0 && outcome != OUTCOME_OK;) {
        plan->degree = degree;
        outcome = order_contrasts(order, n, k, degree, plan->factor, correlation, &plan->freedom);
    }
    if (outcome == OUTCOME_OK)
        outcome = find_detectable(request, is_trial, correlation, plan);
    free(correlation);
    return outcome;
}

static enum outcome evaluate(const struct plan_request *request, int is_trial,
                             struct night_plan *plan)
{
    plan->duration = planned_order_duration(&plan->order, &request->times);
    enum outcome outcome = weigh(request, is_trial, plan);
    if (plan->duration.whole > request->available)
        plan->answer = PLAN_DOES_NOT_FIT;
    else
        plan->answer = plan->detectable <= request->worthwhile ? PLAN_ENOUGH : PLAN_AS_MANY;
    return outcome;
}

static enum outcome try_repeats(const struct plan_request *request, size_t repeats, int is_trial,
                                struct night_plan *plan)
{
    struct order_request order = request->order;

    order.repeats = repeats;
    plan->repeats = repeats;
    enum outcome outcome = planned_order_make(&order, request->is_hard, &plan->order);
    return outcome == OUTCOME_OK ? evaluate(request, is_trial, plan) : outcome;
}

/* An order that cannot tell is an answer, not a failure: the caller says so. */
static enum outcome take_given(const struct plan_request *request, struct night_plan *plan)
{
    enum outcome outcome =
        planned_order_take(request->given, request->n_given, request->is_hard, &plan->order);
    if (outcome != OUTCOME_OK)
        return outcome;
    outcome = evaluate(request, 0, plan);
    return outcome == OUTCOME_SINGULAR || outcome == OUTCOME_TOO_FEW ? OUTCOME_OK : outcome;
}

/* Few fit into a night: one after another. */
static enum outcome search_night(const struct plan_request *request, size_t step,
                                 struct night_plan *plan)
{
    for (size_t repeats = step;; repeats += step) {
        struct night_plan next = *plan;
        enum outcome outcome = try_repeats(request, repeats, 1, &next);
        int is_first = repeats == step;
        if (is_first && outcome != OUTCOME_OK)
            return outcome;
        /* what does not fit is shown as it is when it is the least there is */
        int is_over = outcome != OUTCOME_OK || next.answer == PLAN_DOES_NOT_FIT;
        if (is_first || !is_over)
            *plan = next;
        if (is_over || plan->answer == PLAN_ENOUGH)
            return evaluate(request, 0, plan);
    }
}

/* Without a limit of time there may be hundreds, and the least difference falls with them: doubled until
 * they find what matters or are too many for an order, then halved in between. */
static enum outcome search_all(const struct plan_request *request, size_t step,
                               struct night_plan *plan)
{
    size_t low = 0, high = 0; /* in steps: low does not find it; high does, or is too many */
    size_t middle = 1;

    for (; high == 0 || high - low > 1; middle = high > 0 ? (low + high) / 2 : 2 * low) {
        struct night_plan next = *plan;
        enum outcome outcome = try_repeats(request, middle * step, 1, &next);
        if (outcome == OUTCOME_SINGULAR && middle > 1) {
            high = middle;
            continue;
        }
        if (outcome != OUTCOME_OK)
            return outcome;
        int is_enough = next.answer == PLAN_ENOUGH;
        *(is_enough ? &high : &low) = middle;
        if (is_enough || plan->answer != PLAN_ENOUGH)
            *plan = next;
    }
    return evaluate(request, 0, plan);
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
        return try_repeats(request, (request->order.repeats + step - 1) / step * step, 0, plan);
    return isinf(request->available) ? search_all(request, step, plan)
                                     : search_night(request, step, plan);
}
