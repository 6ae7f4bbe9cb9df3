/* test_plan_power.c - do planned nights find what their plan says they find? */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/statistics/night_plan.h"
#include "tests/check.h"
#include "tests/night_simulation.h"

extern CU_TestInfo plan_power_tests[];

static const struct assurance usual = {0.05, 0.80};

/* Noise of standard deviation 1 that is known from before with many degrees of freedom; the night has its
 * own. Gives the share of deltas, each as large as the plan's least, that are found. */
static double found_share(size_t configurations, size_t repeats, enum order_scheme scheme,
                          enum simulated_drift drift, enum night_method method, size_t nights)
{
    double change[CONTRASTS_MAX + 1] = {0}, least[CONTRASTS_MAX];
    struct variance_estimate noise = {1, 1000};
    struct plan_request request = {.order = {scheme, configurations, repeats, 3, 7},
                                   .times = {.run = 600, .change = change},
                                   .available = (double)INFINITY,
                                   .noise = noise,
                                   .worthwhile = 1,
                                   .assurance = usual};
    struct night_plan plan;

    CHECK(night_plan_make(&request, &plan) == OUTCOME_OK);
    CHECK(plan.freedom >= NIGHT_LEAST_FREEDOM);
    for (size_t c = 0; c < configurations; c++)
        least[c] = night_plan_detectable(&plan, c, noise, 1, usual);
    const struct night_design design = {.name = "planned",
                                        .configurations = configurations + 1,
                                        .freedom_step = 0.25,
                                        .walk_step = 100,
                                        .order = plan.order.configuration,
                                        .runs = plan.order.n,
                                        .least = least};
    struct night_score score = night_simulate(&design, drift, method, nights, 11);
    CHECK(score.failed == 0);
    return score.found;
}

/* 1000 nights of each gave, before what the search for a walk costs was counted in: one
 * configuration 6 times 0.764, two 5 times 0.766, four 3 times 0.760, three 6 times 0.794, eight 6 times 0.796,
 * one 10 times 0.813. A night's deltas hang together, so that 60 nights of three have a standard error of
 * at most sqrt(0.8 * 0.2 / 60) = 0.052; the limit is three of them, and the search's own 0.04. A drift of the
 * model's form changes nothing. */
static void planned_nights_find_it(void)
{
    double steady = found_share(3, 6, SCHEME_BRACKETED, DRIFT_STEADY, METHOD_MODEL, 60);
    CHECK_NEAR(steady, 0.80, 0.16, "the power that was asked for");
    CHECK_NEAR(found_share(3, 6, SCHEME_BRACKETED, DRIFT_BENT, METHOD_MODEL, 60), steady, 0.02,
               "identity: a parabola drops out");
}

/* Half of what the plan names is found far less often: the judge can say no. */
static void half_of_it_is_not_found(void)
{
    double change[2] = {0}, least[1];
    const struct variance_estimate noise = {1, 1000};
    struct plan_request request = {.order = {SCHEME_BRACKETED, 1, 10, 3, 7},
                                   .times = {.run = 600, .change = change},
                                   .available = (double)INFINITY,
                                   .noise = noise,
                                   .worthwhile = 1,
                                   .assurance = usual};
    struct night_plan plan;

    CHECK(night_plan_make(&request, &plan) == OUTCOME_OK);
    least[0] = night_plan_detectable(&plan, 0, noise, 1, usual) / 2;
    const struct night_design design = {.name = "planned",
                                        .configurations = 2,
                                        .freedom_step = 0.25,
                                        .walk_step = 100,
                                        .order = plan.order.configuration,
                                        .runs = plan.order.n,
                                        .least = least};
    CHECK(night_simulate(&design, DRIFT_STEADY, METHOD_MODEL, 60, 11).found < 0.55);
}

CU_TestInfo plan_power_tests[] = {
    {"planned nights find what they were planned for", planned_nights_find_it},
    {"half of it is not found", half_of_it_is_not_found},
    CU_TEST_INFO_NULL,
};
