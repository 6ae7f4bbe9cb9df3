/* test_shared_error.c - errors that the mountings of a configuration share, in deltas and between
 * them.                                                                                            */
#include <CUnit/CUnit.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stddef.h>
#include <string.h>

#include "reduce/statistics/bracket.h"
#include "reduce/statistics/night_model.h"
#include "reduce/statistics/shared_error.h"
#include "reduce/statistics/student.h"
#include "tests/check.h"

extern CU_TestInfo shared_error_tests[];

/* A-B-A-C-A-B-A-C-A with its scatter. */
enum { NIGHT = 9 };
static const struct observation night[NIGHT] = {{0, 0, 0.1}, {1, 1, 2},   {0, 2, -0.2},
                                                {2, 3, 4},   {0, 4, 0.1}, {1, 5, 2.3},
                                                {0, 6, 0},   {2, 7, 4.4}, {0, 8, 0.3}};

/* What the bracket finds, with what its observations share. */
struct shared_night {
    struct bracket_result result;
    struct delta_estimate estimates[4];
    double alone[16], correlation[16], weights[4 * NIGHT];
};

static void bracket(const struct observation *observations, const struct shared_error *shared,
                    size_t n_configurations, struct shared_night *made)
{
    struct shared_observation of[NIGHT];

    CHECK(bracket_deltas(observations, NIGHT, n_configurations, &made->result, made->alone) ==
          OUTCOME_OK);
    memcpy(made->correlation, made->alone, sizeof made->alone);
    bracket_weights(observations, NIGHT, n_configurations, &made->result, made->weights);
    for (int i = 0; i < NIGHT; i++)
        of[i] = (struct shared_observation){observations[i].configuration, shared[i]};
    for (size_t c = 0; c < n_configurations; c++)
        made->estimates[c] = (struct delta_estimate){
            made->result.deltas[c].delta,
            made->result.noise.standard_deviation * sqrt(made->result.deltas[c].variance_factor),
            made->result.noise.degrees_of_freedom};
    shared_error_add(of, NIGHT, made->weights, n_configurations, made->estimates,
                     made->correlation);
}

static void adds_both_sides(void)
{
    const struct shared_error shared[NIGHT] = {{0.1, 20}, {0.3, 6},  {0.2, 20}, {0.6, 5}, {0.1, 20},
                                               {0.5, 6},  {0.2, 20}, {0.8, 5},  {0.1, 20}};
    struct shared_night made;

    bracket(night, shared, 3, &made);
    double s = made.result.noise.standard_deviation;
    double one = s * s * made.result.deltas[1].variance_factor;
    double other = s * s * made.result.deltas[2].variance_factor;
    double u1 = sqrt(one + 0.4 * 0.4 + 0.15 * 0.15);
    double u2 = sqrt(other + 0.7 * 0.7 + 0.15 * 0.15);
    CHECK_NEAR(made.estimates[1].standard_error, u1, 1e-14, "hand calculation: means 0.4 and 0.15");
    CHECK_NEAR(made.estimates[2].standard_error, u2, 1e-14, "hand calculation: means 0.7 and 0.15");
    CHECK_RELATIVE(made.estimates[1].degrees_of_freedom,
                   pow(u1, 4) / (one * one / made.result.noise.degrees_of_freedom +
                                 pow(0.4, 4) / 6 + pow(0.15, 4) / 20),
                   1e-12, "Satterthwaite 1946");
    CHECK_NEAR(made.correlation[5], (made.alone[5] * sqrt(one * other) + 0.15 * 0.15) / (u1 * u2),
               1e-14, "hand calculation: the baseline's part is common to both");
    CHECK_NEAR(made.correlation[7], made.correlation[5], 0, "identity");
    CHECK_NEAR(made.correlation[4], 1, 0, "identity");
}

static void nothing_shared_changes_nothing(void)
{
    const struct shared_error shared[NIGHT] = {{0}};
    struct shared_night made;

    bracket(night, shared, 3, &made);
    for (int i = 0; i < 9; i++)
        CHECK_NEAR(made.correlation[i], made.alone[i], 1e-15, "identity");
    CHECK_RELATIVE(made.estimates[1].standard_error,
                   made.result.noise.standard_deviation *
                       sqrt(made.result.deltas[1].variance_factor),
                   1e-14, "identity");
    CHECK_RELATIVE(made.estimates[1].degrees_of_freedom, made.result.noise.degrees_of_freedom,
                   1e-14, "identity");
}

static void what_is_not_known_stays_so(void)
{
    struct shared_error shared[NIGHT] = {{0}};
    struct observation flat[NIGHT];
    struct shared_night made;

    shared[1].uncertainty = (double)NAN;
    bracket(night, shared, 4, &made);
    CHECK(isnan(made.estimates[1].standard_error) && made.estimates[1].degrees_of_freedom == 0);
    CHECK(isfinite(made.estimates[2].standard_error));
    CHECK(isnan(made.estimates[3].standard_error)); /* not measured */
    for (int i = 0; i < NIGHT; i++)
        flat[i] = (struct observation){night[i].configuration, night[i].time, 0};
    shared[1].uncertainty = 0.1;
    bracket(flat, shared, 4, &made);
    CHECK(isnan(made.estimates[1].standard_error) ||
          made.estimates[1].degrees_of_freedom == 0); /* no noise is not a small noise */
}

enum { NIGHTS = 4000 };

/* Both sides' slope errors are drawn once a night; the truth is 0. Without the shared part 95 %
 * intervals held it in far fewer. */
