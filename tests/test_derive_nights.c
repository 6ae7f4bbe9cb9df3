/* test_derive_nights.c - simulated nights of known truth: do the intervals of ratio, equal balance and
 * package hold it as often as they promise?
 *
 * 200 seeded nights; CL and CD of a mounting scatter together with correlation -0.6, CLF partly with CL.
 * With a coverage of 95 % a share of 200 has a standard deviation of 1.5 %; between 90 and 99.5 % is three
 * of them, and some room for intervals of few degrees of freedom on the safe side. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/measured_deltas.h"
#include "reduce/statistics/equal_balance.h"
#include "reduce/statistics/fieller.h"
#include "reduce/statistics/student.h"
#include "reduce/statistics/weighted_measure.h"
#include "tests/check.h"
#include "tests/noise.h"

extern CU_TestInfo derive_nights_tests[];

enum { NIGHTS = 200, BASE = 0, WING, FLOOR, BOTH, FLAP, CONFIGURATIONS };

static const size_t order[] = {BASE,  WING, BASE, FLOOR, BASE, BOTH, BASE, FLAP, BASE,
                               FLOOR, BASE, WING, BASE,  FLAP, BASE, BOTH, BASE};
enum { RUNS = sizeof order / sizeof order[0] };

/* Changes of CD, CL and CLF against the baseline's 0.9, 3 and 1.2; invented. */
static const double truths[CONFIGURATIONS][3] = {[WING] = {0.010, 0.040, 0.040},
                                                 [FLOOR] = {0.004, 0.020, 0.008},
                                                 [BOTH] = {0.012, 0.053, 0.046},
                                                 [FLAP] = {0.002, 0.010, 0.060}};

struct simulated {
    struct family family;
    struct run_row rows[RUNS];
    struct family_run runs[RUNS];
    double value[RUNS][QUANTITY_COUNT], added[RUNS][QUANTITY_COUNT];
    double freedom[RUNS], time[RUNS];
    size_t left_out[RUNS];
};

static const char *configurations[CONFIGURATIONS] = {"base", "wing", "floor", "both", "flap"};
static const char *measures[] = {"low"};

static void make_run(struct simulated *night, size_t i, uint64_t *state)
{
    const double *truth = truths[order[i]];
    double common = noise_normal(state);
    double own = noise_normal(state);
    double front = noise_normal(state);
    double drift = 2e-4 * (double)i;
    double *value = night->value[i];
    size_t mounting = 1;
    for (size_t k = 0; k < i; k++)
        mounting += order[k] == order[i];
    for (size_t q = 0; q < QUANTITY_COUNT; q++)
        value[q] = (double)NAN;
    value[QUANTITY_CD] = 0.9 + truth[0] + 4e-4 * (-0.6 * common + 0.8 * own);
    value[QUANTITY_CL] = 3 + drift + truth[1] + 2e-3 * common;
    value[QUANTITY_CLF] = 1.2 + 0.4 * drift + truth[2] + 8e-4 * common + 1e-3 * front;
    value[QUANTITY_BALANCE] = 100 * value[QUANTITY_CLF] / value[QUANTITY_CL];
    night->time[i] = 1000.0 * (double)i;
    night->freedom[i] = (double)INFINITY;
    night->runs[i] = (struct family_run){&night->rows[i], order[i],           mounting,
                                         value,           night->added[i],    &night->freedom[i],
                                         &night->time[i], &night->left_out[i]};
}

static void make_night(struct simulated *night, uint64_t *state)
{
    memset(night, 0, sizeof *night);
    for (size_t i = 0; i < RUNS; i++)
        make_run(night, i, state);
    night->family = (struct family){.configurations = configurations,
                                    .n_configurations = CONFIGURATIONS,
                                    .runs = night->runs,
                                    .n_runs = RUNS,
                                    .measures = measures,
                                    .n_measures = 1};
}

struct tally {
    double held, intervals;
};

static void count(struct tally *tally, double lower, double upper, double truth)
{
    tally->intervals += isfinite(lower) && isfinite(upper);
    tally->held += lower <= truth && truth <= upper;
}

static void count_about(struct tally *tally, double value, double standard, double freedom,
                        double truth)
{
    double half = student_multiplier(0.95, freedom) * standard;
    count(tally, value - half, value + half, truth);
}

struct night_deltas {
    struct measured_deltas drag, downforce, balance;
    double *ratio, *trim; /* crossed */
};

static void measure(struct simulated *night, struct night_deltas *deltas)
{
    const struct measuring measuring = {&night->family, NULL, 0, 0.95};
    struct fault fault;
    CHECK_OK(measured_deltas_make(&measuring, QUANTITY_CD, &deltas->drag, &fault), &fault);
    CHECK_OK(measured_deltas_make(&measuring, QUANTITY_CL, &deltas->downforce, &fault), &fault);
    CHECK_OK(measured_deltas_make(&measuring, QUANTITY_BALANCE, &deltas->balance, &fault), &fault);
    CHECK_OK(measured_deltas_cross(&measuring, QUANTITY_CL, QUANTITY_CD, &deltas->downforce,
                                   &deltas->drag, &deltas->ratio, &fault),
             &fault);
    CHECK_OK(measured_deltas_cross(&measuring, QUANTITY_CL, QUANTITY_BALANCE, &deltas->downforce,
                                   &deltas->balance, &deltas->trim, &fault),
             &fault);
}

