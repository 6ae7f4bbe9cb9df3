/* test_least_squares.c - regression, what its columns can't tell apart, and which terms stay. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/statistics/blind_columns.h"
#include "reduce/statistics/least_squares.h"
#include "reduce/statistics/term_selection.h"
#include "tests/check.h"

/* y on 1 and x = 0 .. 3: slope 1.4, intercept 0.9, residuals by hand. */
static void a_line_worked_by_hand(void)
{
    const double x[] = {1, 0, 1, 1, 1, 2, 1, 3}, y[] = {1, 2, 4, 5};
    const double leverage[] = {0.7, 0.3, 0.3, 0.7}, residual[] = {0.1, -0.3, 0.3, -0.1};
    struct least_squares fit;
    double press = 0;
    CU_ASSERT_FATAL(least_squares_fit(x, y, 4, 2, &fit) == OUTCOME_OK);
    CHECK_NEAR(fit.coefficient[0], 0.9, 1e-15, "by hand");
    CHECK_NEAR(fit.coefficient[1], 1.4, 1e-15, "by hand");
    CHECK_NEAR(fit.sum_of_squares, 0.2, 1e-15, "by hand");
    CHECK_NEAR(fit.sd, sqrt(0.1), 1e-15, "by hand");
    CHECK_NEAR(fit.error[1], sqrt(0.1 / 5), 1e-15, "by hand: spread of x is 5");
    CHECK_NEAR(fit.error[0], sqrt(0.1 * 14 / 20), 1e-15, "by hand");
    for (int i = 0; i < 4; i++) {
        CHECK_NEAR(fit.leverage[i], leverage[i], 1e-15, "by hand");
        CHECK_NEAR(fit.residual[i], residual[i], 1e-15, "by hand");
        press += pow(residual[i] / (1 - leverage[i]), 2);
    }
    CHECK_NEAR(fit.press, press, 1e-15, "identity of PRESS");
    CHECK_NEAR(fit.inflation[0], 0, 0, "a column of ones has none");
    CHECK_NEAR(fit.inflation[1], 1, 1e-14, "one column besides the intercept");
    least_squares_free(&fit);
}

/* Leaving a row out for real. */
static void press_is_leaving_out(void)
{
    const double x[] = {1, 0.1, 1, 0.9, 1, 2.3, 1, 2.9, 1, 4.2};
    const double y[] = {1.1, 2.0, 4.2, 4.9, 7.4};
    struct least_squares fit;
    double press = 0;
    for (int out = 0; out < 5; out++) {
        double less_x[8], less_y[4];
        size_t n = 0;
        for (int i = 0; i < 5; i++) {
            if (i == out)
                continue;
            memcpy(less_x + 2 * n, x + (size_t)2 * (size_t)i, 2 * sizeof *x);
            less_y[n++] = y[i];
        }
        CU_ASSERT_FATAL(least_squares_fit(less_x, less_y, n, 2, &fit) == OUTCOME_OK);
        press += pow(y[out] - fit.coefficient[0] - fit.coefficient[1] * x[2 * out + 1], 2);
        least_squares_free(&fit);
    }
    CU_ASSERT_FATAL(least_squares_fit(x, y, 5, 2, &fit) == OUTCOME_OK);
    CHECK_RELATIVE(fit.press, press, 1e-13, "identity: each row left out in turn");
    least_squares_free(&fit);
}

/* Two columns whose correlation is r: inflation 1 / (1 - r^2). */
static void inflation_of_two_columns(void)
{
    const double x[] = {1, 1, 2, 1, 2, 3, 1, 3, 5, 1, 4, 4};
    const double y[] = {1, 3, 2, 5};
    struct least_squares fit;
    const double r = 4.0 / 5.0; /* products 4 about the means, squares 5 and 5 */
    CU_ASSERT_FATAL(least_squares_fit(x, y, 4, 3, &fit) == OUTCOME_OK);
    CHECK_NEAR(fit.inflation[1], 1 / (1 - r * r), 1e-13, "definition");
    CHECK_NEAR(fit.inflation[2], 1 / (1 - r * r), 1e-13, "definition");
    least_squares_free(&fit);
}

static void a_row_that_stands_alone(void)
{
    const double x[] = {1, 0, 1, 0, 1, 0, 1, 1}, y[] = {1, 2, 4, 5};
    struct least_squares fit;
    CU_ASSERT_FATAL(least_squares_fit(x, y, 4, 2, &fit) == OUTCOME_OK);
    CHECK(isinf(fit.press));
    CHECK_NEAR(fit.leverage[3], 1, 1e-14, "it bears its coefficient alone");
    least_squares_free(&fit);
}

