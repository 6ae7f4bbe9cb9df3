/* handbook_samples.c - samples of the handbook: two means, ten batches, three outliers that hide.
 *
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.3 (AUTO83B), 1.3.5.7 and 1.3.5.10 (GEAR),
 * 1.3.5.17.3 (ROSNER): data in tests/published/handbook, printed results below to the digits printed;
 * more digits and probabilities from R, tests/oracles/distributions.R. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "reduce/statistics/one_way.h"
#include "reduce/statistics/outlying_values.h"
#include "reduce/statistics/two_samples.h"
#include "tests/check.h"
#include "tests/number_table.h"

extern CU_TestInfo handbook_samples_tests[];

static const char BOOK[] = "NIST/SEMATECH e-Handbook of Statistical Methods";
static const char R[] = "R, tests/oracles/distributions.R";

enum { MOST = 400 };

struct sample {
    double value[MOST];
    size_t group[MOST];
    size_t n;
};

static struct sample sample;

static void read_sample(const char *path, size_t value_at, size_t group_at)
{
    struct number_table table;
    CU_ASSERT_FATAL(number_table_read(path, &table) && table.rows <= MOST);
    sample.n = table.rows;
    for (size_t i = 0; i < table.rows; i++) {
        sample.value[i] = table.cell[i * table.columns + value_at];
        sample.group[i] =
            group_at < table.columns ? (size_t)table.cell[i * table.columns + group_at] : 0;
    }
    number_table_free(&table);
}

static void two_lots_of_cars(void)
{
    struct sample_summary usa, japan;
    struct two_samples test;
    size_t first = 0;

    read_sample("tests/published/handbook/auto83b.csv", 1, 0);
    while (first < sample.n && sample.group[first] == 1)
        first++;
    CHECK(sample_summarise(sample.value, first, &usa) == OUTCOME_OK);
    CHECK(sample_summarise(sample.value + first, sample.n - first, &japan) == OUTCOME_OK);
    CHECK_NEAR(usa.mean, 20.14458, 5e-6, BOOK);
    CHECK_NEAR(usa.sd, 6.41470, 5e-6, BOOK);
    CHECK_NEAR(japan.mean, 30.48101, 5e-6, BOOK);
    CHECK_NEAR(japan.sd, 6.10771, 5e-6, BOOK);
    CHECK(two_samples_compare(&usa, &japan, &test) == OUTCOME_OK);
    CHECK_NEAR(test.difference / test.pooled_error, -12.62059, 5e-6, BOOK);
    CHECK_NEAR(test.pooled_freedom, 326, 0, BOOK);
    CHECK_NEAR(test.difference / test.welch_error, -12.94627, 5e-6, BOOK);
    CHECK_NEAR(test.welch_freedom, 136.8750, 5e-5, BOOK);
    CHECK_RELATIVE(test.difference / test.welch_error, -12.9462732749320, 1e-12, R);
    CHECK_RELATIVE(test.welch_freedom, 136.874976672583, 1e-12, R);
}

static void batches_of_gears(void)
{
    struct group_test bartlett, levene;
    struct one_way analysis;

    read_sample("tests/published/handbook/gear.csv", 0, 1);
    CHECK(equal_variances_bartlett(sample.value, sample.group, sample.n, &bartlett) == OUTCOME_OK);
    CHECK_NEAR(bartlett.statistic, 20.78580, 1e-4, BOOK);
    CHECK_NEAR(bartlett.freedom, 9, 0, BOOK);
    CHECK(isinf(bartlett.under_freedom));
    CHECK_RELATIVE(bartlett.statistic, 20.7858734280648640, 1e-9, R);
    CHECK_RELATIVE(bartlett.p, 0.0136358632780575, 1e-8, R);
    CHECK(equal_variances_levene(sample.value, sample.group, sample.n, &levene) == OUTCOME_OK);
    CHECK_NEAR(levene.statistic, 1.705910, 1e-5, BOOK);
    CHECK_RELATIVE(levene.statistic, 1.7059176930008908, 1e-9, R);
    CHECK_RELATIVE(levene.p, 0.0990829755522054, 1e-9, R);
    CHECK(one_way_analyse(sample.value, sample.group, sample.n, &analysis) == OUTCOME_OK);
    CHECK(analysis.groups == 10);
    CHECK_NEAR(analysis.f.statistic, 2.2969, 5e-5, BOOK);
    CHECK_NEAR(analysis.f.under_freedom, 90, 0, BOOK);
    CHECK_RELATIVE(analysis.f.statistic, 2.2969124133585206, 1e-9, R);
    CHECK_RELATIVE(analysis.f.p, 0.0226608192786424, 1e-9, R);
}

/* Neither the first nor the second is above its limit; the third is, and takes both with it. */
static void three_outliers_that_hide(void)
{
    static const double want[][3] = {{6.01, 3.118906, 3.158794},
                                     {5.42, 2.942973, 3.151430},
                                     {5.34, 3.179424, 3.143890},
                                     {4.64, 2.810181, 3.136165},
                                     {-0.25, 2.815580, 3.128247}};
    struct outlying_value steps[10];
    size_t outliers = 0;

    read_sample("tests/published/handbook/rosner.csv", 0, SIZE_MAX);
    CHECK(outlying_values_find(sample.value, sample.n, 10, 0.05, steps, &outliers) == OUTCOME_OK);
    CHECK(outliers == 3);
    for (size_t i = 0; i < 5; i++) {
        CHECK_NEAR(sample.value[steps[i].index], want[i][0], 0, BOOK);
        CHECK_NEAR(steps[i].deviate, want[i][1], 5.1e-7, BOOK);
        CHECK_NEAR(steps[i].limit, want[i][2], 5.1e-7, BOOK);
    }
}

