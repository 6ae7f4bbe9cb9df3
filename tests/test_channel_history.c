/* test_channel_history.c - a channel in one run against its own history, signatures made by hand. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/statistics/channel_history.h"
#include "reduce/statistics/channel_lag.h"
#include "reduce/statistics/channel_swap.h"
#include "tests/check.h"

static const double none = (double)NAN;

enum { OTHERS = 8 };

/* A run of ten points about a level, its noise 1 % of it. */
static struct channel_signature usual_run(double level)
{
    return (struct channel_signature){.points = 10,
                                      .samples = 250,
                                      .level = level,
                                      .range = 0.2 * fabs(level) + 0.02,
                                      .deviation = 0.01 * fabs(level) + 0.001,
                                      .local_deviation = 0.01 * fabs(level) + 0.001,
                                      .sluggishness = 3,
                                      .step = 1e-4,
                                      .independent = 800,
                                      .constant = 0,
                                      .repeat_share = 0.01};
}

/* The level within 1 % and the noise within 5 %, from run to run. */
static void usual_runs(double level, struct channel_signature runs[OTHERS])
{
    for (int i = 0; i < OTHERS; i++) {
        double way = (i - 3.5) / 3.5;
        runs[i] = usual_run(level);
        runs[i].level *= 1 + 0.01 * way;
        runs[i].deviation *= 1 + 0.05 * way;
        runs[i].sluggishness *= 1 - 0.1 * way;
    }
}

static enum history_finding noise(const struct channel_signature *run)
{
    struct channel_signature others[OTHERS];
    usual_runs(30, others);
    return channel_noise_judge(run, others, OTHERS).finding;
}

static void a_usual_run_is_usual(void)
{
    struct channel_signature others[OTHERS];
    struct channel_signature run = usual_run(30);
    usual_runs(30, others);
    CHECK(noise(&run) == HISTORY_USUAL);
    CHECK(channel_level_judge(&run, others, OTHERS, "m").finding == HISTORY_USUAL);
}

static void noise_is_told_from_calm(void)
{
    struct channel_signature run = usual_run(30);
    run.deviation *= 2.2;
    CHECK(noise(&run) == HISTORY_NOISY);
    run.deviation /= 2.2 * 1.9;
    CHECK(noise(&run) == HISTORY_USUAL);
    run.deviation /= 1.2;
    CHECK(noise(&run) == HISTORY_QUIET);
    run.independent = 20; /* one short point: its own scatter is a factor of 3.8 */
    CHECK(noise(&run) == HISTORY_USUAL);
    run.deviation = none;
    CHECK(noise(&run) == HISTORY_USUAL);
}

static void three_others_are_no_history(void)
{
    struct channel_signature others[OTHERS];
    struct channel_signature run = usual_run(30);
    usual_runs(30, others);
    run.deviation *= 10;
    run.level *= 10;
    CHECK(channel_noise_judge(&run, others, 3).finding == HISTORY_USUAL);
    CHECK(channel_level_judge(&run, others, 3, "m").finding == HISTORY_USUAL);
    CHECK(channel_noise_judge(&run, others, 4).finding == HISTORY_NOISY);
    CHECK(channel_noise_judge(&run, others, 0).finding == HISTORY_USUAL);
    CHECK(channel_level_judge(&run, others, 0, "m").finding == HISTORY_USUAL);
}

static void one_bad_run_among_the_others_hides_nothing(void)
{
    struct channel_signature others[OTHERS];
    struct channel_signature run = usual_run(30);
    usual_runs(30, others);
    others[2].deviation *= 20;
    others[2].level *= 1000;
    run.deviation *= 3;
    CHECK(channel_noise_judge(&run, others, OTHERS).finding == HISTORY_NOISY);
}

static void constant_here_and_alive_elsewhere(void)
{
    struct channel_signature others[OTHERS];
    struct channel_signature run = usual_run(30);
    run.constant = 1;
    run.deviation = none;
    run.repeat_share = none;
    CHECK(noise(&run) == HISTORY_CONSTANT);
    run.constant = 0.5;
    CHECK(noise(&run) == HISTORY_USUAL);
    run.constant = 1;
    usual_runs(30, others);
    others[0].constant = 0.1;
    others[1].constant = 0.1;
    CHECK(channel_noise_judge(&run, others, OTHERS).finding == HISTORY_CONSTANT);
    others[2].constant = 1; /* a brake holds it now and then */
    CHECK(channel_noise_judge(&run, others, OTHERS).finding == HISTORY_USUAL);
    usual_runs(30, others);
    for (int i = 0; i < OTHERS; i++)
        others[i].repeat_share = 0.6; /* few digits */
    CHECK(channel_noise_judge(&run, others, OTHERS).finding == HISTORY_USUAL);
}