static void covers_the_truth_under_shared_errors(void)
{
    struct shared_night made;
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
        bracket(drawn, shared, 3, &made);
        double scatter =
            made.result.noise.standard_deviation * sqrt(made.result.deltas[1].variance_factor);
        covered += fabs(made.result.deltas[1].delta) <=
                   student_multiplier(0.95, made.estimates[1].degrees_of_freedom) *
                       made.estimates[1].standard_error;
        covered_by_scatter +=
            fabs(made.result.deltas[1].delta) <=
            student_multiplier(0.95, made.result.noise.degrees_of_freedom) * scatter;
    }
    gsl_rng_free(random);
    CHECK_NEAR((double)covered / NIGHTS, 0.95, 0.02, "identity: 95 % intervals");
    CHECK((double)covered_by_scatter / NIGHTS < 0.85);
}

/* Three configurations in rounds about seven returns, with a slow wave. */
enum { LONG_NIGHT = 19 };

static size_t lay_out(struct night_observation *long_night)
{
    static const size_t order[LONG_NIGHT] = {0, 1, 2, 0, 3, 1, 0, 2, 3, 0,
                                             1, 2, 0, 3, 1, 0, 2, 3, 0};
    static const double noise[LONG_NIGHT] = {.3, -.5, .2,  .4, -.1, .6,  -.7, .1,  .2, -.4,
                                             .5, -.2, -.3, .1, .7,  -.6, .2,  -.1, .3};
    for (size_t i = 0; i < LONG_NIGHT; i++)
        long_night[i] = (struct night_observation){order[i], 0, i, 600 * (double)i,
                                                   2 * (double)order[i] + noise[i]};
    return LONG_NIGHT;
}

/* The weights of the model's deltas give its deltas, 1 of the configuration and -1 of the baseline. So an
 * error that all mountings of a configuration share goes into its delta whole, whatever the night. */
static void the_model_adds_both_sides(void)
{
    struct night_observation long_night[LONG_NIGHT];
    struct shared_observation of[LONG_NIGHT];
    struct night_result result;
    struct delta_estimate estimates[4];
    double correlation[16], alone[16], weights[4 * LONG_NIGHT];
    size_t n = lay_out(long_night);

    CHECK(night_deltas_weighted(long_night, n, 4, &result, correlation, weights) == OUTCOME_OK);
    memcpy(alone, correlation, sizeof alone);
    double stray = 0;
    for (size_t c = 1; c < 4; c++) {
        double value = 0, sums[4] = {0};
        for (size_t i = 0; i < n; i++) {
            value += weights[c * n + i] * long_night[i].value;
            sums[long_night[i].configuration] += weights[c * n + i];
        }
        CHECK_NEAR(value, result.deltas[c].delta, 1e-12, "identity");
        for (size_t d = 0; d < 4; d++)
            CHECK_NEAR(sums[d], d == c ? 1 : d == 0 ? -1 : 0, 1e-12, "identity: no bias");
        estimates[c] =
            (struct delta_estimate){result.deltas[c].delta, result.deltas[c].standard_error,
                                    result.deltas[c].degrees_of_freedom};
    }
    for (size_t i = 0; i < n; i++)
        of[i] = (struct shared_observation){long_night[i].configuration,
                                            {long_night[i].configuration == 1   ? 0.4
                                             : long_night[i].configuration == 0 ? 0.15
                                                                                : 0,
                                             20}};
    double before = estimates[1].standard_error, other = estimates[2].standard_error;
    double own = 0, base = 0, others_base = 0, others_one = 0;
    for (size_t i = 0; i < n; i++) {
        own += long_night[i].configuration == 1 ? 0.4 * fabs(weights[n + i]) : 0;
        base += long_night[i].configuration == 0 ? 0.15 * fabs(weights[n + i]) : 0;
        others_base += long_night[i].configuration == 0 ? 0.15 * fabs(weights[2 * n + i]) : 0;
        others_one += long_night[i].configuration == 1 ? 0.4 * fabs(weights[2 * n + i]) : 0;
        stray += long_night[i].configuration == 3 ? fabs(weights[n + i]) : 0;
    }
    CHECK(own > 0.4 - 1e-12 && own < 0.45 && base > 0.15 - 1e-12 && stray > 0 && stray < 0.5);
    shared_error_add(of, n, weights, 4, estimates, correlation);
    CHECK_NEAR(estimates[1].standard_error, sqrt(before * before + own * own + base * base), 1e-12,
               "hand calculation");
    CHECK_NEAR(estimates[2].standard_error,
               sqrt(other * other + others_base * others_base + others_one * others_one), 1e-12,
               "hand calculation");
    CHECK_NEAR(correlation[6],
               (alone[6] * before * other + base * others_base) /
                   (estimates[1].standard_error * estimates[2].standard_error),
               1e-12, "hand calculation: the baseline's part is common to both");
    CHECK_NEAR(correlation[6], correlation[9], 1e-12, "identity");
    CHECK_NEAR(correlation[5], 1, 0, "identity");
}

CU_TestInfo shared_error_tests[] = {
    {"adds both sides, the baseline's to all deltas alike", adds_both_sides},
    {"the whole night's model adds both sides too", the_model_adds_both_sides},
    {"nothing shared changes nothing", nothing_shared_changes_nothing},
    {"what is not known stays so", what_is_not_known_stays_so},
    {"95 % intervals hold the truth under shared errors", covers_the_truth_under_shared_errors},
    CU_TEST_INFO_NULL,
};
