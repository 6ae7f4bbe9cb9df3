/* test_evidence.c - many taps at once, ratios, shrinkage, and how well a number repeats. */
#include <CUnit/CUnit.h>
#include <gsl/gsl_cdf.h>
#include <math.h>

#include "reduce/statistics/false_discovery.h"
#include "reduce/statistics/fieller.h"
#include "reduce/statistics/shrinkage.h"
#include "reduce/statistics/student.h"
#include "reduce/statistics/variance_levels.h"
#include "tests/check.h"

extern CU_TestInfo evidence_tests[];

static const char R[] = "R, tests/oracles/distributions.R";

/* The library's quantiles, on which every interval rests. */
static void quantiles_agree_with_r(void)
{
    CHECK_NEAR(student_multiplier(0.95, 5.42), 2.51180800016471, 1e-9, R);
    CHECK_NEAR(student_multiplier(0.95, 17), 2.10981557783332, 1e-9, R);
    CHECK_NEAR(student_multiplier(0.95, 200), 1.97189622363391, 1e-9, R);
    CHECK_NEAR(gsl_cdf_fdist_Pinv(0.95, 4, 20), 2.86608140201566, 1e-9, R);
    CHECK_NEAR(gsl_cdf_fdist_Pinv(0.95, 9, 90), 1.98559496373050, 1e-9, R);
    CHECK_NEAR(gsl_cdf_fdist_Pinv(0.95, 1, 3.7), 8.22267500617025, 1e-8, R);
    CHECK_NEAR(gsl_cdf_chisq_Pinv(0.95, 9), 16.91897760462044, 1e-8, R);
    CHECK_NEAR(gsl_cdf_chisq_Pinv(0.95, 0.5), 2.42023227488952, 1e-8, R);
    CHECK_NEAR(gsl_cdf_chisq_Pinv(0.95, 60), 79.08194448784873, 1e-7, R);
}

/* Fifteen tests of Benjamini and Hochberg (1995), section 3: four survive at 5 %, Bonferroni's three. */
static void four_of_fifteen_survive(void)
{
    static const double p[] = {.0001, .0004, .0019, .0095, .0201, .0278, .0298, .0344,
                               .0459, .3240, .4262, .5719, .6528, .7590, 1};
    static const double want[] = {
        .0015, .0030, .0095, .035625,           .0603,   .0638571428571429, .0638571428571429,
        .0645, .0765, .4860, .5811818181818181, .714875, .7532307692307693, .8132142857142857,
        1};
    double mixed[17], q[17];
    size_t survivors = 0;

    /* backwards, with two that were not tested */
    mixed[0] = mixed[9] = (double)NAN;
    for (size_t i = 0; i < 15; i++)
        mixed[i + (i < 8 ? 1 : 2)] = p[14 - i];
    CHECK(false_discovery_adjust(mixed, 17, q) == OUTCOME_OK);
    CHECK(isnan(q[0]) && isnan(q[9]));
    for (size_t i = 0; i < 15; i++) {
        double got = q[i + (i < 8 ? 1 : 2)];
        CHECK_NEAR(got, want[14 - i], 1e-14, R);
        survivors += got <= 0.05;
    }
    CHECK(survivors == 4);
    CHECK(false_discovery_adjust(mixed, 17, mixed) == OUTCOME_OK);
    CHECK_NEAR(mixed[1], 1, 0, "in place");
    CHECK(false_discovery_adjust(mixed, 0, mixed) == OUTCOME_OK);
    mixed[3] = 1.1;
    q[3] = 7;
    CHECK(false_discovery_adjust(mixed, 17, q) == OUTCOME_NOT_FINITE);
    CHECK_NEAR(q[3], 7, 0, "untouched");
}