static void what_cannot_be_fitted(void)
{
    double x[] = {1, 2, 1, 2, 1, 2, 1, 2}, y[] = {1, 2, 4, 5};
    struct least_squares fit;
    CHECK(least_squares_fit(x, y, 4, 2, &fit) == OUTCOME_SINGULAR);
    CHECK(fit.coefficient == NULL);
    CHECK(least_squares_fit(x, y, 2, 2, &fit) == OUTCOME_TOO_FEW);
    CHECK(least_squares_fit(x, y, 2, 0, &fit) == OUTCOME_TOO_FEW);
    x[3] = NAN;
    CHECK(least_squares_fit(x, y, 4, 2, &fit) == OUTCOME_NOT_FINITE);
    x[3] = 3;
    y[0] = INFINITY;
    CHECK(least_squares_fit(x, y, 4, 2, &fit) == OUTCOME_NOT_FINITE);
}

/* Columns a, b, 2a - b, 0, c: the third is made of a most, the fourth of nothing. */
static void blind_columns_are_named(void)
{
    double x[5 * 5];
    int blind[5];
    size_t twin[5];
    const double a[] = {3, -1, 4, 1, -5}, b[] = {1, 0, -1, 2, 1}, c[] = {0, 0, 1, 0, 0};
    for (size_t i = 0; i < 5; i++) {
        const double row[] = {a[i], b[i], 2 * a[i] - b[i], 0, c[i]};
        memcpy(x + 5 * i, row, sizeof row);
    }
    CHECK(blind_columns(x, 5, 5, 1e-6, blind, twin) == OUTCOME_OK);
    CHECK(!blind[0] && !blind[1] && blind[2] && blind[3] && !blind[4]);
    CHECK(twin[2] == 0 && twin[3] == 5 && twin[0] == 5);
    x[7] = NAN;
    CHECK(blind_columns(x, 5, 5, 1e-6, blind, twin) == OUTCOME_NOT_FINITE);
}

enum { ROWS = 24, TERMS = 5 };

/* Columns 1, u, v, uv and one that is u but for a tenth of v^3; y = 2 + 3 u + uv and a little noise. */
static void fill(double x[ROWS * TERMS], double y[ROWS])
{
    for (int i = 0; i < ROWS; i++) {
        int group = i / 6;
        double u = (i % 6) - 2.5, v = group - 1.5;
        double noise = 0.01 * ((i * 7) % 5 - 2);
        const double row[TERMS] = {1, u, v, u * v, u + 0.01 * v * v * v * u};
        memcpy(x + (size_t)i * TERMS, row, sizeof row);
        y[i] = 2 + 3 * u + u * v + noise;
    }
}

static void terms_that_do_not_earn_their_place_go(void)
{
    double x[ROWS * TERMS], y[ROWS];
    struct term_leaving left[TERMS];
    const int held[TERMS] = {1, 1, 0, 0, 0};
    unsigned char needs[TERMS * TERMS] = {0};
    enum term_fate fate[TERMS] = {TERM_STAYS};
    const struct term_rules rules = {4, 10};
    fill(x, y);
    CHECK(term_selection(x, y, ROWS, TERMS, held, needs, &rules, fate, left) == OUTCOME_OK);
    CHECK(fate[0] == TERM_STAYS && fate[1] == TERM_STAYS && fate[3] == TERM_STAYS);
    CHECK(fate[2] == TERM_TOO_WEAK && left[2].t < 4);
    CHECK(fate[4] == TERM_TOO_ALIKE && left[4].inflation > 10);
    CHECK_NEAR(left[3].t, 0, 0, "a term that stays has none");
    /* uv stays, so what it needs stays, however weak. */
    needs[3 * TERMS + 2] = 1;
    memset(fate, 0, sizeof fate);
    CHECK(term_selection(x, y, ROWS, TERMS, held, needs, &rules, fate, left) == OUTCOME_OK);
    CHECK(fate[2] == TERM_STAYS && fate[4] == TERM_TOO_ALIKE);
    /* A blind one takes no part. */
    memset(fate, 0, sizeof fate);
    fate[3] = TERM_BLIND;
    CHECK(term_selection(x, y, ROWS, TERMS, held, needs, &rules, fate, left) == OUTCOME_OK);
    CHECK(fate[3] == TERM_BLIND && fate[2] == TERM_TOO_WEAK);
    y[3] = NAN;
    CHECK(term_selection(x, y, ROWS, TERMS, held, needs, &rules, fate, left) == OUTCOME_NOT_FINITE);
}

CU_TestInfo least_squares_tests[] = {
    {"a line worked by hand", a_line_worked_by_hand},
    {"PRESS is what leaving rows out gives", press_is_leaving_out},
    {"variance inflation of two columns", inflation_of_two_columns},
    {"a row that bears a coefficient alone has no PRESS", a_row_that_stands_alone},
    {"what can't be fitted is refused", what_cannot_be_fitted},
    {"blind columns are named with what they are made of", blind_columns_are_named},
    {"terms that do not earn their place go, hierarchy kept",
     terms_that_do_not_earn_their_place_go},
    CU_TEST_INFO_NULL};
