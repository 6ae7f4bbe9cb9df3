/* test_balance_iterative.c - outputs to loads where outputs are a function of the loads.
 *
 * The balances, points and iterates are those of tests/oracles/balance_sets.py, invented and worked with
 * fractions and 50 digits by a program that shares no code with this one.                           */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/physics/balance_iterative.h"
#include "tests/check.h"
#include "tests/number_table.h"
#include "tests/program.h"

#define SETS "tests/oracles/balance_sets/"

static const char *const source = "tests/oracles/balance_sets.py";

/* Term of the 96 for each of the 27 columns of the second-order sets. */
static int term_of_column(size_t column)
{
    int rest = (int)column - BALANCE_LOADS;
    if (rest < 0)
        return (int)column;
    for (int j = 0; j < BALANCE_LOADS; j++)
        for (int k = j; k < BALANCE_LOADS; k++)
            if (rest-- == 0)
                return balance_term_index(j == k ? TERM_SQUARE : TERM_PRODUCT, j, k);
    return -1;
}

/* A balance of unit ratings and box. */
static int read_balance(const char *path, int is_full, struct balance_iterative *balance)
{
    struct number_table table;
    memset(balance, 0, sizeof *balance);
    int ok = number_table_read(path, &table) && table.rows == BALANCE_LOADS;
    for (size_t i = 0; ok && i < BALANCE_LOADS; i++) {
        balance->rated[i] = balance->highest[i] = 1;
        balance->lowest[i] = -1;
        for (size_t c = 1; c < table.columns; c++)
            balance->coefficient[i][is_full ? (int)c - 1 : term_of_column(c - 1)] =
                table.cell[i * table.columns + c];
    }
    number_table_free(&table);
    ok = ok && balance_iterative_prepare(balance) == OUTCOME_OK;
    CHECK(ok);
    return ok;
}

static void check_points(const char *path, const struct balance_iterative *balance)
{
    struct number_table table;
    if (!number_table_read(path, &table))
        return;
    for (size_t row = 0; row < table.rows; row++) {
        const double *cell = table.cell + row * table.columns;
        double load[BALANCE_LOADS] = {0}, value[BALANCE_TERMS];
        CHECK(balance_iterative_loads(balance, cell + 7, load) == OUTCOME_OK);
        balance_term_values(cell + 1, value);
        for (int i = 0; i < BALANCE_LOADS; i++) {
            double output = 0;
            CHECK_NEAR(load[i], cell[1 + i], 1e-12, source);
            for (int t = 0; t < BALANCE_TERMS; t++)
                output += balance->coefficient[i][t] * value[t];
            CHECK_NEAR(output, cell[7 + i], 1e-15, source);
        }
    }
    number_table_free(&table);
}

static void check_iterates(const char *path, const char *points, struct balance_iterative *balance)
{
    struct number_table walk, point;
    if (number_table_read(path, &walk) && number_table_read(points, &point)) {
        double share[BALANCE_LOADS] = {0};
        for (size_t row = 0; row < walk.rows; row++) {
            const double *cell = walk.cell + row * walk.columns;
            size_t at = (size_t)cell[0] - 1;
            if (cell[1] == 1)
                memset(share, 0, sizeof share);
            double change =
                balance_iterative_step(balance, point.cell + at * point.columns + 7, share);
            CHECK_NEAR(change, cell[8], 4e-15, source);
            for (int i = 0; i < BALANCE_LOADS; i++)
                CHECK_NEAR(share[i], cell[2 + i], 4e-15, source);
        }
        number_table_free(&point);
    }
    number_table_free(&walk);
}

static void loads_come_back_from_outputs(void)
{
    struct balance_iterative balance;
    if (read_balance(SETS "balance27_coeffs.csv", 0, &balance)) {
        check_points(SETS "balance27_points.csv", &balance);
        check_iterates(SETS "balance27_iterations.csv", SETS "balance27_points.csv", &balance);
    }
    if (read_balance(SETS "balance96_coeffs.csv", 1, &balance)) {
        check_points(SETS "balance96_points.csv", &balance);
        check_iterates(SETS "balance96_iterations.csv", SETS "balance96_points.csv", &balance);
    }
}

