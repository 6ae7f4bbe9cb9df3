/* test_channel_profile.c - columns that stand in each other's place. Every number is invented. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/statistics/channel_profile.h"
#include "tests/check.h"

enum { RUNS = 6, POINTS = 5 };

/* Runs about base, each off as a whole by shift and point by point by scatter, all fixed. */
static struct channel_profile profile_about(const double base[POINTS], double shift, double scatter)
{
    static const double of_run[RUNS] = {-1, 1, -0.5, 0.5, 0.2, -0.2};
    static const double of_point[POINTS] = {1, -1, 0, -1, 1};
    double means[RUNS][POINTS];
    double work[RUNS];
    struct profile_run runs[RUNS];
    for (int j = 0; j < RUNS; j++) {
        for (int k = 0; k < POINTS; k++)
            means[j][k] = base[k] + shift * of_run[j] + scatter * of_point[(j + k) % POINTS];
        runs[j] = (struct profile_run){means[j], 1};
    }
    return channel_profile_make(runs, RUNS, POINTS, 1e-6, work);
}

static void the_profile_is_that_of_the_other_runs(void)
{
    const double base[POINTS] = {10, 20, 30, 40, 50};
    struct channel_profile profile = profile_about(base, 2, 0);
    for (int k = 0; k < POINTS; k++)
        CHECK_NEAR(profile.usual[k], base[k], 1e-12, "identity: the shifts' median is 0");
    /* distances of the shifts from 0: 2 2 1 1 0.4 0.4 */
    CHECK_NEAR(profile.run_scale, 1.4826 * 1, 1e-12, "identity: scaled median absolute deviation");
    CHECK_NEAR(profile.point_scale, 1e-6, 0, "identity: no scatter, so the least");
    CHECK_NEAR(profile.noise, 0, 0, "identity: ln 1");
    CHECK_NEAR(profile.freedom, 5, 0, "identity: six runs");
}

static void surprise_is_counted_in_students_logarithm(void)
{
    const double base[POINTS] = {10, 20, 30, 40, 50};
    double means[POINTS] = {10, 20, 30, 40, 50};
    struct channel_profile profile = profile_about(base, 2, 0);
    profile.point_scale = 1;
    struct profile_run run = {means, 1};
    CHECK_NEAR(channel_profile_surprise(&profile, &run, HUGE_VAL), 0, 0, "identity");
    means[1] = 23; /* the run's median distance stays 0 */
    CHECK_NEAR(channel_profile_surprise(&profile, &run, HUGE_VAL), 3 * log1p(9.0 / 5), 1e-12,
               "(f + 1)/2 ln(1 + d^2/f), f 5, d 3");
    /* cppcheck-suppress [redundantAssignment,unreadVariable]; read through a pointer */
    means[1] = (double)NAN;
    CHECK_NEAR(channel_profile_surprise(&profile, &run, HUGE_VAL), 0, 0, "a point it lacks");
    run.deviation = exp(0.2);
    CHECK_NEAR(channel_profile_surprise(&profile, &run, HUGE_VAL), 3 * log1p(4.0 / 5), 1e-12,
               "0.2 of a scale that is 0.1 at least");
    profile.run_scale = 0;
    CHECK(isnan(channel_profile_surprise(&profile, &run, HUGE_VAL)));
}

/* Two taps that read the same but in the last two points, mirrored. */
static int mirrored(double exchanged_by, double *gain)
{
    const double left[POINTS] = {10, 20, 30, 45, 58};
    const double right[POINTS] = {10, 20, 30, 35, 42};
    const struct channel_profile profile[2] = {profile_about(left, 2, 1),
                                               profile_about(right, 2, 1)};
    double read[2][POINTS];
    struct profile_column column[2];
    for (int k = 0; k < POINTS; k++) {
        read[0][k] = left[k] + exchanged_by * (right[k] - left[k]);
        read[1][k] = right[k] + exchanged_by * (left[k] - right[k]);
    }
    for (int i = 0; i < 2; i++) {
        struct profile_run run = {read[i], 1};
        column[i].own = &profile[i];
        column[i].surprise = channel_profile_surprise(&profile[i], &run, HUGE_VAL);
        column[i].exchanged = run; /* the same unit */
    }
    return columns_exchanged(&column[0], &column[1], gain);
}

static void mirrored_taps_are_told_by_the_yawed_points(void)
{
    double gain = 0;
    CHECK(mirrored(0, &gain) == 0);
    CHECK(mirrored(0.5, &gain) == 0);
    CHECK(mirrored(1, &gain) == 1);
    CHECK(gain >= 20);
}

/* One column off, the other as it should be: nothing was exchanged. */
static void one_bad_column_is_no_exchange(void)
{
    const double low[POINTS] = {10, 11, 12, 13, 14};
    const double high[POINTS] = {90, 81, 72, 63, 54};
    const struct channel_profile profile[2] = {profile_about(low, 2, 1), profile_about(high, 2, 1)};
    const struct profile_run run = {high, 1};
    struct profile_column column[2];
    for (int i = 0; i < 2; i++)
        column[i] = (struct profile_column){
            &profile[i], channel_profile_surprise(&profile[i], &run, HUGE_VAL), run};
    CHECK(columns_exchanged(&column[0], &column[1], NULL) == 0);
}

static void too_few_runs_say_nothing(void)
{
    const double base[POINTS] = {1, 2, 3, 4, 5};
    const struct profile_run runs[3] = {{base, 1}, {base, 1}, {base, 1}};
    double work[POINTS];
    struct channel_profile profile = channel_profile_make(runs, 3, POINTS, 1e-3, work);
    CHECK(isnan(channel_profile_surprise(&profile, &runs[0], HUGE_VAL)));
    const struct profile_column column = {&profile, (double)NAN, runs[0]};
    CHECK(columns_exchanged(&column, &column, NULL) == 0);
}

CU_TestInfo channel_profile_tests[] = {
    {"the profile is that of the other runs", the_profile_is_that_of_the_other_runs},
    {"surprise is counted in Student's logarithm", surprise_is_counted_in_students_logarithm},
    {"mirrored taps are told by the yawed points", mirrored_taps_are_told_by_the_yawed_points},
    {"one bad column is no exchange", one_bad_column_is_no_exchange},
    {"too few runs say nothing", too_few_runs_say_nothing},
    CU_TEST_INFO_NULL};
