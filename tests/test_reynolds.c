/* test_reynolds.c - carrying a coefficient within a speed sweep; numbers of
 * tests/oracles/boundary_fits.py, data invented. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/reynolds.h"
#include "tests/check.h"

static const char oracle[] = "tests/oracles/boundary_fits.py";
static const double re[] = {1.2e6, 1.8e6, 2.4e6, 3.0e6};
static const double drag[] = {0.912, 0.905, 0.901, 0.896};

static void a_sweep_of_four_speeds(void)
{
    struct line_fit fit = {0};
    double change = NAN, u = NAN;
    CHECK(reynolds_fit(re, drag, 4, &fit) == OUTCOME_OK);
    CHECK_RELATIVE(fit.intercept, 1.15050845144027, 1e-12, oracle);
    CHECK_RELATIVE(fit.slope, -0.0392204743264652, 1e-11, oracle);
    CHECK(reynolds_change(&fit, 1.5e6, 2.8e6, &change, &u) == OUTCOME_OK);
    CHECK_RELATIVE(change, -0.0106313673832219, 1e-11, oracle);
    CHECK_RELATIVE(u, 0.000571692033073654, 1e-10, oracle);
    CHECK(reynolds_change(&fit, 2e6, 2e6, &change, &u) == OUTCOME_OK && change == 0.0 && u == 0.0);
}

static void inside_the_sweep_only(void)
{
    struct line_fit fit = {0};
    double change = -7, u = -7;
    CHECK(reynolds_fit(re, drag, 4, &fit) == OUTCOME_OK);
    CHECK(reynolds_change(&fit, 1.19e6, 2e6, &change, &u) == OUTCOME_UNMEASURED);
    CHECK(reynolds_change(&fit, 2e6, 3.01e6, &change, &u) == OUTCOME_UNMEASURED);
    CHECK(reynolds_change(&fit, NAN, 2e6, &change, &u) == OUTCOME_NOT_FINITE);
    CHECK(reynolds_change(&fit, 2e6, 0.0, &change, &u) == OUTCOME_NOT_FINITE);
    CHECK(reynolds_change(&fit, 2e6, INFINITY, &change, &u) == OUTCOME_NOT_FINITE);
    CHECK(change == -7 && u == -7);
    CHECK(reynolds_change(&fit, 1.2e6, 3.0e6, &change, &u) == OUTCOME_OK);
}

static void sweeps_that_are_none(void)
{
    double x[] = {1.2e6, 1.2e6, 3.0e6, 3.01e6}, y[] = {1, 2, 3, 4};
    struct line_fit fit = {.slope = -7};
    CHECK(reynolds_fit(re, drag, 2, &fit) == OUTCOME_TOO_FEW);
    CHECK(reynolds_fit(x, y, 4, &fit) == OUTCOME_TOO_FEW); /* two speeds, each twice */
    x[0] = 0.0;
    CHECK(reynolds_fit(x, y, 4, &fit) == OUTCOME_NOT_FINITE);
    x[0] = NAN;
    CHECK(reynolds_fit(x, y, 4, &fit) == OUTCOME_NOT_FINITE);
    y[2] = NAN;
    CHECK(reynolds_fit(re, y, 4, &fit) == OUTCOME_NOT_FINITE);
    CHECK(fit.slope == -7);
}

CU_TestInfo reynolds_tests[] = {{"a sweep of four speeds", a_sweep_of_four_speeds},
                                {"inside the sweep only", inside_the_sweep_only},
                                {"sweeps that are none", sweeps_that_are_none},
                                CU_TEST_INFO_NULL};