static void refuses_by_name(void)
{
    const double flat[] = {2, 2, 2, 2, 2, 2}, odd[] = {1, 2, (double)NAN, 3, 4, 5};
    const double rising[] = {1, 2, 3, 4, 5, 6};
    const size_t apart[] = {0, 1, 2, 3, 4, 5}, one[] = {7, 7, 7, 7, 7, 7};
    const size_t pairs[] = {1, 1, 2, 2, 3, 3}, lonely[] = {1, 1, 1, 1, 1, 2};
    const double variances[] = {1, 4}, freedoms[] = {5, (double)INFINITY};
    struct one_way analysis;
    struct group_test test;
    struct sample_summary first, second = {1, 0, 5};
    struct two_samples compared;
    struct outlying_value steps[6];
    size_t outliers = 9;

    CHECK(one_way_analyse(rising, apart, 6, &analysis) == OUTCOME_TOO_FEW);
    CHECK(one_way_analyse(rising, one, 6, &analysis) == OUTCOME_TOO_FEW);
    CHECK(one_way_analyse(odd, pairs, 6, &analysis) == OUTCOME_NOT_FINITE);
    CHECK(one_way_analyse(flat, pairs, 6, &analysis) == OUTCOME_SINGULAR);
    CHECK(isnan(analysis.f.statistic));
    CHECK(equal_variances_bartlett(rising, lonely, 6, &test) == OUTCOME_TOO_FEW);
    CHECK(equal_variances_bartlett(flat, pairs, 6, &test) == OUTCOME_SINGULAR);
    CHECK(equal_variances_levene(odd, pairs, 6, &test) == OUTCOME_NOT_FINITE);
    CHECK(isnan(test.statistic));
    CHECK(sample_summarise(rising, 1, &first) == OUTCOME_TOO_FEW);
    CHECK(sample_summarise(odd, 6, &first) == OUTCOME_NOT_FINITE);
    CHECK(two_samples_compare(&first, &second, &compared) == OUTCOME_TOO_FEW);
    CHECK(two_samples_compare(&second, &second, &compared) == OUTCOME_SINGULAR);
    CHECK(outlying_values_find(rising, 6, 5, 0.05, steps, &outliers) == OUTCOME_TOO_FEW);
    CHECK(outlying_values_find(flat, 6, 2, 0.05, steps, &outliers) == OUTCOME_SINGULAR);
    CHECK(outlying_values_find(rising, 6, 2, 0, steps, &outliers) == OUTCOME_SINGULAR);
    CHECK(outlying_values_find(odd, 6, 2, 0.05, steps, &outliers) == OUTCOME_NOT_FINITE);
    CHECK(outliers == 0);
    CHECK_NEAR(effective_freedom(variances, freedoms, 2), 125, 1e-12, "by hand: 25 / (1/5)");
    CHECK(isnan(effective_freedom(variances, variances, 0)));
}

CU_TestInfo handbook_samples_tests[] = {
    {"two lots of cars, pooled and Welch", two_lots_of_cars},
    {"ten batches of gears, Bartlett, Levene and F", batches_of_gears},
    {"three outliers that hide each other", three_outliers_that_hide},
    {"refuses by name", refuses_by_name},
    CU_TEST_INFO_NULL,
};