static void end_measure(struct night_deltas *deltas)
{
    measured_deltas_end(&deltas->drag);
    measured_deltas_end(&deltas->downforce);
    measured_deltas_end(&deltas->balance);
    free(deltas->ratio);
    free(deltas->trim);
}

static double variance(const struct measured_deltas *deltas, size_t i, size_t j)
{
    return deltas->covariance[i * deltas->n + j];
}

static double freedom(const struct measured_deltas *deltas, size_t i)
{
    return deltas->readings[i].degrees_of_freedom;
}

/* Gives the correlation of both deltas. */
static double count_ratio(const struct night_deltas *d, struct tally *tally)
{
    const struct measured_deltas *up = &d->downforce, *down = &d->drag;
    double covariance = d->ratio[WING * CONFIGURATIONS + WING] / 2;
    double k = student_multiplier(0.95, fmin(freedom(up, WING), freedom(down, WING)));
    struct fieller ratio =
        fieller_interval(up->readings[WING].delta, down->readings[WING].delta,
                         variance(up, WING, WING), variance(down, WING, WING), covariance, k);
    count(tally, ratio.lower, ratio.upper, 4.0);
    return covariance / sqrt(variance(up, WING, WING) * variance(down, WING, WING));
}

static struct trim_pair pair_of(const struct night_deltas *d, size_t i)
{
    return (struct trim_pair){d->downforce.readings[i].delta, d->balance.readings[i].delta,
                              variance(&d->downforce, i, i), variance(&d->balance, i, i),
                              d->trim[i * CONFIGURATIONS + i] / 2};
}

static double balance_of(size_t i)
{
    return 100 * ((1.2 + truths[i][2]) / (3 + truths[i][1]) - 0.4);
}

static void count_trimmed(const struct night_deltas *d, struct tally *tally)
{
    struct trim_pair part = pair_of(d, WING), device = pair_of(d, FLAP);
    struct trim_shared shared = {variance(&d->downforce, WING, FLAP),
                                 variance(&d->balance, WING, FLAP),
                                 d->trim[WING * CONFIGURATIONS + FLAP]};
    struct trimmed trimmed;
    CHECK(equal_balance(&part, &device, &shared, -9, 9, &trimmed) == OUTCOME_OK);
    double least = fmin(fmin(freedom(&d->downforce, WING), freedom(&d->downforce, FLAP)),
                        fmin(freedom(&d->balance, WING), freedom(&d->balance, FLAP)));
    count_about(tally, trimmed.delta, trimmed.standard, least,
                truths[WING][1] - truths[FLAP][1] * balance_of(WING) / balance_of(FLAP));
}

static void count_package(const struct night_deltas *d, struct tally *tally)
{
    static const size_t parts[] = {WING, FLOOR};
    double deltas[CONFIGURATIONS] = {0};
    struct weighted_measure interaction;
    double least = (double)INFINITY;
    for (size_t i = 1; i < CONFIGURATIONS; i++) {
        deltas[i] = d->downforce.readings[i].delta;
        least = fmin(least, freedom(&d->downforce, i));
    }
    CHECK(package_interaction(deltas, d->downforce.covariance, CONFIGURATIONS, BOTH, parts, 2,
                              &interaction) == OUTCOME_OK);
    count_about(tally, interaction.value, interaction.standard, least, -0.007);
}

static void check_tally(const struct tally *tally, const char *what)
{
    double share = tally->held / tally->intervals;
    if (!(share >= 0.90 && share <= 0.995))
        (void)printf("\n%s: %.0f of %.0f held\n", what, tally->held, tally->intervals);
    CHECK(tally->intervals >= NIGHTS * 0.95);
    CHECK(share >= 0.90 && share <= 0.995);
}

static void the_intervals_hold_the_truth(void)
{
    struct tally ratio = {0, 0}, trimmed = {0, 0}, package = {0, 0};
    double correlation = 0;
    uint64_t state = 20260211;
    for (int i = 0; i < NIGHTS; i++) {
        struct simulated night;
        struct night_deltas deltas;
        make_night(&night, &state);
        measure(&night, &deltas);
        correlation += count_ratio(&deltas, &ratio) / NIGHTS;
        count_trimmed(&deltas, &trimmed);
        count_package(&deltas, &package);
        end_measure(&deltas);
    }
    check_tally(&ratio, "ratio");
    check_tally(&trimmed, "equal balance");
    check_tally(&package, "package");
    CHECK_NEAR(correlation, -0.6, 0.08,
               "of the noise that was put in; the mean of 200 estimates from some ten contrasts");
}

CU_TestInfo derive_nights_tests[] = {{"the intervals hold the truth", the_intervals_hold_the_truth},
                                     CU_TEST_INFO_NULL};