/* A load is no brake: one other run in which it moves tells, and none leaves the question open. */
static void one_living_run_tells_of_a_load_that_died(void)
{
    struct channel_signature others[OTHERS];
    struct channel_signature run = usual_run(30);
    usual_runs(30, others);
    CHECK(channel_silence_judge(&run, others, OTHERS).finding == HISTORY_USUAL);
    run.constant = 1;
    run.deviation = run.repeat_share = none;
    for (int i = 1; i < OTHERS; i++)
        others[i] = run;
    struct history_judgement judgement = channel_silence_judge(&run, others, OTHERS);
    CHECK(judgement.finding == HISTORY_CONSTANT);
    CHECK_NEAR(judgement.usual, others[0].deviation, 1e-12, "the only run that moves");
    CHECK(channel_noise_judge(&run, others, OTHERS).finding == HISTORY_USUAL);
    others[0].constant = 0.1; /* moves, but not at every point: neither dead nor alive */
    CHECK(channel_silence_judge(&run, others, OTHERS).finding == HISTORY_USUAL);
    others[0] = run;
    for (size_t n = 0; n <= OTHERS; n += OTHERS) {
        judgement = channel_silence_judge(&run, others, n);
        CHECK(judgement.finding == HISTORY_CONSTANT && isnan(judgement.usual));
    }
    usual_runs(30, others);
    for (int i = 0; i < OTHERS; i++)
        others[i].repeat_share = 0.6; /* few digits */
    CHECK(channel_silence_judge(&run, others, OTHERS).finding == HISTORY_USUAL);
    run.constant = none;
    CHECK(channel_silence_judge(&run, others, 0).finding == HISTORY_USUAL);
}

static void a_lag_before_the_logger_is_slow_not_quiet(void)
{
    struct channel_signature run = usual_run(30);
    run.sluggishness *= 10;
    run.deviation /= 3;
    CHECK(noise(&run) == HISTORY_SLOW);
    run.sluggishness = none; /* too slow to be estimated */
    CHECK(noise(&run) == HISTORY_SLOW);
    run.sluggishness = 3;
    CHECK(noise(&run) == HISTORY_QUIET);
    run = usual_run(30);
    run.sluggishness *= 10; /* slower without less noise: something else moves, not a lag */
    CHECK(noise(&run) == HISTORY_USUAL);
}

static struct history_judgement level_of(double usual, const struct channel_signature *run,
                                         const char *unit)
{
    struct channel_signature others[OTHERS];
    usual_runs(usual, others);
    return channel_level_judge(run, others, OTHERS, unit);
}

static struct channel_signature scaled(double level, double factor)
{
    struct channel_signature run = usual_run(level);
    run.level *= factor;
    run.range *= fabs(factor);
    run.deviation *= fabs(factor);
    run.step *= fabs(factor);
    return run;
}

