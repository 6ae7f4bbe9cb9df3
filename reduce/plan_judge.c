/* plan_judge.c - see plan_judge.h. */
#include "reduce/plan_judge.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/compare_print.h"
#include "schema/number.h"

enum { DRIFT_DEGREE = 2 };

static double available(const struct planned_night *night)
{
    const struct plan_input *input = night->input;
    return input->options.hours > 0 ? 3600 * input->options.hours : input->campaign->plan.available;
}

static double sweep_time(const struct plan_clock *clock)
{
    double sweeps = clock->weight_sweep + clock->belt_sweep;
    return sweeps > 0 ? sweeps + 2 * clock->zero : 0;
}

static struct plan_request make_request(const struct planned_night *night)
{
    const struct plan_options *options = &night->input->options;
    const struct campaign *campaign = night->input->campaign;
    const struct plan_section *plan = &campaign->plan;
    const struct plan_metric *main = plan_main_metric(night);
    int scheme = options->scheme >= 0 ? options->scheme : (int)plan->scheme;
    return (struct plan_request){
        .order = {.scheme = scheme == PLAN_ABBA ? SCHEME_ABBA : SCHEME_BRACKETED,
                  .configurations = night->n,
                  .repeats = options->repeats > 0 ? options->repeats : plan->repeats,
                  .group = plan->group,
                  .seed = options->seed >= 0 ? (unsigned long)options->seed : plan->seed},
        .is_hard = night->is_hard,
        .given = night->given,
        .n_given = night->n_given,
        .times = {.run = night->clock.run + 2 * night->clock.zero,
                  .sweep = sweep_time(&night->clock),
                  .change = night->change,
                  .is_heavy = night->is_heavy},
        .available = available(night),
        .noise = main->before,
        .worthwhile = main->metric->worthwhile,
        .assurance = {1 - campaign->limits.confidence, plan->power},
    };
}

/* A night of nothing but the baseline, each time refitted, that leaves the degrees of freedom which a
 * noise is trusted with, after a drift of the degree that a plan counts with. */
static enum status refuse_noise(const struct planned_night *night, struct fault *fault)
{
    const struct plan_metric *main = plan_main_metric(night);
    const struct plan_times *times = &night->request.times;
    int runs = NIGHT_LEAST_FREEDOM + 1 + DRIFT_DEGREE;
    double time = runs * times->run + (runs - 1) * times->change[0] + 2 * times->sweep;
    return FAIL(
        fault, BAD_INPUT,
        "nothing is known of how well %.60s (%s) repeats at %.60s, attitude %.60s, when a "
        "part is refitted, so no plan can say what it will find; declare repeatability: in "
        "campaign.yaml, or run a repeat night first: %d runs of %.60s, each refitted, %.1f h",
        main->metric->name, main->metric->quantity, night->facility->name,
        night->input->campaign->main_attitude, runs, plan_name(night, 0), plan_hours(time));
}

/* Refuses, or lets pass and remembers. */
static enum status refuse(struct planned_night *night, const char *short_reason, const char *reason,
                          struct fault *fault)
{
    if (!night->input->options.anyway)
        return FAIL(fault, BAD_INPUT, "%s", reason);
    size_t used = strlen(night->mark);
    (void)snprintf(night->mark + used, sizeof night->mark - used, "%s%s", used > 0 ? "; " : "",
                   short_reason);
    return OK;
}

static void say_factor(const size_t *order, size_t n, size_t configuration, size_t degree,
                       char *text, size_t size)
{
    struct order_worth worth;
    char number[40];
    if (order_worth(order, n, configuration, degree, &worth) != OUTCOME_OK) {
        (void)snprintf(text, size, "impossible");
        return;
    }
    (void)number_print_fixed(worth.factor, 2, number, sizeof number);
    (void)snprintf(text, size, "%.20s%s", number, worth.freedom > 0 ? "" : " (df 0)");
}

static enum status judge_order(struct planned_night *night, struct fault *fault)
{
    size_t order[RUN_ORDER_MAX];
    size_t hit = 0, n = planned_order_mountings(&night->plan.order, order);
    enum order_verdict verdict = order_judge(order, n, &hit);
    char factor[DRIFT_DEGREE + 1][32], reason[600];
    if (verdict == ORDER_SOUND)
        return OK;
    for (size_t degree = 0; degree <= DRIFT_DEGREE; degree++)
        say_factor(order, n, hit, degree, factor[degree], sizeof factor[degree]);
    (void)snprintf(
        reason, sizeof reason,
        "the order %s: '%.60s' is %s, so that a drift passes for a difference; variance of its "
        "delta over that of a run: %s without drift, %s with a straight one, %s with a bent one; "
        "put "
        "the baseline before, after and between (base,A,base,B,base or base,A,A,base), or leave "
        "--order out",
        verdict == ORDER_IN_BLOCKS ? "runs in blocks" : "is not bracketed", plan_name(night, hit),
        verdict == ORDER_IN_BLOCKS ? "not spread over the night among the baseline's runs"
                                   : "not always between two runs of the baseline",
        factor[0], factor[1], factor[2]);
    return refuse(night,
                  verdict == ORDER_IN_BLOCKS ? "order in blocks, drift passes for a difference"
                                             : "order not bracketed, drift passes for a difference",
                  reason, fault);
}

/* What the hours could tell, and which hours would tell what matters. */
struct remedies {
    struct night_plan fits, enough;
    int has_enough;
};

