/* test_headline_nights.c - headline deltas of simulated nights whose truth is known: how often the interval
 * holds it, whichever method and noise it is by, and with refits that all runs of a mounting share. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "reduce/delta_reading.h"
#include "reduce/statistics/student.h"
#include "tests/check.h"
#include "tests/noise.h"

extern CU_TestInfo headline_nights_tests[];

enum { RUNS_MOST = 64, CONFIGURATIONS_MOST = 6, NIGHTS = 400 };

struct made_night {
    struct family family;
    struct family_run runs[RUNS_MOST];
    double value[RUNS_MOST][QUANTITY_COUNT], added[RUNS_MOST][QUANTITY_COUNT];
    double freedom[RUNS_MOST], time[RUNS_MOST];
    size_t left_out[RUNS_MOST];
};

static const char *const measures[] = {"weighted"};
static const char *const names[CONFIGURATIONS_MOST] = {"a", "b", "c", "d", "e", "f"};

/* order: a letter a mounting, 'a' the baseline; runs of each. */
static void lay_out(const char *order, size_t per, struct made_night *night)
{
    size_t mounted[CONFIGURATIONS_MOST] = {0};
    memset(night, 0, sizeof *night);
    night->family.configurations = (const char **)names;
    night->family.measures = (const char **)measures;
    night->family.n_measures = 1;
    night->family.runs = night->runs;
    for (size_t m = 0; order[m] != '\0'; m++) {
        size_t c = (size_t)(order[m] - 'a');
        mounted[c]++;
        if (c >= night->family.n_configurations)
            night->family.n_configurations = c + 1;
        for (size_t k = 0; k < per; k++) {
            size_t i = night->family.n_runs++;
            night->freedom[i] = (double)INFINITY;
            night->time[i] = 1000 * (double)m + 100 * (double)k;
            night->runs[i] = (struct family_run){.configuration = c,
                                                 .mounting = mounted[c],
                                                 .value = night->value[i],
                                                 .added = night->added[i],
                                                 .freedom = &night->freedom[i],
                                                 .time = &night->time[i],
                                                 .left_out = &night->left_out[i]};
        }
    }
}

struct score {
    double coverage, freedom, width;
    size_t nights, season, by_model;
};

struct truth {
    double refit, run,
        walk; /* standard deviations: of a mounting, of a run, of the drift's step a mounting */
};

static void draw(const char *order, size_t per, struct truth truth, uint64_t *random,
                 struct made_night *night)
{
    double drift = 0;
    size_t i = 0;
    for (size_t m = 0; order[m] != '\0'; m++) {
        double refit = truth.refit * noise_normal(random);
        drift += truth.walk * noise_normal(random);
        for (size_t k = 0; k < per; k++)
            night->value[i++][QUANTITY_CL] = 100 + drift + refit + truth.run * noise_normal(random);
    }
}

/* Intervals of 95 %, each alone; every true delta is 0. */
static struct score judge(const char *order, size_t per, struct truth truth,
                          const struct variance_estimate *season, uint64_t seed)
{
    static struct made_night night;
    const struct delta_rule rule = {0.95, NULL, 1, 0};
    struct score score = {0};
    double intervals = 0;
    lay_out(order, per, &night);
    for (size_t k = 0; k < NIGHTS; k++) {
        struct evidence evidence;
        struct delta_reading readings[CONFIGURATIONS_MOST];
        struct fault fault;
        draw(order, per, truth, &seed, &night);
        CHECK_OK(evidence_make(&night.family, QUANTITY_CL, 0, season, &evidence, &fault), &fault);
        delta_read_all(&evidence, night.family.n_configurations, &rule, readings);
        evidence_end(&evidence);
        for (size_t c = 1; c < night.family.n_configurations; c++) {
            const struct delta_reading *one = &readings[c];
            if (!isfinite(one->half_width))
                continue;
            intervals++;
            score.coverage += one->lower <= 0 && one->upper >= 0;
            score.width += one->half_width;
            score.freedom += one->degrees_of_freedom;
            score.season += strcmp(one->noise_source, "season") == 0;
            score.by_model += strcmp(one->method, "whole night") == 0;
        }
        score.nights++;
    }
    score.coverage /= intervals;
    score.width /= intervals;
    score.freedom /= intervals;
    CHECK(intervals >= (double)(NIGHTS * (night.family.n_configurations - 1)) * 0.99);
    return score;
}

static const struct variance_estimate unknown = {(double)NAN, 0};

