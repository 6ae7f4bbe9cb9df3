/* test_budget_sum.c - adding up an uncertainty unit by unit. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/statistics/budget_sum.h"
#include "tests/check.h"

extern CU_TestInfo budget_sum_tests[];

static const double known = (double)INFINITY;
static const char H2[] = "GUM (JCGM 100:2008), H.2";

/* Contributions to R of voltage, current and phase, with and without their correlations. */
static void correlated_sources_are_one_group(void)
{
    static const struct budget_term together[] = {{0, 0}, {0, 0}, {0, 0}};
    static const double correlation[] = {1,         -0.355311, 0.857642,  -0.355311, 1,
                                         -0.645110, 0.857642,  -0.645110, 1};
    const double r = 127.732, x = 219.847;
    const double c[] = {r * 0.0032094 / 4.9990, -r * 0.0094710 / 19.6610, -x * 0.00075206};
    const double freedom[] = {4, 4, 4};
    struct budget_sum sum = budget_sum_begin(together, correlation, 3);
    struct budget_sum ignored = budget_sum_begin(together, NULL, 3);

    budget_sum_add(&sum, c, freedom);
    budget_sum_add(&ignored, c, freedom);
    CHECK_NEAR(budget_sum_total(&sum).standard, 0.071, 5e-4, H2);
    CHECK_NEAR(budget_sum_total(&sum).freedom, 4, 1e-12, "five observations of all three");
    CHECK(fabs(budget_sum_total(&ignored).standard - 0.071) > 0.02);
    CHECK_NEAR(sum.net[0] + sum.net[1] + sum.net[2], pow(budget_sum_total(&sum).standard, 2), 1e-15,
               "identity: parts add up to the whole");
    CHECK_NEAR(sum.own[1], c[1] * c[1], 1e-18, "identity");
}

/* End gauge: independent sources, degrees of freedom printed in H.1.6. */
static void independent_sources_are_satterthwaites(void)
{
    static const struct budget_term apart[] = {{0, 0}, {1, 0}, {2, 0}, {3, 0}};
    static const double c[] = {25, 9.7, 2.9, 16.6}, freedom[] = {18, 25.6, 50, 2};
    struct budget_sum sum = budget_sum_begin(apart, NULL, 4);

    budget_sum_add(&sum, c, freedom);
    CHECK_NEAR(budget_sum_total(&sum).standard, 31.7, 0.05, "GUM (JCGM 100:2008), H.1.4");
    CHECK_NEAR(budget_sum_total(&sum).freedom, 16.7, 0.1, "GUM (JCGM 100:2008), H.1.6");
}

static void an_estimate_of_each_unit_counts_by_itself(void)
{
    static const struct budget_term anew[] = {{0, 1}}, once[] = {{0, 0}};
    const double c = 0.5, freedom = 9;
    struct budget_sum many = budget_sum_begin(anew, NULL, 1);
    struct budget_sum one = budget_sum_begin(once, NULL, 1);
    struct budget_sum half = budget_sum_begin(anew, NULL, 1);

    for (int i = 0; i < 4; i++) {
        budget_sum_add(&many, &c, &freedom);
        budget_sum_add(&one, &c, &freedom);
    }
    CHECK_NEAR(budget_sum_total(&many).standard, 1, 1e-15, "identity");
    CHECK_NEAR(budget_sum_total(&many).freedom, 36, 1e-12, "four samples of nine");
    CHECK_NEAR(budget_sum_total(&one).freedom, 9, 1e-12, "one estimate, used four times");
    budget_sum_add(&half, &c, &freedom);
    budget_sum_add(&half, &c, &freedom);
    struct budget_sum other = half;
    budget_sum_join(&half, &other);
    CHECK_NEAR(budget_sum_total(&half).standard, budget_sum_total(&many).standard, 1e-15,
               "identity: joined sums");
    CHECK_NEAR(budget_sum_total(&half).freedom, 36, 1e-12, "identity: joined sums");
    struct budget_sum none = budget_sum_begin(once, NULL, 1);
    CHECK_NEAR(budget_sum_total(&none).standard, 0, 0, "identity");
    CHECK(budget_sum_total(&none).freedom == known);
}

CU_TestInfo budget_sum_tests[] = {
    {"correlated sources are one group", correlated_sources_are_one_group},
    {"independent sources are Satterthwaite's", independent_sources_are_satterthwaites},
    {"an estimate of each unit counts by itself", an_estimate_of_each_unit_counts_by_itself},
    CU_TEST_INFO_NULL,
};
