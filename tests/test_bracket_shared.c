/* test_bracket_shared.c - errors that the mountings of a configuration share, in deltas and between
 * them.                                                                                            */
#include <CUnit/CUnit.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stddef.h>

#include "reduce/statistics/bracket_shared.h"
#include "reduce/statistics/student.h"
#include "tests/check.h"

extern CU_TestInfo bracket_shared_tests[];

/* A-B-A-C-A-B-A-C-A with its scatter. */
enum { NIGHT = 9 };
static const struct observation night[NIGHT] = {{0, 0, 0.1}, {1, 1, 2},   {0, 2, -0.2},
                                                {2, 3, 4},   {0, 4, 0.1}, {1, 5, 2.3},
                                                {0, 6, 0},   {2, 7, 4.4}, {0, 8, 0.3}};

static void adds_both_sides(void)
{
    const struct shared_error shared[NIGHT] = {{0.1, 20}, {0.3, 6},  {0.2, 20}, {0.6, 5}, {0.1, 20},
                                               {0.5, 6},  {0.2, 20}, {0.8, 5},  {0.1, 20}};
    struct bracket_result result;
    struct bracket_uncertainty uncertainty;
    double alone[9];
    double correlation[9];

    CHECK(bracket_deltas(night, NIGHT, 3, &result, alone) == OUTCOME_OK);
    CHECK(bracket_deltas(night, NIGHT, 3, &result, correlation) == OUTCOME_OK);
    bracket_add_shared(night, shared, NIGHT, 3, &result, correlation, &uncertainty);
    double s = result.noise.standard_deviation;
    double one = s * s * result.deltas[1].variance_factor;
    double other = s * s * result.deltas[2].variance_factor;
    double u1 = sqrt(one + 0.4 * 0.4 + 0.15 * 0.15);
    double u2 = sqrt(other + 0.7 * 0.7 + 0.15 * 0.15);
    CHECK_NEAR(uncertainty.standard[1], u1, 1e-14, "hand calculation: means 0.4 and 0.15");
    CHECK_NEAR(uncertainty.standard[2], u2, 1e-14, "hand calculation: means 0.7 and 0.15");
    CHECK_RELATIVE(uncertainty.degrees_of_freedom[1],
                   pow(u1, 4) / (one * one / result.noise.degrees_of_freedom + pow(0.4, 4) / 6 +
                                 pow(0.15, 4) / 20),
                   1e-12, "Satterthwaite 1946");
    CHECK_NEAR(correlation[5], (alone[5] * sqrt(one * other) + 0.15 * 0.15) / (u1 * u2), 1e-14,
               "hand calculation: the baseline's part is common to both");
    CHECK_NEAR(correlation[7], correlation[5], 0, "identity");
    CHECK_NEAR(correlation[4], 1, 0, "identity");
}

static void nothing_shared_changes_nothing(void)
{
    const struct shared_error shared[NIGHT] = {{0}};
    struct bracket_result result;
    struct bracket_uncertainty uncertainty;
    double alone[9];
    double correlation[9];

    CHECK(bracket_deltas(night, NIGHT, 3, &result, alone) == OUTCOME_OK);
    CHECK(bracket_deltas(night, NIGHT, 3, &result, correlation) == OUTCOME_OK);
    bracket_add_shared(night, shared, NIGHT, 3, &result, correlation, &uncertainty);
    for (int i = 0; i < 9; i++)
        CHECK_NEAR(correlation[i], alone[i], 1e-15, "identity");
    CHECK_RELATIVE(uncertainty.standard[1],
                   result.noise.standard_deviation * sqrt(result.deltas[1].variance_factor), 1e-14,
                   "identity");
    CHECK_RELATIVE(uncertainty.degrees_of_freedom[1], result.noise.degrees_of_freedom, 1e-14,
                   "identity");
}

static void what_is_not_known_stays_so(void)
{
    struct shared_error shared[NIGHT] = {{0}};
    struct observation flat[NIGHT];
    struct bracket_result result;
    struct bracket_uncertainty uncertainty;
    double correlation[16];

    shared[1].uncertainty = (double)NAN;
    CHECK(bracket_deltas(night, NIGHT, 4, &result, correlation) == OUTCOME_OK);
    bracket_add_shared(night, shared, NIGHT, 4, &result, correlation, &uncertainty);
    CHECK(isnan(uncertainty.standard[1]) && uncertainty.degrees_of_freedom[1] == 0);
    CHECK(isfinite(uncertainty.standard[2]));
    CHECK(isnan(uncertainty.standard[3])); /* not measured */
    for (int i = 0; i < NIGHT; i++)
        flat[i] = (struct observation){night[i].configuration, night[i].time, 0};
    shared[1].uncertainty = 0.1;
    CHECK(bracket_deltas(flat, NIGHT, 4, &result, correlation) == OUTCOME_OK);
    bracket_add_shared(flat, shared, NIGHT, 4, &result, correlation, &uncertainty);
    CHECK(isnan(uncertainty.standard[1])); /* no noise is not a small noise */
}

enum { NIGHTS = 4000 };

/* Both sides' slope errors are drawn once a night; the truth is 0. Without the shared part 95 %
 * intervals held it in far fewer. */
static void covers_the_truth_under_shared_errors(void)
{
    struct bracket_result result;
    struct bracket_uncertainty uncertainty;
    double correlation[9];
    struct shared_error shared[NIGHT];
    int covered = 0;
    int covered_by_scatter = 0;
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);

    CHECK(random != NULL);
    if (random == NULL)
        return;
    gsl_rng_set(random, 7);
    for (int k = 0; k < NIGHTS; k++) {
        struct observation drawn[NIGHT];
        double error[3];
        for (int c = 0; c < 3; c++)
            error[c] = gsl_ran_gaussian(random, c == 0 ? 0.5 : 2);
        for (int i = 0; i < NIGHT; i++) {
            size_t c = night[i].configuration;
            drawn[i] =
                (struct observation){c, night[i].time, error[c] + gsl_ran_gaussian(random, 1)};
            shared[i] = (struct shared_error){c == 0 ? 0.5 : 2, (double)INFINITY};
        }
        CHECK(bracket_deltas(drawn, NIGHT, 3, &result, correlation) == OUTCOME_OK);
        bracket_add_shared(drawn, shared, NIGHT, 3, &result, correlation, &uncertainty);
        double scatter = result.noise.standard_deviation * sqrt(result.deltas[1].variance_factor);
        covered +=
            fabs(result.deltas[1].delta) <=
            student_multiplier(0.95, uncertainty.degrees_of_freedom[1]) * uncertainty.standard[1];
        covered_by_scatter += fabs(result.deltas[1].delta) <=
                              student_multiplier(0.95, result.noise.degrees_of_freedom) * scatter;
    }
    gsl_rng_free(random);
    CHECK_NEAR((double)covered / NIGHTS, 0.95, 0.02, "identity: 95 % intervals");
    CHECK((double)covered_by_scatter / NIGHTS < 0.85);
}

CU_TestInfo bracket_shared_tests[] = {
    {"adds both sides, the baseline's to all deltas alike", adds_both_sides},
    {"nothing shared changes nothing", nothing_shared_changes_nothing},
    {"what is not known stays so", what_is_not_known_stays_so},
    {"95 % intervals hold the truth under shared errors", covers_the_truth_under_shared_errors},
    CU_TEST_INFO_NULL,
};
