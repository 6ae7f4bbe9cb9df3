/* strd_regression.c - least squares against certified regressions.
 *
 * Sources: NIST Statistical Reference Datasets, linear regression: data in tests/published/strd, certified
 * coefficients, standard deviations and residual standard deviations below (15 digits; those of
 * Wampler1 and 2 are exact). NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.6: a load
 * cell's quadratic. Leave-one-out sums of squares (PRESS): computed from the same data in 70 digits by
 * a program that shares no code with this one.
 * Tolerances: 1e-9 for Longley, 1e-6 for Filip, 1e-7 for Wampler are what double precision is expected to
 * reach at the condition of these sets (McCullough, Assessing the reliability of statistical software,
 * The American Statistician 52 (1998), from memory); the others are rounding.                       */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "reduce/statistics/least_squares.h"
#include "tests/check.h"
#include "tests/number_table.h"

enum { COEFFICIENTS_MOST = 11 };

enum model {
    POWERS, /* 1, x, x^2, ... */
    PLAIN,  /* x alone */
    COLUMNS /* 1 and the columns after y */
};

static const struct certified {
    const char *name;
    enum model model;
    size_t p;
    double tolerance, error_tolerance; /* relative */
    double coefficient[COEFFICIENTS_MOST], error[COEFFICIENTS_MOST];
    double sd, press;
} sets[] = {
    {"norris",
     POWERS,
     2,
     1e-13,
     1e-12,
     {-0.262323073774029, 1.00211681802045},
     {0.232818234301152, 0.429796848199937e-03},
     0.884796396144373,
     30.475091785932},
    {"pontius",
     POWERS,
     3,
     1e-11,
     1e-12,
     {0.673565789473684e-03, 0.732059160401003e-06, -0.316081871345029e-14},
     {0.107938612033077e-03, 0.157817399981659e-09, 0.486652849992036e-16},
     0.205177424076185E-03,
     1.8472380800355e-6},
    {"noint1",
     PLAIN,
     1,
     1e-13,
     1e-12,
     {2.07438016528926},
     {0.165289256198347e-01},
     3.56753034006338,
     153.84365809001},
    {"noint2",
     PLAIN,
     1,
     1e-13,
     1e-12,
     {0.727272727272727},
     {0.420827318078432e-01},
     0.369274472937998,
     0.76949838562738},
    {"longley",
     COLUMNS,
     7,
     1e-9,
     1e-9,
     {-3482258.63459582, 15.0618722713733, -0.358191792925910e-01, -2.02022980381683,
      -1.03322686717359, -0.511041056535807e-01, 1829.15146461355},
     {890420.383607373, 84.9149257747669, 0.334910077722432e-01, 0.488399681651699,
      0.214274163161675, 0.226073200069370, 455.478499142212},
     304.854073561965,
     2886892.5414521},
    {"filip",
     POWERS,
     11,
     1e-6,
     1e-6,
     {-1467.48961422980, -2772.17959193342, -2316.37108160893, -1127.97394098372, -354.478233703349,
      -75.1242017393757, -10.8753180355343, -1.06221498588947, -0.670191154593408e-01,
      -0.246781078275479e-02, -0.402962525080404e-04},
     {298.084530995537, 559.779865474950, 466.477572127796, 227.204274477751, 71.6478660875927,
      15.2897178747400, 2.23691159816033, 0.221624321934227, 0.142363763154724e-01,
      0.535617408889821e-03, 0.896632837373868e-05},
     0.334801051324544E-02,
     0.0015788456247833},
    {"wampler1",
     POWERS,
     6,
     1e-7,
     1e-7,
     {1.0, 1.0, 1.0, 1.0, 1.0, 1.0},
     {0.0, 0.0, 0.0, 0.0, 0.0, 0.0},
     0.0,
     0.0},
    {"wampler2",
     POWERS,
     6,
     1e-7,
     1e-7,
     {1.0, 0.1, 0.01, 0.001, 0.0001, 0.00001},
     {0.0, 0.0, 0.0, 0.0, 0.0, 0.0},
     0.0,
     0.0},
    {"wampler3",
     POWERS,
     6,
     1e-7,
     1e-7,
     {1.0, 1.0, 1.0, 1.0, 1.0, 1.0},
     {2152.32624678170, 2363.55173469681, 779.343524331583, 101.475507550350, 5.64566512170752,
      0.112324854679312},
     2360.14502379268,
     180638669.44767},
    {"wampler4",
     POWERS,
     6,
     1e-7,
     1e-7,
     {1.0, 1.0, 1.0, 1.0, 1.0, 1.0},
     {215232.624678170, 236355.173469681, 77934.3524331583, 10147.5507550350, 564.566512170752,
      11.2324854679312},
     236014.502379268,
     1806386694476.7},
    {"wampler5",
     POWERS,
     6,
     1e-7,
     1e-7,
     {1.0, 1.0, 1.0, 1.0, 1.0, 1.0},
     {21523262.4678170, 23635517.3469681, 7793435.24331583, 1014755.07550350, 56456.6512170752,
      1123.24854679312},
     23601450.2379268,
     1.8063866944767e16},
};