static void ratings_carry_the_units(void)
{
    static const double rated[BALANCE_LOADS] = {1500, 800, 4000, 800, 1500, 700};
    struct balance_iterative balance;
    struct number_table table;
    double load[BALANCE_LOADS] = {0};
    if (!read_balance(SETS "balance96_coeffs.csv", 1, &balance) ||
        !number_table_read(SETS "balance96_points.csv", &table))
        return;
    memcpy(balance.rated, rated, sizeof rated);
    const double *cell = table.cell + 5 * table.columns;
    CHECK(balance_iterative_loads(&balance, cell + 7, load) == OUTCOME_OK);
    for (int i = 0; i < BALANCE_LOADS; i++)
        CHECK_NEAR(load[i], cell[1 + i] * rated[i], 1e-9, source);
    number_table_free(&table);
}

/* Output i is F_i, but the first is F + c F^2. */
static struct balance_iterative one_component(double c)
{
    struct balance_iterative balance;
    memset(&balance, 0, sizeof balance);
    for (int i = 0; i < BALANCE_LOADS; i++) {
        balance.rated[i] = balance.highest[i] = balance.coefficient[i][i] = 1;
        balance.lowest[i] = -1;
    }
    balance.coefficient[0][balance_term_index(TERM_SQUARE, 0, 0)] = c;
    CHECK(balance_iterative_prepare(&balance) == OUTCOME_OK);
    return balance;
}

static void closed_form(void)
{
    struct number_table table;
    if (!number_table_read(SETS "balance_1comp.csv", &table))
        return;
    for (size_t row = 0; row < table.rows; row++) {
        const double *cell = table.cell + row * table.columns;
        const double output[BALANCE_LOADS] = {cell[0]};
        struct balance_iterative balance = one_component(cell[1]);
        double load[BALANCE_LOADS] = {0}, share[BALANCE_LOADS] = {0};
        CHECK(balance_iterative_loads(&balance, output, load) == OUTCOME_OK);
        CHECK_NEAR(load[0], cell[2], 2e-12, "r = F + c F^2 solved in closed form");
        for (size_t step = 0; step < 6; step++) {
            (void)balance_iterative_step(&balance, output, share);
            CHECK_NEAR(share[0], cell[3 + step], 4e-15, source);
        }
    }
    number_table_free(&table);
}

/* r = F + c F^2: the radius at F is 2 c |F|; with c 0.2 and a box to 2.4 it is 0.96, to 2.5 it is 1. */
static void contraction_over_the_load_box(void)
{
    struct balance_iterative balance = one_component(0.2);
    struct balance_contraction found;
    balance.lowest[0] = -2.4;
    CHECK(balance_iterative_contraction(&balance, &found) == OUTCOME_OK);
    CHECK_NEAR(found.radius, 0.96, 1e-12, "identity, 2 c F");
    CHECK_NEAR(found.load[0], -2.4, 0, "identity, the far end of the box");
    balance.highest[0] = 2.5;
    CHECK(balance_iterative_contraction(&balance, &found) == OUTCOME_NO_CONVERGENCE);
    CHECK_NEAR(found.radius, 1.0, 1e-12, "identity, 2 c F");
    CHECK_NEAR(found.load[0], 2.5, 0, "identity, the far end of the box");
    if (read_balance(SETS "balance27_coeffs.csv", 0, &balance)) {
        CHECK(balance_iterative_contraction(&balance, &found) == OUTCOME_OK);
        CHECK(found.radius > 0.005 && found.radius < 0.1); /* invented at 0.4 % a term */
    }
}

/* r = -2, c = 0.8: 1 + 4 c r < 0, there is no root. r = 2, c = 0.5: the root is sqrt(5) - 1, where the
 * slope 2 c F is above 1, and the iteration goes to and fro without end. */
static void what_has_no_answer(void)
{
    const double none[BALANCE_LOADS] = {-2}, restless[BALANCE_LOADS] = {2};
    double load[BALANCE_LOADS] = {7};
    struct balance_iterative balance = one_component(0.8);
    CHECK(balance_iterative_loads(&balance, none, load) == OUTCOME_NO_LOADS);
    balance = one_component(0.5);
    CHECK(balance_iterative_loads(&balance, restless, load) == OUTCOME_NO_CONVERGENCE);
    CHECK_NEAR(load[0], 7, 0, "identity: left alone");
    for (int i = 0; i < BALANCE_LOADS; i++) {
        double output[BALANCE_LOADS] = {0};
        output[i] = NAN;
        CHECK(balance_iterative_loads(&balance, output, load) == OUTCOME_NOT_FINITE);
    }
}