/* Four standard errors of this many nights, whose deltas share returns: 4 sqrt(0.05 0.95 / 400). */
static const double SLACK = 0.044;
static const char TRUTH[] = "identity: 95 % intervals, simulated";

static void a_whole_night_holds_the_truth(void)
{
    struct score score = judge("abcadbacdabcadbacda", 1, (struct truth){1, 0, 0.3}, &unknown, 11);
    CHECK(score.by_model > 0 && score.season == 0);
    CHECK_NEAR(score.coverage, 0.95, SLACK, TRUTH);
}

/* Three runs a mounting that hardly differ: what scatters is the refit, and it counts once. */
static void refits_are_not_averaged_by_runs(void)
{
    struct score one = judge("abcadbacdabcadbacda", 1, (struct truth){1, 0.1, 0}, &unknown, 5);
    struct score three = judge("abcadbacdabcadbacda", 3, (struct truth){1, 0.1, 0}, &unknown, 5);
    CHECK(three.by_model > 0);
    CHECK_NEAR(three.coverage, 0.95, SLACK, TRUTH);
    CHECK_NEAR(three.width / one.width, 1, 0.1, "the refits are as many");
}

/* A worthwhile change is found by as many more pairs as are named, and not by one less. */
static void pairs_follow_from_the_drawn_interval(void)
{
    static struct made_night night;
    static const struct metric metric = {"downforce", "CL", BETTER_HIGHER, 0, 2.5};
    const struct delta_rule rule = {0.95, &metric, 0, 0};
    struct delta_reading readings[CONFIGURATIONS_MOST];
    struct evidence evidence;
    struct fault fault;
    uint64_t random = 3;
    size_t told = 0;
    lay_out("abcadbacda", 1, &night);
    draw("abcadbacda", 1, (struct truth){1, 0, 0.5}, &random, &night);
    CHECK_OK(evidence_make(&night.family, QUANTITY_CL, 0, &unknown, &evidence, &fault), &fault);
    delta_read_all(&evidence, night.family.n_configurations, &rule, readings);
    evidence_end(&evidence);
    for (size_t c = 1; c < night.family.n_configurations; c++) {
        const struct delta_reading *one = &readings[c];
        double power = student_multiplier(0.6, one->degrees_of_freedom);
        double m = (double)one->mountings, b = (double)one->baseline_mountings;
        if (one->pairs_needed == 0)
            continue;
        told++;
        for (size_t less = 0; less < 2; less++) {
            double more = (double)(one->pairs_needed - less);
            double share = (1 / (m + more) + 1 / (b + more)) / (1 / m + 1 / b);
            double found = (one->half_width + power * one->standard_uncertainty) * sqrt(share);
            CHECK(less == 0 ? found <= 2.5 : found > 2.5 || one->pairs_needed == 1);
        }
    }
    CHECK(told > 0);
}

static void a_short_night_holds_the_truth_by_brackets(void)
{
    struct score score = judge("abababa", 1, (struct truth){1, 0, 0}, &unknown, 3);
    CHECK(score.by_model == 0);
    CHECK(score.coverage > 0.95 - SLACK);
}

/* One mounting between two returns, with a season that knows the noise. */
static void a_borrowed_noise_holds_the_truth(void)
{
    const struct variance_estimate season = {1, 40};
    struct score score = judge("aba", 1, (struct truth){1, 0, 0}, &season, 7);
    CHECK(score.season == NIGHTS);
    CHECK(score.coverage > 0.95 - SLACK);
    CHECK_NEAR(score.freedom, 40, 1e-9, "the season's");
    score = judge("aba", 4, (struct truth){1, 0.1, 0}, &season, 7);
    CHECK(score.coverage > 0.95 - SLACK); /* four runs of one mounting */
    score = judge("ab", 1, (struct truth){1, 0, 0}, &season, 9);
    CHECK(score.season == NIGHTS);
    CHECK_NEAR(score.coverage, 0.95, SLACK, TRUTH);
}

CU_TestInfo headline_nights_tests[] = {
    {"a whole night's intervals hold the truth", a_whole_night_holds_the_truth},
    {"refits are not averaged by runs", refits_are_not_averaged_by_runs},
    {"pairs follow from the drawn interval", pairs_follow_from_the_drawn_interval},
    {"a short night's do by brackets", a_short_night_holds_the_truth_by_brackets},
    {"a borrowed noise's do", a_borrowed_noise_holds_the_truth},
    CU_TEST_INFO_NULL};
