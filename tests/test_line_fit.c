/* test_line_fit.c - a straight line, against NIST's certified Norris set. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/line_fit.h"
#include "tests/check.h"

/* x, y: NIST/ITL StRD, linear regression, Norris, 36 observations */
static const double norris[][2] = {
    {0.2, 0.1},     {337.4, 338.8}, {118.2, 118.1}, {884.6, 888.0}, {10.1, 9.2},    {226.5, 228.1},
    {666.3, 668.5}, {996.3, 998.5}, {448.6, 449.1}, {777.0, 778.9}, {558.2, 559.2}, {0.4, 0.3},
    {0.6, 0.1},     {775.5, 778.1}, {666.9, 668.8}, {338.0, 339.3}, {447.5, 448.9}, {11.6, 10.8},
    {556.0, 557.7}, {228.1, 228.3}, {995.8, 998.0}, {887.6, 888.8}, {120.2, 119.6}, {0.3, 0.3},
    {0.3, 0.6},     {556.8, 557.6}, {339.1, 339.3}, {887.2, 888.0}, {999.0, 998.5}, {779.0, 778.9},
    {11.1, 10.2},   {118.3, 117.6}, {229.2, 228.9}, {669.1, 668.4}, {448.9, 449.2}, {0.5, 0.2},
};
enum { NORRIS = sizeof norris / sizeof *norris };

static void norris_of_nist(void)
{
    const char *source = "NIST/ITL StRD, Norris, certified values";
    double x[NORRIS], y[NORRIS];
    struct line_fit fit = {0};
    for (size_t i = 0; i < NORRIS; i++) {
        x[i] = norris[i][0];
        y[i] = norris[i][1];
    }
    CHECK(line_fit_make(x, y, NORRIS, &fit) == OUTCOME_OK);
    CHECK_RELATIVE(fit.intercept, -0.262323073774029, 1e-10, source);
    CHECK_RELATIVE(fit.slope, 1.00211681802045, 1e-12, source);
    CHECK_RELATIVE(fit.intercept_u, 0.232818234301152, 1e-10, source);
    CHECK_RELATIVE(fit.slope_u, 0.429796848199937e-3, 1e-10, source);
    CHECK_RELATIVE(fit.residual_sd, 0.884796396144373, 1e-10, source);
    CHECK(fit.degrees_of_freedom == 34.0);
    CHECK(fit.lowest == 0.2 && fit.highest == 999.0);
}

/* At the mean of x the line is the mean of y, with the uncertainty of a mean. */
static void the_line_at_a_place(void)
{
    const double x[] = {1, 2, 3, 6}, y[] = {2.1, 3.9, 6.2, 11.8};
    struct line_fit fit = {0};
    double u = NAN;
    CHECK(line_fit_make(x, y, 4, &fit) == OUTCOME_OK);
    CHECK_NEAR(line_fit_at(&fit, 3.0, &u), 6.0, 1e-14, "identity: mean of y");
    CHECK_RELATIVE(u, fit.residual_sd / 2.0, 1e-14, "identity: s/sqrt(n)");
    CHECK_NEAR(line_fit_at(&fit, 0.0, &u), fit.intercept, 0.0, "identity");
    CHECK_RELATIVE(u, fit.intercept_u, 1e-14, "identity");
    CHECK(line_fit_at(&fit, 1.0, NULL) > 0.0);
    CHECK(line_fit_holds(&fit, 1.0) && line_fit_holds(&fit, 6.0));
    CHECK(!line_fit_holds(&fit, 0.999) && !line_fit_holds(&fit, 6.001));
}

static void refusals(void)
{
    double x[] = {1, 2, 3}, y[] = {1, 2, 3};
    struct line_fit fit = {.slope = -7};
    CHECK(line_fit_make(x, y, 2, &fit) == OUTCOME_TOO_FEW);
    y[1] = NAN;
    CHECK(line_fit_make(x, y, 3, &fit) == OUTCOME_NOT_FINITE);
    y[1] = 2;
    x[2] = INFINITY;
    CHECK(line_fit_make(x, y, 3, &fit) == OUTCOME_NOT_FINITE);
    x[0] = x[1] = x[2] = 5;
    CHECK(line_fit_make(x, y, 3, &fit) == OUTCOME_SINGULAR);
    x[0] = x[1] = x[2] = 0;
    CHECK(line_fit_make(x, y, 3, &fit) == OUTCOME_SINGULAR);
    CHECK(fit.slope == -7);
}

CU_TestInfo line_fit_tests[] = {{"NIST's Norris set", norris_of_nist},
                                {"the line and its uncertainty at a place", the_line_at_a_place},
                                {"too few, one place, not finite", refusals},
                                CU_TEST_INFO_NULL};