static void what_is_no_balance(void)
{
    struct balance_iterative balance = one_component(0.05);
    struct balance_iterative broken = balance;
    broken.coefficient[3][3] = 0;
    CHECK(balance_iterative_prepare(&broken) == OUTCOME_SINGULAR);
    broken = balance;
    memcpy(broken.coefficient[4], broken.coefficient[2], sizeof broken.coefficient[4]);
    CHECK(balance_iterative_prepare(&broken) == OUTCOME_SINGULAR);
    broken = balance;
    broken.coefficient[5][95] = NAN;
    CHECK(balance_iterative_prepare(&broken) == OUTCOME_NOT_FINITE);
    broken = balance;
    broken.rated[2] = 0;
    CHECK(balance_iterative_prepare(&broken) == OUTCOME_GEOMETRY);
    broken = balance;
    broken.lowest[1] = 2;
    CHECK(balance_iterative_prepare(&broken) == OUTCOME_GEOMETRY);
    /* Counts of one gauge and mV/V of another are no reason to refuse. */
    broken = balance;
    for (int t = 0; t < BALANCE_TERMS; t++)
        broken.coefficient[1][t] *= 1e12;
    CHECK(balance_iterative_prepare(&broken) == OUTCOME_OK);
}

/* Each term's number, and its slopes by small differences. */
static void terms_and_their_slopes(void)
{
    const double load[BALANCE_LOADS] = {0.7, -0.4, 0.3, -0.9, 0.2, -0.6};
    double value[BALANCE_TERMS], slope[BALANCE_TERMS][BALANCE_LOADS];
    balance_term_values(load, value);
    balance_term_slopes(load, slope);
    for (int t = 0; t < BALANCE_TERMS; t++) {
        struct balance_term term = balance_term(t);
        CHECK(balance_term_index(term.kind, term.first, term.second) == t);
    }
    for (int j = 0; j < BALANCE_LOADS; j++) {
        const double step = 1e-6;
        double above[BALANCE_LOADS], up[BALANCE_TERMS], down[BALANCE_TERMS];
        memcpy(above, load, sizeof above);
        above[j] = load[j] + step;
        balance_term_values(above, up);
        above[j] = load[j] - step;
        balance_term_values(above, down);
        for (int t = 0; t < BALANCE_TERMS; t++)
            CHECK_NEAR(slope[t][j], (up[t] - down[t]) / (2 * step), 1e-9, "central difference");
    }
    CHECK_NEAR(value[balance_term_index(TERM_FIRST_BY_ABSOLUTE, 0, 3)], 0.63, 1e-15, "0.7 x 0.9");
    CHECK_NEAR(value[balance_term_index(TERM_ABSOLUTE_BY_SECOND, 0, 3)], -0.63, 1e-15, "by hand");
    CHECK(balance_term_index(TERM_PRODUCT, 3, 2) == -1);
    CHECK(balance_term_index(TERM_PRODUCT, 2, 2) == -1);
    CHECK(balance_term_index(TERM_SQUARE, 2, 3) == -1);
    CHECK(balance_term_index(TERM_LINEAR, -1, -1) == -1 &&
          balance_term_index(TERM_LINEAR, 6, 6) == -1);
}

static void the_tables_are_what_their_script_writes(void)
{
    char out[PROGRAM_OUTPUT];
    char folder[64];
    CU_ASSERT_FATAL(program_scratch(folder));
    CHECK(program_shell(out,
                        "python3 tests/oracles/balance_sets.py %s && "
                        "diff -r %s tests/oracles/balance_sets",
                        folder, folder) == 0);
    CHECK_TEXT(out, "");
    program_remove(folder);
}

CU_TestInfo balance_iterative_tests[] = {
    {"loads come back from outputs, 27 and 96 terms, iterate by iterate",
     loads_come_back_from_outputs},
    {"ratings carry the units", ratings_carry_the_units},
    {"a closed form", closed_form},
    {"contraction is looked at over the load box", contraction_over_the_load_box},
    {"what has no answer is told apart", what_has_no_answer},
    {"what is no balance is refused", what_is_no_balance},
    {"terms, their numbers and slopes", terms_and_their_slopes},
    {"the tables are what their script writes", the_tables_are_what_their_script_writes},
    CU_TEST_INFO_NULL};