static enum outcome find_remedies(const struct planned_night *night, struct remedies *remedies)
{
    struct plan_request request = night->request;
    request.given = NULL;
    request.order.repeats = 0;
    enum outcome outcome = night_plan_make(&request, &remedies->fits);
    request.available = (double)INFINITY;
    if (outcome == OUTCOME_OK)
        outcome = night_plan_make(&request, &remedies->enough);
    remedies->has_enough = remedies->enough.answer == PLAN_ENOUGH;
    return outcome;
}

/* What keeps the night from being enough: its hours, or the repeats or the order that were asked for. */
static void say_next(const struct planned_night *night, const struct night_plan *enough, char *text,
                     size_t size)
{
    if (enough->duration.whole > night->request.available)
        (void)snprintf(text, size, "give --hours %.1f, fewer --configurations",
                       plan_hours(enough->duration.whole));
    else if (night->given != NULL)
        (void)snprintf(text, size, "leave the order out");
    else
        (void)snprintf(text, size, "give --repeats %zu", enough->repeats);
}

/* "3 repeats of each in 13.2 h would" or why nothing would. */
static void say_enough(const struct planned_night *night, const struct remedies *remedies,
                       char *text, size_t size)
{
    char next[80];
    say_next(night, &remedies->enough, next, sizeof next);
    if (remedies->has_enough)
        (void)snprintf(text, size, "%zu of each (%zu runs) in %.1f h would; %s",
                       remedies->enough.repeats, remedies->enough.order.n,
                       plan_hours(remedies->enough.duration.whole), next);
    else
        (void)snprintf(text, size,
                       "no number of repeats up to %d runs would; make a run repeat better, give "
                       "fewer --configurations",
                       RUN_ORDER_MAX);
}

static void say_fits(const struct planned_night *night, const struct remedies *remedies, char *text,
                     size_t size)
{
    char least[64];
    const char *quantity = plan_main_metric(night)->metric->quantity;
    if (remedies->fits.answer == PLAN_DOES_NOT_FIT) {
        (void)snprintf(text, size, "not even one mounting of each fits into %.1f h",
                       night->request.available / 3600);
        return;
    }
    compare_print_number(quantity, remedies->fits.detectable, 0, least, sizeof least);
    (void)snprintf(text, size, "%zu of each fit into %.1f h and find %s at least",
                   remedies->fits.repeats, night->request.available / 3600, least);
}

static enum status refuse_power(struct planned_night *night, struct fault *fault)
{
    const struct plan_metric *main = plan_main_metric(night);
    struct remedies remedies;
    char fits[200], enough[200], found[64], wanted[64], reason[1200], brief[240];
    if (find_remedies(night, &remedies) != OUTCOME_OK)
        return FAIL(fault, NO_MEMORY, "no memory to plan the night");
    say_fits(night, &remedies, fits, sizeof fits);
    say_enough(night, &remedies, enough, sizeof enough);
    compare_print_number(main->metric->quantity, night->plan.detectable, 0, found, sizeof found);
    compare_print_number(main->metric->quantity, main->metric->worthwhile, 0, wanted,
                         sizeof wanted);
    if (night->plan.answer == PLAN_DOES_NOT_FIT)
        (void)snprintf(brief, sizeof brief, "it takes %.1f h and there are %.1f h",
                       plan_hours(night->plan.duration.whole), night->request.available / 3600);
    else
        (void)snprintf(brief, sizeof brief, "it finds %s %s at least, %s is worthwhile", found,
                       main->metric->quantity, wanted);
    (void)snprintf(reason, sizeof reason,
                   "the plan of %zu runs: %s; what is worthwhile in %.60s is %s %s: %s; %s, or "
                   "--anyway to plan it all the same",
                   night->plan.order.n, brief, main->metric->name, wanted, main->metric->quantity,
                   fits, enough);
    return refuse(night, brief, reason, fault);
}

static enum status make_plan(struct planned_night *night, struct fault *fault)
{
    enum outcome outcome = night_plan_make(&night->request, &night->plan);
    if (outcome == OUTCOME_NO_MEMORY)
        return FAIL(fault, NO_MEMORY, "no memory to plan the night");
    if (outcome == OUTCOME_SINGULAR)
        return FAIL(fault, BAD_INPUT,
                    "the plan has more than %d runs; give fewer --configurations or --repeats",
                    RUN_ORDER_MAX);
    if (outcome != OUTCOME_OK)
        return FAIL(fault, BAD_INPUT,
                    "the night cannot be planned: %s; correct plan: in campaign.yaml",
                    outcome_sentence(outcome));
    return OK;
}

enum status plan_judge(struct planned_night *night, struct fault *fault)
{
    night->request = make_request(night);
    if (!(plan_main_metric(night)->before.freedom > 0))
        return refuse_noise(night, fault);
    enum status status = make_plan(night, fault);
    if (status == OK && night->given != NULL)
        status = judge_order(night, fault);
    if (status == OK && night->plan.answer != PLAN_ENOUGH)
        status = refuse_power(night, fault);
    return status;
}

enum outcome plan_judge_scheme(const struct planned_night *night, enum order_scheme scheme,
                               struct night_plan *plan)
{
    struct plan_request request = night->request;
    request.given = NULL;
    request.order.repeats = 0;
    request.order.scheme = scheme;
    return night_plan_make(&request, plan);
}
