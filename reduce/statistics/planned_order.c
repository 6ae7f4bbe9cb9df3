/* planned_order.c - see planned_order.h. */
#include "reduce/statistics/planned_order.h"

#include <string.h>

static int is_one(const int *flags, size_t configuration)
{
    return flags != NULL && flags[configuration];
}

static void put(struct planned_order *order, size_t configuration, int is_same_mounting)
{
    size_t last = order->n > 0 ? order->mounting[order->n - 1] : 0;
    order->configuration[order->n] = configuration;
    order->mounting[order->n] = order->n == 0 || is_same_mounting ? last : last + 1;
    order->n++;
}

enum outcome planned_order_take(const size_t *configurations, size_t n, const int *is_hard,
                                struct planned_order *order)
{
    memset(order, 0, sizeof *order);
    if (n == 0)
        return OUTCOME_TOO_FEW;
    if (n > RUN_ORDER_MAX)
        return OUTCOME_SINGULAR;
    for (size_t i = 0; i < n; i++)
        put(order, configurations[i],
            i > 0 && is_one(is_hard, configurations[i]) &&
                configurations[i - 1] == configurations[i]);
    return OUTCOME_OK;
}

/* The easy ones under numbers of their own, easy[1 .. n], so that run_order.h can draw them. */
static size_t number_easy(const struct order_request *request, const int *is_hard, size_t *easy)
{
    size_t n = 0;
    easy[0] = 0;
    for (size_t c = 1; c <= request->configurations; c++)
        if (!is_one(is_hard, c))
            easy[++n] = c;
    return n;
}

static enum outcome draw_easy(const struct order_request *request, const int *is_hard, size_t *runs,
                              size_t *n)
{
    size_t easy[RUN_ORDER_MAX + 1];
    struct order_request some = *request;

    some.configurations = number_easy(request, is_hard, easy);
    *n = 1;
    runs[0] = 0;
    if (some.configurations == 0 && request->repeats > 0)
        return OUTCOME_OK;
    enum outcome outcome = order_make(&some, runs, n);
    for (size_t i = 0; outcome == OUTCOME_OK && i < *n; i++)
        runs[i] = easy[runs[i]];
    return outcome;
}

static size_t count_of(const size_t *runs, size_t n, size_t configuration)
{
    size_t count = 0;
    for (size_t i = 0; i < n; i++)
        count += runs[i] == configuration;
    return count;
}

/* A plot with its return stands after a return. Plot j of p after the baseline that j (B - 1) / p others
 * follow: the night's last ones are as far from its end as the first from its beginning. */
static void put_plots(const struct order_request *request, const int *is_hard, size_t plots,
                      size_t returns, size_t returned, struct planned_order *order)
{
    size_t plot = 0;
    for (size_t c = 1; c <= request->configurations; c++) {
        if (!is_one(is_hard, c))
            continue;
        plot++;
        if ((2 * plot - 1) * returns / (2 * plots) + 1 != returned)
            continue;
        for (size_t repeat = 0; repeat < request->repeats; repeat++)
            put(order, c, repeat > 0);
        put(order, 0, 0);
    }
}

enum outcome planned_order_make(const struct order_request *request, const int *is_hard,
                                struct planned_order *order)
{
    size_t runs[RUN_ORDER_MAX];
    size_t n = 0, plots = 0, returned = 0;

    memset(order, 0, sizeof *order);
    if (request->configurations == 0 || request->repeats == 0 || request->group == 0)
        return OUTCOME_TOO_FEW;
    if (request->configurations > RUN_ORDER_MAX || request->repeats > RUN_ORDER_MAX)
        return OUTCOME_SINGULAR;
    for (size_t c = 1; c <= request->configurations; c++)
        plots += is_one(is_hard, c) != 0;
    enum outcome outcome = draw_easy(request, is_hard, runs, &n);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (n + plots * (request->repeats + 1) > RUN_ORDER_MAX)
        return OUTCOME_SINGULAR;
    size_t returns = count_of(runs, n, 0);
    for (size_t i = 0; i < n; i++) {
        put(order, runs[i], 0);
        if (runs[i] == 0)
            put_plots(request, is_hard, plots, returns, ++returned, order);
    }
    return OUTCOME_OK;
}

size_t planned_order_mountings(const struct planned_order *order, size_t *configuration)
{
    size_t n = 0;
    for (size_t i = 0; i < order->n; i++)
        if (i == 0 || order->mounting[i] != order->mounting[i - 1])
            configuration[n++] = order->configuration[i];
    return n;
}

int planned_order_changes(const struct planned_order *order, size_t run)
{
    if (run == 0 || run >= order->n)
        return 0;
    return order->mounting[run] != order->mounting[run - 1];
}

int planned_order_sweeps(const struct planned_order *order, const int *is_heavy, size_t run)
{
    if (run == 0)
        return 1;
    size_t before = order->configuration[run - 1], now = order->configuration[run];
    return before != now && (is_one(is_heavy, before) || is_one(is_heavy, now));
}

struct plan_duration planned_order_duration(const struct planned_order *order,
                                            const struct plan_times *times)
{
    struct plan_duration duration = {0};

    for (size_t i = 0; i < order->n; i++) {
        duration.runs += times->run;
        if (planned_order_changes(order, i)) {
            duration.n_changes++;
            duration.changes += times->change[order->configuration[i]];
        }
        duration.n_sweeps += planned_order_sweeps(order, times->is_heavy, i) != 0;
    }
    duration.n_sweeps += order->n > 0;
    if (!(times->sweep > 0))
        duration.n_sweeps = 0;
    duration.sweeps = (double)duration.n_sweeps * times->sweep;
    duration.whole = duration.runs + duration.changes + duration.sweeps;
    return duration;
}
