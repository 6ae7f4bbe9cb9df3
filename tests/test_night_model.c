/* test_night_model.c - the deltas of a night from one model, and nights whose truth is known. */
#include <CUnit/CUnit.h>
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

#include "reduce/statistics/mixed_model.h"
#include "reduce/statistics/night_model.h"
#include "tests/check.h"
#include "tests/night_simulation.h"
#include "tests/number_table.h"

extern CU_TestInfo night_model_tests[];

static const char DENSE[] = "R, dense criterion: tests/oracles/mixed_model.R";

enum { ROWS_MOST = 128 };

static struct night_observation night[ROWS_MOST];
static struct night_result result;

static size_t read_night(const char *path, int has_attitudes)
{
    struct number_table table;
    CU_ASSERT_FATAL(number_table_read(path, &table) && table.rows <= ROWS_MOST);
    for (size_t i = 0; i < table.rows; i++) {
        const double *cell = table.cell + i * table.columns;
        night[i] =
            (struct night_observation){(size_t)cell[0], has_attitudes ? 10 + (size_t)cell[1] : 0,
                                       has_attitudes ? (size_t)cell[2] : i,
                                       cell[table.columns - 2] + 5e8, cell[table.columns - 1]};
    }
    size_t rows = table.rows;
    number_table_free(&table);
    return rows;
}

static void one_point_a_mounting(void)
{
    size_t n = read_night("tests/oracles/mixed_nights/walk.csv", 0);
    double correlation[16];

    CHECK(night_deltas(night, n, 4, &result, correlation) == OUTCOME_OK);
    CHECK(result.baseline_mountings == 7 && result.deltas[1].mountings == 4);
    CHECK_RELATIVE(result.deltas[1].delta, 3.676773581841e-3, 1e-6, DENSE);
    CHECK_RELATIVE(result.deltas[1].standard_error, 0.539018187208e-3, 1e-6, DENSE);
    CHECK_RELATIVE(result.deltas[1].degrees_of_freedom, 10.527010521273, 1e-5, DENSE);
    CHECK_RELATIVE(result.deltas[3].delta, 0.523145656433e-3, 1e-6, DENSE);
    CHECK_RELATIVE(result.error_variance, 0.275854309643e-6, 1e-5, DENSE);
    CHECK_RELATIVE(result.walk_variance * (night[n - 1].time - night[0].time), 17.288549314044e-6,
                   1e-5, DENSE);
    CHECK(isnan(result.refit_variance));
    CHECK_NEAR(correlation[1 * 4 + 2], 0.350804028769, 1e-6, DENSE);
    CHECK_NEAR(correlation[2 * 4 + 2], 1, 0, "identity");
    CHECK_NEAR(correlation[0], 0, 0, "identity");
}

/* Order of the rows and names of attitudes do not matter. */
static void four_attitudes_a_mounting(void)
{
    size_t n = read_night("tests/oracles/mixed_nights/refits.csv", 1);

    for (size_t i = 0; i < n / 2; i++) {
        struct night_observation kept = night[i];
        night[i] = night[n - 1 - i];
        night[n - 1 - i] = kept;
    }
    CHECK(night_deltas(night, n, 4, &result, NULL) == OUTCOME_OK);
    CHECK_RELATIVE(result.deltas[1].delta, 3.39259206389e-3, 1e-6, DENSE);
    CHECK_RELATIVE(result.deltas[2].standard_error, 1.101147406241e-3, 1e-6, DENSE);
    CHECK_RELATIVE(result.deltas[3].degrees_of_freedom, 9.20876825064, 1e-5, DENSE);
    CHECK_RELATIVE(result.refit_variance, 1.667187614602e-6, 1e-5, DENSE);
    CHECK_RELATIVE(result.error_variance, 0.227230859907e-6, 1e-5, DENSE);
    CHECK(result.deltas[1].mountings == 4 && result.baseline_mountings == 7);
}

