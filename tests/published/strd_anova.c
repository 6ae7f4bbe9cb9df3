/* strd_anova.c - one-way analysis of variance against certified sets, as far as their digits reach.
 *
 * Source: NIST Statistical Reference Datasets, analysis of variance, certified values. SmLs sets are made
 * by the rule of the set: nine treatments about base + 0.4 0.3 0.5 0.3 0.5 0.3 0.5 0.3 0.5, the first value
 * at the mean, then 0.1 below and above by turns. Stored as doubles the larger bases lose digits of the
 * data themselves: "on doubles" is the answer of exact arithmetic on what is stored (in fractions,
 * tests/oracles/smls_exact.py), which no program can better and this one must meet. The rule of the sets was
 * compared with NIST's files of SmLs01, 04 and 07; the certified F of the others (21, 201 and 2001, the number of
 * replicates) is that of the rule in exact decimals. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>

#include "reduce/statistics/one_way.h"
#include "tests/check.h"
#include "tests/number_table.h"

extern CU_TestInfo strd_anova_tests[];

static const char NIST[] = "NIST StRD, analysis of variance, certified";
static const char EXACT[] = "exact arithmetic on the stored data";

static void certified_files(void)
{
    static const struct {
        const char *path;
        double between, within, f, freedom, under;
        double tolerance;
    } sets[] = {{"tests/published/strd/sirstv.csv", 5.11462616e-02, 2.16636560e-01,
                 1.18046237440255, 4, 20, 1e-9},
                {"tests/published/strd/atmwtag.csv", 3.63834187500000e-09, 1.04951729166667e-08,
                 15.9467335677930, 1, 46, 1e-8}};
    for (size_t k = 0; k < 2; k++) {
        struct number_table table;
        struct one_way result;
        double value[64];
        size_t group[64];
        CU_ASSERT_FATAL(number_table_read(sets[k].path, &table) && table.rows <= 64);
        for (size_t i = 0; i < table.rows; i++) {
            group[i] = (size_t)table.cell[i * table.columns];
            value[i] = table.cell[i * table.columns + 1];
        }
        CHECK(one_way_analyse(value, group, table.rows, &result) == OUTCOME_OK);
        CHECK_RELATIVE(result.between_squares, sets[k].between, sets[k].tolerance, NIST);
        CHECK_RELATIVE(result.within_squares, sets[k].within, sets[k].tolerance, NIST);
        CHECK_RELATIVE(result.f.statistic, sets[k].f, sets[k].tolerance, NIST);
        CHECK_NEAR(result.f.freedom, sets[k].freedom, 0, NIST);
        CHECK_NEAR(result.f.under_freedom, sets[k].under, 0, NIST);
        number_table_free(&table);
    }
}

enum { TREATMENTS = 9 };

static void made_sets(void)
{
    static const struct {
        const char *decimals; /* of the base's integer part */
        size_t replicates;
        double certified, on_doubles, digits;
    } sets[] = {
        /* SmLs01 */ {"1", 21, 21, 21, 14},
        /* SmLs02 */ {"1", 201, 201, 201, 13},
        /* SmLs03 */ {"1", 2001, 2001, 2001, 12},
        /* SmLs04 */ {"1000000", 21, 21, 21.000000000776102, 10.4},
        /* SmLs05 */ {"1000000", 201, 201, 201.00000001241763, 10.2},
        /* SmLs06 */ {"1000000", 2001, 2001, 2001.000000128833, 10.1},
        /* SmLs07 */ {"1000000000000", 21, 21, 21.000811887818771, 4.4},
        /* SmLs08 */ {"1000000000000", 201, 201, 201.01300409594845, 4.1},
        /* SmLs09 */ {"1000000000000", 2001, 2001, 2001.1349262209505, 4.1},
    };
    static const int tenths[TREATMENTS] = {4, 3, 5, 3, 5, 3, 5, 3, 5};

    for (size_t k = 0; k < sizeof sets / sizeof sets[0]; k++) {
        size_t n = TREATMENTS * sets[k].replicates;
        double *value = calloc(n, sizeof *value);
        size_t *group = calloc(n, sizeof *group);
        struct one_way result;
        double base = strtod(sets[k].decimals, NULL);
        if (value == NULL || group == NULL) {
            CHECK(value != NULL && group != NULL);
            free(group);
            free(value);
            return;
        }
        for (size_t i = 0; i < n; i++) {
            group[i] = i / sets[k].replicates;
            size_t turn = i % sets[k].replicates;
            int tenth = tenths[group[i]] + (turn == 0 ? 0 : turn % 2 == 1 ? -1 : 1);
            /* what reading the decimal gives: one rounding of (10 base + tenth) / 10 */
            value[i] = (double)((10 * (long double)base + tenth) / 10);
        }
        CHECK(one_way_analyse(value, group, n, &result) == OUTCOME_OK);
        CHECK_RELATIVE(result.f.statistic, sets[k].on_doubles, 1e-11, EXACT);
        double lost = fabs(result.f.statistic - sets[k].certified) / sets[k].certified;
        CHECK(lost <= pow(10, -sets[k].digits));
        free(group);
        free(value);
    }
}

CU_TestInfo strd_anova_tests[] = {
    {"certified files", certified_files},
    {"made sets, to the limit of doubles", made_sets},
    CU_TEST_INFO_NULL,
};
