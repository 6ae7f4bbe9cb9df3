/* test_night_plan.c - what a night takes, what fits into it, and what it will be able to tell. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/statistics/night_plan.h"
#include "tests/check.h"

extern CU_TestInfo night_plan_tests[];

static const char DENSE[] = "dense matrices inverted in R, tests/oracles/run_orders.R";
static const struct assurance usual = {0.05, 0.80};

/* A request of two configurations, 10 min a run, 10, 15 and 5 min to mount A, B and C. */
static const double change[] = {600, 900, 300};

static struct plan_request ask(void)
{
    return (struct plan_request){.order = {SCHEME_BRACKETED, 2, 0, 3, 5},
                                 .times = {.run = 600, .change = change},
                                 .available = 6 * 3600.0,
                                 .noise = {1, 40},
                                 .worthwhile = 2.5,
                                 .assurance = usual};
}

static void a_night_takes_its_time(void)
{
    const size_t letters[] = {0, 1, 1, 0, 2};
    const int heavy[] = {0, 0, 1}, hard[] = {0, 1, 0};
    struct plan_times times = {.run = 600, .change = change};
    struct planned_order order;

    CHECK(planned_order_take(letters, 5, NULL, &order) == OUTCOME_OK);
    struct plan_duration duration = planned_order_duration(&order, &times);
    CHECK_NEAR(duration.whole, 5 * 600 + 900 + 900 + 600 + 300, 0, "by hand: B is refitted");
    CHECK(duration.n_changes == 4 && duration.n_sweeps == 0);
    times.sweep = 1000;
    duration = planned_order_duration(&order, &times);
    CHECK(duration.n_sweeps == 2); /* first and last */
    times.is_heavy = heavy;
    duration = planned_order_duration(&order, &times);
    CHECK(duration.n_sweeps == 3); /* and when C comes */
    CHECK_NEAR(duration.sweeps, 3000, 0, "by hand");
    CHECK(planned_order_take(letters, 5, hard, &order) == OUTCOME_OK);
    duration = planned_order_duration(&order, &times);
    CHECK_NEAR(duration.changes, 900 + 600 + 300, 0, "by hand: B stays on");
    CHECK(planned_order_take(letters, 0, hard, &order) == OUTCOME_TOO_FEW);
    CHECK(planned_order_take(letters, RUN_ORDER_MAX + 1, hard, &order) == OUTCOME_SINGULAR);
}

static void whole_plots_are_mounted_once(void)
{
    const int hard[] = {0, 0, 1, 0};
    struct order_request request = {SCHEME_BRACKETED, 3, 4, 3, 2};
    struct planned_order order;
    size_t mounted[RUN_ORDER_MAX], hit = 0, runs = 0, mountings = 0;

    CHECK(planned_order_make(&request, hard, &order) == OUTCOME_OK);
    size_t n = planned_order_mountings(&order, mounted);
    for (size_t i = 0; i < order.n; i++)
        runs += order.configuration[i] == 2;
    for (size_t i = 0; i < n; i++)
        mountings += mounted[i] == 2;
    CHECK(runs == 4 && mountings == 1 && n == order.n - 3);
    CHECK(order_judge(mounted, n, &hit) == ORDER_SOUND);
    const int all_hard[] = {0, 1, 1, 1};
    CHECK(planned_order_make(&request, all_hard, &order) == OUTCOME_OK);
    CHECK(order.n == 1 + 3 * 5 && planned_order_mountings(&order, mounted) == 7);
    request.repeats = RUN_ORDER_MAX;
    CHECK(planned_order_make(&request, all_hard, &order) == OUTCOME_SINGULAR);
    request.repeats = 0;
    CHECK(planned_order_make(&request, all_hard, &order) == OUTCOME_TOO_FEW);
}

static void a_night_is_planned(void)
{
    struct plan_request request = ask();
    struct night_plan plan;

    CHECK(night_plan_make(&request, &plan) == OUTCOME_OK);
    CHECK(plan.answer == PLAN_ENOUGH && plan.detectable <= 2.5 && plan.duration.whole <= 6 * 3600);
    CHECK(plan.order.n == 1 + plan.repeats * 3);
    CHECK_NEAR(plan.duration.whole,
               600 * (double)plan.order.n + (double)plan.repeats * (600 + 900 + 300), 1e-9,
               "by hand: every mounting is a change but the first");
    struct plan_request less = request;
    less.available = plan.duration.whole - 1;
    struct night_plan fewer;
    CHECK(night_plan_make(&less, &fewer) == OUTCOME_OK);
    CHECK(fewer.answer == PLAN_AS_MANY && fewer.repeats == plan.repeats - 1);
    CHECK(fewer.detectable > 2.5);
    less.order.repeats = plan.repeats;
    CHECK(night_plan_make(&less, &fewer) == OUTCOME_OK);
    CHECK(fewer.answer == PLAN_DOES_NOT_FIT && fewer.repeats == plan.repeats);
    less.order.repeats = 0;
    less.available = 3600;
    CHECK(night_plan_make(&less, &fewer) == OUTCOME_OK);
    CHECK(fewer.answer == PLAN_DOES_NOT_FIT && fewer.repeats == 1 && fewer.duration.whole > 3600);
    less = request;
    less.order.scheme = SCHEME_ABBA;
    CHECK(night_plan_make(&less, &fewer) == OUTCOME_OK && fewer.repeats % 2 == 0);
    less.noise.freedom = 0;
    CHECK(night_plan_make(&less, &fewer) == OUTCOME_TOO_FEW);
    less = request;
    less.times.run = 0;
    CHECK(night_plan_make(&less, &fewer) == OUTCOME_NOT_FINITE);
    CHECK(fewer.order.n == 0 && isnan(fewer.detectable));
    less = request;
    less.order.configurations = CONTRASTS_MAX + 1;
    CHECK(night_plan_make(&less, &fewer) == OUTCOME_SINGULAR);
}