/* The same points ten times over: a refit is known no better. */
static void refits_do_not_average_down(void)
{
    static const char order[] = "ABCACBABCA";
    static const double refit[] = {3, -2, 1, 0, -4, 2, 1, 5, -3, 0};
    static const double scatter[] = {0.5, -0.3, 0.1, -0.3};
    struct night_observation points[240];
    double error[2] = {0, 0};

    for (size_t many = 0; many < 2; many++) {
        size_t per = many ? 24 : 4, n = 0;
        for (size_t m = 0; m < 10; m++)
            for (size_t k = 0; k < per; k++)
                points[n++] = (struct night_observation){
                    (size_t)(order[m] - 'A'), 0, m, 3600 * (double)m, refit[m] + scatter[k % 4]};
        CHECK(night_deltas(points, n, 3, &result, NULL) == OUTCOME_OK);
        error[many] = result.deltas[1].standard_error;
    }
    CHECK(error[1] > 0.98 * error[0]);
}

static void refuses_by_name(void)
{
    size_t n = read_night("tests/oracles/mixed_nights/walk.csv", 0);

    CHECK(night_deltas(night, 0, 4, &result, NULL) == OUTCOME_TOO_FEW);
    CHECK(night_deltas(night, 7, 4, &result, NULL) ==
          OUTCOME_TOO_FEW); /* seven for seven unknowns */
    CHECK(isnan(result.deltas[1].delta));
    CHECK(night_deltas(night, n, 3, &result, NULL) == OUTCOME_SINGULAR); /* no such configuration */
    CHECK(night_deltas(night, n, NIGHT_CONFIGURATIONS_MAX + 1, &result, NULL) == OUTCOME_SINGULAR);
    CHECK(night_deltas(night, n, 6, &result, NULL) == OUTCOME_OK); /* two that were not run */
    CHECK(result.deltas[5].outcome == OUTCOME_TOO_FEW && isnan(result.deltas[5].delta));
    for (size_t i = 0; i < n; i++)
        night[i].configuration += night[i].configuration == 0 && i > 3 ? 1 : 0;
    CHECK(night_deltas(night, n, 4, &result, NULL) == OUTCOME_TOO_FEW); /* two baselines left */
    n = read_night("tests/oracles/mixed_nights/walk.csv", 0);
    night[4].value = (double)NAN;
    CHECK(night_deltas(night, n, 4, &result, NULL) == OUTCOME_NOT_FINITE);
    n = read_night("tests/oracles/mixed_nights/walk.csv", 0);
    for (size_t i = 0; i < n; i++)
        night[i].time = 0;
    CHECK(night_deltas(night, n, 4, &result, NULL) == OUTCOME_SINGULAR);
    CHECK(isnan(result.error_variance));
}

static const struct night_design sixty_runs = {
    "eight configurations, 60 runs", 8, 6, 18, 100, 100, NULL, 0, NULL, 1};

enum { NIGHTS = 300 };

/* Nights of NIGHTS that go wrong with a probability no greater than p: more than this many have a chance
 * below 1e-4. */
static double most_nights(double p)
{
    unsigned most = 0;

    while (gsl_cdf_binomial_Q(most, p, NIGHTS) > 1e-4)
        most++;
    return (double)most / NIGHTS;
}

/* Fewer nights than tests/bench/nights.c has, and limits as wide as that asks. An interval holds the truth in
 * 95 %; the seven of a night are not independent, so the share over all is known to between sqrt(.05 .95 / 2100) =
 * 0.0048 and, were they one, 0.0126: five of the former, two of the latter. Intervals that are not simultaneous
 * leave 0 out in some 30 % of nights, 15 standard errors above: the limit of 5 % does not let them pass. */
static void simulated_nights(void)
{
    static const enum simulated_drift drifts[] = {DRIFT_STEADY, DRIFT_WALK};

    for (size_t k = 0; k < 2; k++) {
        struct night_score score = night_simulate(&sixty_runs, drifts[k], METHOD_MODEL, NIGHTS, 3);
        CHECK(score.failed == 0);
        CHECK_NEAR(score.coverage, 0.95, 0.025, "identity: 95 % intervals");
        CHECK(score.false_family <= most_nights(0.05));
        CHECK(score.false_gain <= most_nights(0.025));
        CHECK(score.no_change_low <= 0.025 && score.no_change_high <= 0.025);
        CHECK(score.half_width <= 1.15 * score.best && score.half_width >= 0.9 * score.best);
        CHECK(score.single_family > most_nights(0.05));
    }
}