static double element(const struct certified *set, const struct number_table *table, size_t row,
                      size_t j)
{
    const double *cell = table->cell + row * table->columns;
    double x = 1;
    if (set->model == PLAIN)
        return cell[1];
    if (set->model == COLUMNS)
        return j == 0 ? 1 : cell[j];
    for (size_t k = 0; k < j; k++)
        x *= cell[1];
    return x;
}

static int fit_set(const struct certified *set, struct least_squares *fit)
{
    struct number_table table;
    char path[80];
    (void)snprintf(path, sizeof path, "tests/published/strd/%s.csv", set->name);
    int ok = number_table_read(path, &table);
    double *x = calloc(table.rows * set->p + 1, sizeof *x);
    double *y = calloc(table.rows + 1, sizeof *y);
    for (size_t i = 0; ok && x != NULL && y != NULL && i < table.rows; i++) {
        y[i] = table.cell[i * table.columns];
        for (size_t j = 0; j < set->p; j++)
            x[i * set->p + j] = element(set, &table, i, j);
    }
    ok = ok && x != NULL && y != NULL &&
         least_squares_fit(x, y, table.rows, set->p, fit) == OUTCOME_OK;
    CHECK(ok);
    free(x);
    free(y);
    number_table_free(&table);
    return ok;
}

static void certified_regressions(void)
{
    for (size_t s = 0; s < sizeof sets / sizeof sets[0]; s++) {
        const struct certified *set = &sets[s];
        struct least_squares fit;
        if (!fit_set(set, &fit))
            continue;
        double size = set->sd > 0 ? set->sd : 1e-6; /* an exact set: rounding of y to its digits */
        for (size_t j = 0; j < set->p; j++) {
            CHECK_RELATIVE(fit.coefficient[j], set->coefficient[j], set->tolerance, set->name);
            CHECK_NEAR(fit.error[j], set->error[j],
                       set->error_tolerance * (set->error[j] > 0 ? set->error[j] : 1.0), set->name);
        }
        CHECK_NEAR(fit.sd, set->sd, set->error_tolerance * size, set->name);
        CHECK_NEAR(fit.press, set->press, set->error_tolerance * (set->press > 0 ? set->press : 1),
                   set->name);
        least_squares_free(&fit);
    }
}

/* The handbook prints nine digits of the coefficients and six of the rest. */
static void a_load_cell(void)
{
    const struct certified cell = {.name = "loadcell", .model = POWERS, .p = 3};
    const char *source = "NIST/SEMATECH e-Handbook, 2.3.6, LOADCELL.DAT";
    struct number_table table;
    struct least_squares fit;
    if (!number_table_read("tests/published/strd/loadcell.csv", &table))
        return;
    double *x = calloc(table.rows * 3, sizeof *x), *y = calloc(table.rows, sizeof *y);
    for (size_t i = 0; x != NULL && y != NULL && i < table.rows; i++) {
        double swapped[] = {table.cell[i * 2 + 1], table.cell[i * 2]};
        const struct number_table one = {.columns = 2, .cell = swapped};
        y[i] = table.cell[i * 2 + 1];
        for (size_t j = 0; j < 3; j++)
            x[i * 3 + j] = element(&cell, &one, 0, j);
    }
    CU_ASSERT_FATAL(x != NULL && y != NULL);
    CHECK(table.rows == 33);
    CHECK(least_squares_fit(x, y, table.rows, 3, &fit) == OUTCOME_OK);
    CHECK_RELATIVE(fit.coefficient[0], -1.839805e-5, 5e-7, source);
    CHECK_NEAR(fit.coefficient[1], 0.100102485, 5e-10, source);
    CHECK_RELATIVE(fit.coefficient[2], 7.031865e-6, 5e-7, source);
    CHECK_RELATIVE(fit.sd, 3.76403e-5, 5e-6, source);
    CHECK_NEAR(fit.freedom, 30, 0, source);
    least_squares_free(&fit);
    free(x);
    free(y);
    number_table_free(&table);
}

CU_TestInfo strd_regression_tests[] = {{"eleven certified regressions", certified_regressions},
                                       {"a load cell's quadratic", a_load_cell},
                                       CU_TEST_INFO_NULL};
