/* repeat_series.c - repeatability that others computed: a turbine run twice, a check standard.
 *
 * Sources: tests/published/tow_tank/repeat_pairs.csv, with the pooled standard deviations that were computed
 * from it by an independent script; NIST/SEMATECH e-Handbook of Statistical Methods. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/statistics/variance_levels.h"
#include "reduce/statistics/variance_ratio.h"
#include "reduce/statistics/visit_variances.h"
#include "tests/check.h"
#include "tests/number_table.h"

extern CU_TestInfo repeat_series_tests[];

enum { MOST = 250 };

struct pairs {
    double value[MOST];
    size_t group[MOST];
    struct visit_point point[MOST];
    size_t n;
};

/* The pairs of one speed: a group a pair, a visit a series. */
static struct pairs take_pairs(const struct number_table *table, double speed)
{
    struct pairs pairs = {.n = 0};
    for (size_t i = 0; i < table->rows; i++)
        for (size_t k = 1; k < 3 && table->cell[3 * i] == speed; k++) {
            pairs.value[pairs.n] = table->cell[3 * i + k];
            pairs.group[pairs.n] = i;
            pairs.point[pairs.n] = (struct visit_point){i, 2 * i + k, pairs.value[pairs.n]};
            pairs.n++;
        }
    return pairs;
}

static void the_curve_that_was_run_twice(void)
{
    static const struct {
        double speed, pairs, deviation;
    } rows[] = {{0.4, 29, 0.0103},
                {0.6, 29, 0.0077},
                {0.8, 27, 0.0067},
                {1.0, 23, 0.0072},
                {1.2, 17, 0.0083}};
    struct number_table table;
    struct variance_estimate speeds[5];
    double squares = 0;
    CU_ASSERT_FATAL(number_table_read("tests/published/tow_tank/repeat_pairs.csv", &table) &&
                    table.columns == 3 && table.rows == 125);
    for (size_t i = 0; i < 5; i++) {
        struct visit_estimate within, returned;
        struct pairs pairs = take_pairs(&table, rows[i].speed);
        speeds[i] = variance_within(pairs.value, pairs.group, pairs.n);
        CHECK_NEAR(sqrt(speeds[i].variance), rows[i].deviation, 5e-5, "computed beside the data");
        CHECK_NEAR(speeds[i].freedom, rows[i].pairs, 0, "one a pair");
        visit_variances(pairs.point, pairs.n, &within, &returned);
        CHECK(within.estimate.freedom == 0 && returned.measurements == pairs.n);
        CHECK_RELATIVE(returned.estimate.variance, speeds[i].variance, 1e-12, "identity");
        CHECK_NEAR(returned.estimate.freedom, rows[i].pairs, 0, "one a pair");
        squares += rows[i].pairs * rows[i].deviation * rows[i].deviation;
    }
    struct variance_estimate all = variance_pool(speeds, 5);
    CHECK_NEAR(all.freedom, 125, 0, "125 pairs");
    CHECK_NEAR(sqrt(all.variance), sqrt(squares / 125), 5e-5, "from the figures of the speeds");
    number_table_free(&table);
}

static void the_probe_of_the_handbook(void)
{
    static const char book[] = "e-Handbook 2.4.3.1, check standards of probe 2362 (from memory)";
    const struct variance_estimate runs[] = {{0.0658 * 0.0658, 150}, {0.0758 * 0.0758, 150}};
    struct variance_estimate pooled = variance_pool(runs, 2);
    CHECK_NEAR(sqrt(pooled.variance), 0.0710, 5e-5, book);
    CHECK_NEAR(pooled.freedom, 300, 0, book);
}

static void the_ceramic_of_the_handbook(void)
{
    static const char book[] = "e-Handbook 1.3.5.9, JAHANMI2 (from memory)";
    const struct variance_estimate first = {65.54909 * 65.54909, 239};
    const struct variance_estimate second = {61.85425 * 61.85425, 239};
    struct variance_ratio test = variance_ratio(first, second, 0.025);
    CHECK_NEAR(test.ratio, 1.123037, 5e-7, book);
    CHECK_NEAR(test.lower, 0.7756, 5e-5, book);
    CHECK_NEAR(test.upper, 1.2894, 5e-5, book);
    CHECK(!test.is_unlike);
}

CU_TestInfo repeat_series_tests[] = {
    {"a curve that was run twice", the_curve_that_was_run_twice},
    {"pooled check standards of a probe", the_probe_of_the_handbook},
    {"two batches of a ceramic", the_ceramic_of_the_handbook},
    CU_TEST_INFO_NULL};