/* A polynomial drops out: what is simulated without drift holds for a straight and a bent one. A walk is no
 * polynomial. */
static void polynomials_drop_out(void)
{
    CHECK(night_drift_difference(&sixty_runs, DRIFT_STRAIGHT, 40, 5) < 1e-5);
    CHECK(night_drift_difference(&sixty_runs, DRIFT_BENT, 40, 5) < 1e-5);
    CHECK(night_drift_difference(&sixty_runs, DRIFT_WALK, 40, 5) > 0.1);
}

/* Four points a mounting. Points that are taken for mountings of their own make the noise of a mounting look like
 * something that wanders, and intervals too narrow; the limit for what is right is three standard errors of
 * this many intervals below 95 %, and has to catch it. */
static void a_refit_ignored_is_found_out(void)
{
    static const struct night_design design = {
        "four configurations, 16 runs of four points", 4, 3, 7, 100, 100, NULL, 0, NULL, 4};
    enum { FEW = 200 };
    struct night_score right = night_simulate(&design, DRIFT_STEADY, METHOD_MODEL, FEW, 4);
    struct night_score wrong = night_simulate(&design, DRIFT_STEADY, METHOD_NO_REFIT, FEW, 4);
    const double least = 0.95 - 3 * sqrt(0.05 * 0.95 / (3 * FEW));

    CHECK(right.failed == 0 && wrong.failed == 0);
    CHECK(right.coverage >= least);
    CHECK(wrong.coverage < least);
    CHECK(wrong.half_width < 0.8 * right.half_width);
}

/* Noise that a walk seems to be in, and is not proven: its intervals are no narrower than without it. */
static void an_unproven_walk_narrows_nothing(void)
{
    static const char order[] = "ABCACBABCACBA";
    static const double noise[] = {-0.4, -1.1, 1.1, 0.4,  -1.4, -0.5, -0.7,
                                   0.6,  1.0,  1.2, -0.5, -1.4, 0.7};
    struct night_observation few[13];
    double x[13 * 5], y[13];
    const double b[] = {0, 1, 0, 0, 0};
    struct mixed_data data = {13, 5, x, y, 0, {NULL}};
    struct mixed_fit fit;

    for (size_t i = 0; i < 13; i++) {
        double t = (double)i / 6 - 1;
        const double row[] = {1, order[i] == 'B', order[i] == 'C', t, t * t};
        memcpy(x + 5 * i, row, sizeof row);
        /* cppcheck-suppress unreadVariable; read through a pointer */
        y[i] = noise[i];
        few[i] = (struct night_observation){(size_t)(order[i] - 'A'), 0, i, (double)i, noise[i]};
    }
    CHECK(night_deltas(few, 13, 3, &result, NULL) == OUTCOME_OK);
    CHECK(mixed_model_fit(&data, &fit) == OUTCOME_OK);
    CHECK(result.walk_variance > 0);
    CHECK(result.deltas[1].standard_error > mixed_contrast(&fit, b).plain_error);
    mixed_fit_free(&fit);
}

CU_TestInfo night_model_tests[] = {
    {"one point a mounting", one_point_a_mounting},
    {"four attitudes a mounting", four_attitudes_a_mounting},
    {"a refit is known no better by more points", refits_do_not_average_down},
    {"refuses by name", refuses_by_name},
    {"simulated nights with and without drift", simulated_nights},
    {"a straight and a bent drift drop out", polynomials_drop_out},
    {"a refit that is ignored is found out", a_refit_ignored_is_found_out},
    {"a walk that is not proven narrows nothing", an_unproven_walk_narrows_nothing},
    CU_TEST_INFO_NULL,
};