static void ratios_have_fiellers_interval(void)
{
    double k = student_multiplier(0.95, 12);
    struct fieller worked = fieller_interval(0.050, 0.010, 2.5e-5, 4e-6, 0, 1.959964);
    CHECK(worked.kind == FIELLER_INTERVAL);
    CHECK_NEAR(worked.ratio, 5.0, 1e-12, "0.050 / 0.010");
    CHECK_NEAR(worked.lower, 3.35872, 5e-6, "both recomputed with mpmath from the quadratic");
    CHECK_NEAR(worked.upper, 8.45684, 5e-6, "both recomputed with mpmath from the quadratic");
    struct fieller ratio = fieller_interval(12, 4, 4, 0.36, 0.5, k);

    CHECK(ratio.kind == FIELLER_INTERVAL);
    CHECK_NEAR(ratio.ratio, 3, 1e-15, "identity");
    CHECK_NEAR(ratio.lower, 1.99034512114086, 1e-9, R);
    CHECK_NEAR(ratio.upper, 4.39498703445549, 1e-9, R);
    ratio = fieller_interval(12, 1, 4, 1, 0.2, k);
    CHECK(ratio.kind == FIELLER_OUTSIDE);
    CHECK_NEAR(ratio.lower, -9.43417651822943, 1e-8, R);
    CHECK_NEAR(ratio.upper, 3.53618325218751, 1e-8, R);
    CHECK(fieller_interval(1, 1, 4, 4, 0, k).kind == FIELLER_EVERYTHING);
    /* signs turned: the same interval */
    ratio = fieller_interval(-12, -4, 4, 0.36, 0.5, k);
    CHECK_NEAR(ratio.lower, 1.99034512114086, 1e-9, R);
    ratio = fieller_interval(-12, 4, 4, 0.36, -0.5, k);
    CHECK_NEAR(ratio.lower, -4.39498703445549, 1e-9, R);
    /* a denominator that is known: a t interval over it */
    ratio = fieller_interval(3, 2, 0.25, 0, 0, 2);
    CHECK_NEAR(ratio.lower, 1, 1e-15, "identity");
    CHECK_NEAR(ratio.upper, 2, 1e-15, "identity");
    ratio = fieller_interval(0, 2, 0.25, 0.01, 0, 2);
    CHECK_NEAR(ratio.lower, -ratio.upper, 1e-15, "identity: symmetric about 0");
    CHECK(fieller_interval(1, 2, 1, 1, 1.5, 2).kind == FIELLER_NONE);
    CHECK(fieller_interval(1, 2, -1, 1, 0, 2).kind == FIELLER_NONE);
    CHECK(fieller_interval((double)NAN, 2, 1, 1, 0, 2).kind == FIELLER_NONE);
    CHECK(fieller_interval(1, 2, 1, 1, 0, 0).kind == FIELLER_NONE);
}

static void the_luckiest_part_is_drawn_back(void)
{
    static const double deltas[] = {4.1, -2.2, .7, 6.3, -1.5, 2.9};
    static const double uncertainties[] = {1.1, .9, 1.4, 1.2, .8, 2};
    static const double small[] = {.1, -.2, .1, .3, -.1, .2}, equal[] = {2, 2, 2, 2, 2, 2};
    double between = 0;

    CHECK(shrinkage_between(deltas, uncertainties, 6, &between) == OUTCOME_OK);
    CHECK_RELATIVE(between, 10.5177950521572, 1e-9, R);
    CHECK(shrinkage_between(deltas, equal, 6, &between) == OUTCOME_OK);
    CHECK_RELATIVE(between, (16.81 + 4.84 + .49 + 39.69 + 2.25 + 8.41) / 6 - 4, 1e-13,
                   "identity: equal uncertainties");
    CHECK(shrinkage_between(small, uncertainties, 6, &between) == OUTCOME_OK);
    CHECK_NEAR(between, 0, 0, "identity: less scatter than uncertainty");
    struct shrunk part = shrinkage_apply(6, 2, 12);
    CHECK_NEAR(part.value, 4.5, 1e-15, "by hand: 12 / 16");
    CHECK_NEAR(part.standard_error, sqrt(3), 1e-15, "by hand: 12 * 4 / 16");
    CHECK_NEAR(shrinkage_apply(6, 2, 0).value, 0, 0, "identity");
    CHECK(isnan(shrinkage_apply(6, 0, 1).value) && isnan(shrinkage_apply(6, 2, -1).value));
    CHECK(isnan(shrinkage_apply((double)NAN, 2, 1).value));
    CHECK(shrinkage_between(deltas, uncertainties, 2, &between) == OUTCOME_TOO_FEW);
    CHECK(shrinkage_between(deltas, small, 6, &between) == OUTCOME_NOT_FINITE && isnan(between));
}