/* Of one configuration the least difference is that of detectable.h; of several the interval holds for
 * all of them. */
static void a_plan_counts_as_the_morning_does(void)
{
    const size_t letters[] = {0, 1, 0, 1, 0, 1, 0}, blocks[] = {0, 0, 1, 1}, alone[] = {0, 1};
    struct plan_request request = ask();
    struct night_plan plan;
    struct variance_estimate used;

    request.order.configurations = 1;
    request.given = letters;
    request.n_given = 7;
    request.noise.freedom = 20;
    CHECK(night_plan_make(&request, &plan) == OUTCOME_OK);
    CHECK_NEAR(plan.factor[0], 0.65625, 1e-10, DENSE);
    CHECK(plan.degree == 2 && plan.freedom == 3);
    CHECK(night_plan_noise(&plan, request.noise, &used) == VARIANCE_SEASONS && used.freedom == 20);
    /* 2.086 + 0.860 with 20 degrees of freedom: quantiles of R's qt */
    CHECK_NEAR(plan.detectable, (2.085963447 + 0.8599644410) * sqrt(0.65625), 1e-6, "R, qt");
    request.noise.freedom = 2;
    CHECK(night_plan_make(&request, &plan) == OUTCOME_OK);
    CHECK(night_plan_noise(&plan, request.noise, &used) == VARIANCE_TONIGHTS && used.freedom == 3);
    CHECK(isnan(night_plan_detectable(&plan, 0, (struct variance_estimate){NAN, 0}, 1, usual)));
    request.noise.freedom = 20;
    request.given = blocks;
    request.n_given = 4;
    CHECK(night_plan_make(&request, &plan) == OUTCOME_OK);
    CHECK_NEAR(plan.factor[0], 5, 1e-10, DENSE);
    request.given = alone;
    request.n_given = 2;
    CHECK(night_plan_make(&request, &plan) == OUTCOME_OK && plan.degree == 0);
    CHECK_NEAR(plan.factor[0], 2, 1e-10, DENSE);
    request.n_given = 1;
    CHECK(night_plan_make(&request, &plan) == OUTCOME_OK && isnan(plan.detectable));
}

static void contrasts_hang_together(void)
{
    static const size_t order[] = {0, 1, 2, 0, 1, 2, 0};
    const size_t n = sizeof order / sizeof order[0];
    double factor[3], correlation[9], freedom = 0;

    CHECK(order_contrasts(order, n, 2, 1, factor, correlation, &freedom) == OUTCOME_OK);
    CHECK_NEAR(factor[0], 0.84259259259259, 1e-10, DENSE);
    CHECK(correlation[1] == correlation[2] && correlation[0] == 1 && correlation[3] == 1);
    /* without drift: cov = 1 / n_A, variances 1 / n_A + 1 / n_B */
    CHECK(order_contrasts(order, n, 2, 0, factor, correlation, &freedom) == OUTCOME_OK);
    CHECK_NEAR(correlation[1], (1 / 3.0) / (1 / 3.0 + 1 / 2.0), 1e-12, "identity");
    CHECK_NEAR(freedom, 4, 0, "runs less unknowns");
    CHECK(order_contrasts(order, n, 3, 0, factor, correlation, &freedom) == OUTCOME_TOO_FEW);
    CHECK(order_contrasts(order, n, 0, 0, factor, correlation, &freedom) == OUTCOME_SINGULAR);
}

CU_TestInfo night_plan_tests[] = {
    {"a night takes its time", a_night_takes_its_time},
    {"whole plots are mounted once", whole_plots_are_mounted_once},
    {"a night is planned", a_night_is_planned},
    {"a plan counts as the morning does", a_plan_counts_as_the_morning_does},
    {"contrasts hang together", contrasts_hang_together},
    CU_TEST_INFO_NULL,
};
