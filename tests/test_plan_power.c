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
                                        .freedom_step = 0.1,
                                        .walk_step = 1,
                                        .order = plan.order.configuration,
                                        .runs = plan.order.n,
                                        .least = least};
    struct night_score score = night_simulate(&design, drift, method, nights, 11);
    CHECK(score.failed == 0);
    return score.found;
}

static void planned_nights_find_it(void)
{
    CHECK_NEAR(found_share(3, 4, SCHEME_BRACKETED, DRIFT_STEADY, METHOD_MODEL, 100), 0.8, 0.12,
               "x");
}

CU_TestInfo plan_power_tests[] = {
    {"planned nights find what they were planned for", planned_nights_find_it},
    CU_TEST_INFO_NULL,
};
