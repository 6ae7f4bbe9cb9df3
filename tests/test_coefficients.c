/* test_coefficients.c - loads to coefficients, and what derives from them. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/coefficients.h"
#include "tests/check.h"

static void coefficients_of_a_load(void)
{
    const double load[6] = {1000, 50, -3000, 25, 250, -75};
    double c[COEFFICIENTS] = {0};
    CHECK(coefficients_from_loads(load, 1250, 1.6, 2.5, c) == OUTCOME_OK);
    CHECK_NEAR(c[COEFFICIENT_CD], 0.5, 1e-15, "definition, worked by hand");
    CHECK_NEAR(c[COEFFICIENT_CY], 0.025, 1e-15, "definition, worked by hand");
    CHECK_NEAR(c[COEFFICIENT_CL], 1.5, 1e-15, "definition: downforce positive");
    CHECK_NEAR(c[COEFFICIENT_CRM], 0.005, 1e-15, "definition, worked by hand");
    CHECK_NEAR(c[COEFFICIENT_CPM], 0.05, 1e-15, "definition, worked by hand");
    CHECK_NEAR(c[COEFFICIENT_CYM], -0.015, 1e-15, "definition, worked by hand");
    CHECK_NEAR(c[COEFFICIENT_CLF], 0.7, 1e-15, "common practice: L/2 - My/W");
    CHECK_NEAR(c[COEFFICIENT_CLR], 0.8, 1e-15, "common practice: L/2 + My/W");
    struct derived_quantities derived = coefficients_derived(c, 1.6);
    CHECK_NEAR(derived.balance, 46.667, 5e-4, "common practice, worked by hand");
    CHECK_NEAR(derived.lift_to_drag, 3.0, 1e-14, "definition");
    CHECK_NEAR(derived.drag_area, 0.8, 1e-15, "definition");
    CHECK_NEAR(derived.downforce_area, 2.4, 1e-15, "definition");
}

static void ratios_without_a_denominator(void)
{
    const double c[COEFFICIENTS] = {0};
    struct derived_quantities derived = coefficients_derived(c, 1.6);
    CHECK(isnan(derived.balance) && isnan(derived.lift_to_drag));
    CHECK_NEAR(derived.drag_area, 0.0, 0.0, "definition");
}

/* CL, CLF, CLR, CPM of one car; every pair that decides the rest, and one that does not. */
static void given_coefficients_decide_the_others(void)
{
    static const double all[4] = {2.7, 1.2, 1.5, 0.15};
    static const enum coefficient order[4] = {COEFFICIENT_CL, COEFFICIENT_CLF, COEFFICIENT_CLR,
                                              COEFFICIENT_CPM};
    for (int a = 0; a < 4; a++) {
        for (int b = a + 1; b < 4; b++) {
            double c[COEFFICIENTS];
            for (int i = 0; i < COEFFICIENTS; i++)
                c[i] = NAN;
            c[order[a]] = all[a];
            c[order[b]] = all[b];
            coefficients_fill(c);
            for (int i = 0; i < 4; i++)
                CHECK_NEAR(c[order[i]], all[i], 1e-15, "identity: CL = CLF + CLR, CPM");
            CHECK(isnan(c[COEFFICIENT_CD]) && isnan(c[COEFFICIENT_CY]));
        }
    }
    double alone[COEFFICIENTS] = {0.9, NAN, 2.7, NAN, NAN, NAN, NAN, 0};
    coefficients_fill(alone);
    CHECK(isnan(alone[COEFFICIENT_CLF]) && isnan(alone[COEFFICIENT_CPM]));
    double contrary[COEFFICIENTS] = {0.9, NAN, 3.0, 1.9, 1.4, NAN, -0.1, 0};
    coefficients_fill(contrary);
    CHECK(contrary[COEFFICIENT_CL] == 3.0 && contrary[COEFFICIENT_CLF] == 1.9);
    CHECK(contrary[COEFFICIENT_CLR] == 1.4 && contrary[COEFFICIENT_CPM] == -0.1);
}

static void refusals(void)
{
    const double load[6] = {1, 1, 1, 1, 1, 1};
    double c[COEFFICIENTS] = {-1};
    for (int i = 0; i < 6; i++) {
        double bad[6] = {1, 1, 1, 1, 1, 1};
        bad[i] = NAN;
        CHECK(coefficients_from_loads(bad, 1, 1, 1, c) == OUTCOME_NOT_FINITE);
    }
    CHECK(coefficients_from_loads(load, NAN, 1, 1, c) == OUTCOME_NOT_FINITE);
    CHECK(coefficients_from_loads(load, 1, NAN, 1, c) == OUTCOME_NOT_FINITE);
    CHECK(coefficients_from_loads(load, 1, 1, NAN, c) == OUTCOME_NOT_FINITE);
    CHECK(coefficients_from_loads(load, 0, 1, 1, c) == OUTCOME_NO_WIND);
    CHECK(coefficients_from_loads(load, 1, 0, 1, c) == OUTCOME_GEOMETRY);
    CHECK(coefficients_from_loads(load, 1, 1, 0, c) == OUTCOME_GEOMETRY);
    CHECK(c[0] == -1.0);
}

CU_TestInfo coefficients_tests[] = {
    {"six loads to eight coefficients", coefficients_of_a_load},
    {"balance and L/D without downforce or drag are not numbers", ratios_without_a_denominator},
    {"given coefficients decide the others", given_coefficients_decide_the_others},
    {"no wind, no area, no wheelbase and NAN are refused", refusals},
    CU_TEST_INFO_NULL};