static void trade_factors_are_named(void)
{
    static const struct {
        const char *unit;
        double level, factor;
        const char *written, *read_as;
    } cases[] = {
        {"m", 0.03, 25.4, "mm", "inch"},       {"m", 0.03, 1 / 25.4, "inch", "mm"},
        {"m", 0.03, 1000, "mm", "m"},          {"N", 800, 4.4482216, "N", "lbf"},
        {"N", 800, 9.80665, "N", "kgf"},       {"N m", 300, 1.3558179, "N m", "lbf ft"},
        {"Pa", 1500, 100, "Pa", "hPa"},        {"Pa", 1500, 1e-3, "kPa", "Pa"},
        {"Pa", 1500, 1 / 47.88, "psf", "Pa"},  {"Pa", 1500, 6894.757, "Pa", "psi"},
        {"Pa", 1500, 9.80665, "Pa", "mmH2O"},  {"Pa", 1500, 249.089, "Pa", "inH2O"},
        {"rad", 0.05, 57.29578, "deg", "rad"}, {"m/s", 50, 3.6, "km/h", "m/s"},
        {"m/s", 50, 2.2369363, "mph", "m/s"},  {"1", 0.5, 100, "%", "1"},
        {"mV/V", 0.4, 1e3, "uV/V", "mV/V"},    {"count", 4000, 1e3, "thousandths", "ones"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct channel_signature run = scaled(cases[i].level, cases[i].factor);
        struct history_judgement judgement = level_of(cases[i].level, &run, cases[i].unit);
        CHECK(judgement.finding == HISTORY_UNIT);
        if (judgement.finding != HISTORY_UNIT)
            continue;
        CHECK_RELATIVE(judgement.slip.factor, cases[i].factor, 1e-5, "NIST SP 811, appendix B.8");
        CHECK_TEXT(judgement.slip.written, cases[i].written);
        CHECK_TEXT(judgement.slip.read_as, cases[i].read_as);
    }
}

static void temperatures_slip_by_their_origin(void)
{
    static const struct {
        double level;
        const char *written, *read_as;
    } cases[] = {
        {293.15 + 273.15, "K", "degC"},
        {20, "degC", "K"},
        {68 + 273.15, "degF", "degC"},
        {266.4833, "degC", "degF"}, /* 20 degF in K */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct channel_signature others[OTHERS];
        struct channel_signature run = usual_run(cases[i].level);
        run.deviation = none;
        run.range = none;
        for (int k = 0; k < OTHERS; k++) {
            others[k] = run;
            others[k].level = 293.15 + 0.3 * (k - 4);
        }
        struct history_judgement judgement = channel_level_judge(&run, others, OTHERS, "K");
        CHECK(judgement.finding == HISTORY_UNIT);
        if (judgement.finding != HISTORY_UNIT)
            continue;
        CHECK_TEXT(judgement.slip.written, cases[i].written);
        CHECK_TEXT(judgement.slip.read_as, cases[i].read_as);
    }
}

static void a_sign_turned_round_is_a_slip_without_units(void)
{
    struct channel_signature run = scaled(800, -1);
    struct history_judgement judgement = level_of(800, &run, "N");
    CHECK(judgement.finding == HISTORY_UNIT);
    CHECK_NEAR(judgement.slip.factor, -1, 0, "the sign");
    CHECK(judgement.slip.written == NULL);
}

/* Too wide about 0.02 for a level to be far, too far from zero to be about it: no gap in between. */
static void a_level_near_zero_is_told_by_the_range_too(void)
{
    struct channel_signature others[OTHERS];
    struct channel_signature run = usual_run(0.02);
    for (int i = 0; i < OTHERS; i++) {
        others[i] = usual_run(0.02);
        others[i].level += 0.0009 * (i - 3.5); /* the median is seven robust scales from zero */
    }
    run.level *= 1e-3;
    run.range *= 1e-3;
    run.deviation *= 1e-3;
    struct history_judgement judgement = channel_level_judge(&run, others, OTHERS, "mV/V");
    CHECK(judgement.finding == HISTORY_UNIT);
    CHECK_NEAR(judgement.slip.factor, 1e-3, 1e-18, "identity: V/V read as mV/V");
}

static void about_zero_the_range_and_the_noise_tell(void)
{
    struct channel_signature others[OTHERS];
    struct channel_signature run = usual_run(0);
    for (int i = 0; i < OTHERS; i++) {
        others[i] = usual_run(0);
        others[i].level = 0.002 * (i - 3.5);
        others[i].range *= 1 + 0.02 * (i - 4);
    }
    run.range *= 57.29578;
    run.deviation *= 57.29578;
    struct history_judgement judgement = channel_level_judge(&run, others, OTHERS, "rad");
    CHECK(judgement.finding == HISTORY_UNIT);
    CHECK(judgement.told_by == UNIT_BY_RANGE);
    CHECK_RELATIVE(judgement.slip.factor, 57.29578, 1e-5, "180/pi");
    run.deviation /= 57.29578; /* a wider sweep */
    CHECK(channel_level_judge(&run, others, OTHERS, "rad").finding == HISTORY_USUAL);
    run.deviation *= 57.29578; /* noise alone */
    run.range /= 57.29578;
    CHECK(channel_level_judge(&run, others, OTHERS, "rad").finding == HISTORY_USUAL);
    run.range = none; /* one point: the step tells */
    CHECK(channel_level_judge(&run, others, OTHERS, "rad").finding == HISTORY_USUAL);
    run.step *= 57.29578;
    CHECK(channel_level_judge(&run, others, OTHERS, "rad").finding == HISTORY_UNIT);
}

static void a_level_without_a_reason_is_asked_about_when_far(void)
{
    struct channel_signature run = usual_run(30);
    run.level = 33; /* ten times the others' spread, but a tenth of the level */
    CHECK(level_of(30, &run, "N").finding == HISTORY_USUAL);
    run.level = 48;
    CHECK(level_of(30, &run, "N").finding == HISTORY_LEVEL);
    run.level = none;
    CHECK(level_of(30, &run, "N").finding == HISTORY_USUAL);
    run = scaled(30, 4.4482216);
    run.deviation = 0.3; /* the noise stayed: it is no unit */
    CHECK(level_of(30, &run, "N").finding == HISTORY_LEVEL);
}

static void a_slip_is_told_in_the_declared_unit(void)
{
    struct channel_signature run = scaled(1500, 100);
    struct history_judgement judgement = level_of(1500, &run, "Pa");
    struct unit_slip told = unit_slip_as_declared("Pa", &judgement.slip, "bar");
    CHECK_TEXT(told.written, "kPa");
    CHECK_TEXT(told.read_as, "bar");
    told = unit_slip_as_declared("Pa", &judgement.slip, "furlong");
    CHECK_TEXT(told.read_as, "hPa");
}

static void slips_are_one_of_a_kind(void)
{
    static const char *const units[] = {"m", "Pa", "N", "N m", "K", "rad", "m/s", "1", "count"};
    struct unit_slip slips[UNIT_SLIPS_MAX];
    for (size_t u = 0; u < sizeof units / sizeof units[0]; u++) {
        size_t n = unit_slips(units[u], slips);
        CHECK(n > 1 && n < UNIT_SLIPS_MAX);
        for (size_t i = 0; i < n; i++)
            for (size_t k = 0; k < i; k++)
                CHECK(slips[i].offset != slips[k].offset ||
                      fabs(slips[i].factor / slips[k].factor - 1) > 1e-9);
    }
}

static int swapped(const struct channel_signature *a, const struct channel_signature *b,
                   double level_a, double level_b)
{
    struct channel_signature others[OTHERS];
    usual_runs(level_a, others);
    struct channel_usual usual_a = channel_usual_make(others, OTHERS);
    usual_runs(level_b, others);
    struct channel_usual usual_b = channel_usual_make(others, OTHERS);
    return channels_swapped(a, &usual_a, b, &usual_b, NULL);
}

static void two_channels_that_look_like_each_other_are_swapped(void)
{
    struct channel_signature front = usual_run(0.03);
    struct channel_signature rear = usual_run(0.06);
    CHECK(swapped(&rear, &front, 0.03, 0.06));
    CHECK(!swapped(&front, &rear, 0.03, 0.06));
    CHECK(!swapped(&rear, &rear, 0.03, 0.06)); /* one alone has moved */
    CHECK(!swapped(&front, &front, 0.03, 0.06));
    struct channel_signature near = usual_run(0.0303); /* neighbours that nothing tells apart */
    CHECK(!swapped(&near, &front, 0.03, 0.0303));
    rear.level = none;
    CHECK(!swapped(&rear, &front, 0.03, 0.06));
}

static void a_channel_without_a_history_is_not_swapped(void)
{
    struct channel_signature others[OTHERS];
    struct channel_signature front = usual_run(0.03);
    struct channel_signature rear = usual_run(0.06);
    double gain = 0;
    usual_runs(0.03, others);
    struct channel_usual usual_front = channel_usual_make(others, 3);
    struct channel_usual usual_rear = channel_usual_make(others, 0);
    CHECK(!channels_swapped(&rear, &usual_front, &front, &usual_rear, &gain));
    CHECK(isnan(gain));
}

static void a_signature_is_made_of_medians(void)
{
    struct channel_statistics points[3];
    memset(points, 0, sizeof points);
    for (int i = 0; i < 3; i++)
        points[i] = (struct channel_statistics){.n = 100,
                                                .mean = i == 2 ? 1000 : 10 + i,
                                                .sd = i + 1,
                                                .n_effective = 50,
                                                .stuck = 1,
                                                .local_deviation = 0.5,
                                                .resolution = 0.01};
    points[1].sd = 0;
    points[1].stuck = 100;
    struct channel_signature made = channel_signature_make(points, 3);
    CHECK_NEAR(made.points, 3, 0, "three points");
    CHECK_NEAR(made.level, 11, 0, "median of 10, 11, 1000");
    CHECK_NEAR(made.range, 990, 0, "1000 - 10");
    CHECK_NEAR(made.deviation, 2, 0, "median of 1 and 3: the constant one is left out");
    CHECK_NEAR(made.sluggishness, 2, 0, "100/50");
    CHECK_NEAR(made.constant, 1.0 / 3, 1e-15, "one of three");
    CHECK_NEAR(made.independent, 100, 0, "50 of each live point");
    made = channel_signature_make(points, 1);
    CHECK(isnan(made.range));
    made = channel_signature_make(points, 0);
    CHECK(isnan(made.level) && isnan(made.constant) && isnan(made.deviation));
}

static void late_channels_are_told_by_significance(void)
{
    struct channel_lag lag = {0.5, 0.6, 0.1, 200};
    CHECK(channel_is_late(&lag));
    lag.lag = -0.5;
    CHECK(channel_is_late(&lag));
    lag.lag = 0.2;
    CHECK(!channel_is_late(&lag));
    lag = (struct channel_lag){0.5, 0.6, 0.55, 200}; /* the correlation at lag 0 is as good */
    CHECK(!channel_is_late(&lag));
    lag = (struct channel_lag){0.5, 0.3, 0, 200}; /* 4.3 standard deviations */
    CHECK(!channel_is_late(&lag));
    lag = (struct channel_lag){0.5, -0.6, -0.1, 200}; /* a load that falls when q rises */
    CHECK(channel_is_late(&lag));
    lag = (struct channel_lag){0.5, 1, 0, 4};
    CHECK(!channel_is_late(&lag));
    lag = (struct channel_lag){none, none, none, none};
    CHECK(!channel_is_late(&lag));
}

static void when_all_loads_are_early_the_wind_is_late(void)
{
    struct channel_lag loads[6];
    double lag = 0;
    for (int i = 0; i < 6; i++)
        loads[i] = (struct channel_lag){-0.5 - 0.01 * i, 0.6, 0.1, 200};
    CHECK(wind_is_late(loads, 6, &lag));
    CHECK_NEAR(lag, 0.5, 1e-12, "turned round");
    loads[3].correlation = 0.05; /* a load that hardly follows the wind does not vote */
    loads[4].correlation = 0.05;
    CHECK(wind_is_late(loads, 6, &lag));
    loads[5].correlation = 0.05;
    loads[2].lag = 0;
    CHECK(!wind_is_late(loads, 6, &lag)); /* two of six: those two are early */
    CHECK(!wind_is_late(loads, 0, &lag));
}

CU_TestInfo channel_history_tests[] = {
    {"a usual run is usual", a_usual_run_is_usual},
    {"noise is told from calm", noise_is_told_from_calm},
    {"three others are no history", three_others_are_no_history},
    {"one bad run among the others hides nothing", one_bad_run_among_the_others_hides_nothing},
    {"constant here and alive elsewhere", constant_here_and_alive_elsewhere},
    {"one living run tells of a load that died", one_living_run_tells_of_a_load_that_died},
    {"a lag before the logger is slow not quiet", a_lag_before_the_logger_is_slow_not_quiet},
    {"trade factors are named", trade_factors_are_named},
    {"temperatures slip by their origin", temperatures_slip_by_their_origin},
    {"a sign turned round is a slip without units", a_sign_turned_round_is_a_slip_without_units},
    {"a level near zero is told by the range too", a_level_near_zero_is_told_by_the_range_too},
    {"about zero the range and the noise tell", about_zero_the_range_and_the_noise_tell},
    {"a level without a reason is asked about when far",
     a_level_without_a_reason_is_asked_about_when_far},
    {"a slip is told in the declared unit", a_slip_is_told_in_the_declared_unit},
    {"slips are one of a kind", slips_are_one_of_a_kind},
    {"two channels that look like each other are swapped",
     two_channels_that_look_like_each_other_are_swapped},
    {"a channel without a history is not swapped", a_channel_without_a_history_is_not_swapped},
    {"a signature is made of medians", a_signature_is_made_of_medians},
    {"late channels are told by significance", late_channels_are_told_by_significance},
    {"when all loads are early the wind is late", when_all_loads_are_early_the_wind_is_late},
    CU_TEST_INFO_NULL,
};