/* Three groups by hand: squares 2, 8 and 0 on degrees 1, 2 and 0. */
static void repeats_are_pooled(void)
{
    static const double values[] = {5, 10, 7, 12, 14, 9};
    static const size_t groups[] = {1, 2, 1, 2, 2, 3};
    struct variance_estimate within = variance_within(values, groups, 6);
    CHECK_NEAR(within.variance, 10.0 / 3, 1e-14, "by hand");
    CHECK_NEAR(within.freedom, 3, 0, "by hand");
    const struct variance_estimate nights[] = {
        within, {(double)NAN, 0}, {2, 6}, {(double)INFINITY, 3}};
    struct variance_estimate season = variance_pool(nights, 4);
    CHECK_NEAR(season.variance, 22.0 / 9, 1e-14, "by hand: (10 + 12) / 9");
    CHECK_NEAR(season.freedom, 9, 0, "by hand");
    CHECK_NEAR(variance_pool(nights, 0).freedom, 0, 0, "nothing");
    CHECK_NEAR(variance_within(values, groups, 1).freedom, 0, 0, "nothing repeats");
    const double odd[] = {1, (double)NAN};
    CHECK(isnan(variance_within(odd, groups + 3, 2).variance));
}

static void the_seasons_figure_stands_in(void)
{
    struct variance_estimate chosen;
    const struct variance_estimate few = {4, 3}, many = {5, 12}, season = {3, 40},
                                   none = {(double)NAN, 0};
    CHECK(variance_choose(few, season, 8, &chosen) == VARIANCE_SEASONS);
    CHECK_NEAR(chosen.freedom, 40, 0, "the season's");
    CHECK(variance_choose(many, season, 8, &chosen) == VARIANCE_TONIGHTS);
    CHECK_NEAR(chosen.variance, 5, 0, "tonight's");
    CHECK(variance_choose(few, none, 8, &chosen) == VARIANCE_TONIGHTS);
    CHECK(variance_choose(none, few, 8, &chosen) == VARIANCE_SEASONS);
    CHECK(variance_choose((struct variance_estimate){4, 6}, few, 8, &chosen) == VARIANCE_TONIGHTS);
    CHECK(variance_choose(none, none, 8, &chosen) == VARIANCE_NOBODYS && isnan(chosen.variance));
    CHECK_TEXT(variance_level_words(VARIANCE_REFITTED), "part refitted");
    CHECK_TEXT(variance_level_words(VARIANCE_LEVELS), "unknown");
}

static void a_refit_does_not_average_down(void)
{
    const struct variance_estimate added[] = {{1, 60}, {2, 20}, {9, 10}, {25, 4}};
    struct delta_effort effort = {4, 2, 1, 0};
    struct variance_estimate delta = variance_of_delta(added, effort);
    CHECK_NEAR(delta.variance, 2 * (0.25 + 1 + 9), 1e-13, "by hand");
    CHECK_NEAR(delta.freedom, 20.5 * 20.5 / (0.25 / 60 + 4.0 / 20 + 324.0 / 10), 1e-12,
               "Satterthwaite by hand");
    effort.points = 1e6;
    CHECK(variance_of_delta(added, effort).variance >= 18);
    effort.refits = 3;
    CHECK(variance_of_delta(added, effort).variance < 9);
    effort.entries = 2;
    CHECK_NEAR(variance_of_delta(added, effort).variance, 2 * (1e-6 + 1 + 3 + 12.5), 1e-12,
               "by hand");
    effort.points = 0;
    CHECK(isnan(variance_of_delta(added, effort).variance));
    struct variance_estimate refit =
        variance_component((struct variance_estimate){10, 9}, (struct variance_estimate){4, 30}, 4);
    CHECK_NEAR(refit.variance, 9, 1e-15, "by hand: 10 - 4 / 4");
    CHECK_NEAR(refit.freedom, 81 / (100.0 / 9 + 1.0 / 30), 1e-12, "Satterthwaite by hand");
    refit =
        variance_component((struct variance_estimate){1, 9}, (struct variance_estimate){4, 30}, 1);
    CHECK_NEAR(refit.variance, 0, 0, "never less than nothing");
    CHECK(isnan(variance_component(added[0], (struct variance_estimate){1, 0}, 1).variance));
}

CU_TestInfo evidence_tests[] = {
    {"quantiles of t, F and chi squared", quantiles_agree_with_r},
    {"false discoveries: four of fifteen survive", four_of_fifteen_survive},
    {"ratios have Fieller's interval", ratios_have_fiellers_interval},
    {"the luckiest part is drawn back", the_luckiest_part_is_drawn_back},
    {"repeats are pooled with their degrees of freedom", repeats_are_pooled},
    {"the season's figure stands in for too few", the_seasons_figure_stands_in},
    {"a refit does not average down over points", a_refit_does_not_average_down},
    CU_TEST_INFO_NULL,
};
