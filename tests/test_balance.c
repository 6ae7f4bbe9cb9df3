/* test_balance.c - outputs to loads, first and second order. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/balance.h"
#include "tests/check.h"

static void columns_of_the_products(void)
{
    int expected = 0;
    for (int j = 0; j < 6; j++)
        for (int k = j; k < 6; k++)
            CHECK(balance_product(j, k) == expected++);
    CHECK(expected == BALANCE_PRODUCTS);
    CHECK(balance_product(3, 2) == -1 && balance_product(-1, 2) == -1);
    CHECK(balance_product(2, 6) == -1);
}

static void one_output_at_a_time(void)
{
    struct balance_calibration calibration = {.second_order = 1};
    const double output[6] = {0.5, -1.5, 2.0, 0.25, -0.75, 3.0};
    double load[6] = {0};
    for (int i = 0; i < 6; i++) {
        calibration.linear[i][i] = 100.0 + i;
        calibration.linear[i][(i + 2) % 6] = 3.0;
    }
    calibration.product[2][balance_product(1, 4)] = 0.8;
    calibration.product[5][balance_product(5, 5)] = -0.2;
    CHECK(balance_loads(&calibration, output, load) == OUTCOME_OK);
    CHECK_NEAR(load[0], 100 * 0.5 + 3 * 2.0, 1e-12, "identity, worked by hand");
    CHECK_NEAR(load[2], 102 * 2.0 + 3 * -0.75 + 0.8 * -1.5 * -0.75, 1e-12,
               "identity, worked by hand");
    CHECK_NEAR(load[5], 105 * 3.0 + 3 * -1.5 - 0.2 * 9.0, 1e-12, "identity, worked by hand");
    calibration.second_order = 0;
    CHECK(balance_loads(&calibration, output, load) == OUTCOME_OK);
    CHECK_NEAR(load[2], 102 * 2.0 + 3 * -0.75, 1e-12, "identity, worked by hand");
}

/* r = F + c F^2 with c = 0.05; r = 1 gives F = (sqrt(1 + 4 c r) - 1)/(2 c), whose series in r is the
 * direct second-order form F = r - c r^2 + ...: for a small r the remainder is 2 c^2 r^3. */
static void direct_form_against_a_closed_form(void)
{
    struct balance_calibration calibration = {.second_order = 1};
    calibration.linear[0][0] = 1.0;
    calibration.product[0][balance_product(0, 0)] = -0.05;
    const double output[6] = {0.1, 0, 0, 0, 0, 0};
    double load[6] = {0}, exact = (sqrt(1.0 + 4 * 0.05 * 0.1) - 1.0) / 0.1;
    CHECK(balance_loads(&calibration, output, load) == OUTCOME_OK);
    CHECK_NEAR(load[0] - exact, -2 * 0.0025 * 1e-3, 1e-7, "series of the closed form");
}

static void refuses_nan(void)
{
    struct balance_calibration calibration = {.linear = {{1.0}}};
    for (int i = 0; i < 6; i++) {
        double output[6] = {1, 1, 1, 1, 1, 1}, load[6] = {-1};
        output[i] = NAN;
        CHECK(balance_loads(&calibration, output, load) == OUTCOME_NOT_FINITE);
        CHECK(load[0] == -1.0);
    }
    const double output[6] = {1, 1, 1, 1, 1, 1};
    double load[6];
    calibration.linear[4][3] = NAN;
    CHECK(balance_loads(&calibration, output, load) == OUTCOME_NOT_FINITE);
}

CU_TestInfo balance_tests[] = {
    {"products are numbered by rows", columns_of_the_products},
    {"each term multiplies the outputs it is named after", one_output_at_a_time},
    {"the second-order term of a one-component balance", direct_form_against_a_closed_form},
    {"NAN in an output or the calibration is refused", refuses_nan},
    CU_TEST_INFO_NULL};
