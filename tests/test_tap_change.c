/* test_tap_change.c - which taps changed: mountings as units, and many taps at once. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/statistics/student.h"
#include "reduce/tap_change.h"
#include "tests/check.h"
#include "tests/noise.h"

extern CU_TestInfo tap_change_tests[];

enum { TAPS = 250, CHANGED = 40, RUNS = 11, CONFIGURATIONS = 3, NIGHTS = 300 };

static const char R[] = "R: 2 * pt(-t, df), tests/oracles/distributions.R";

static void probabilities_of_t_are_those_of_r(void)
{
    CHECK_NEAR(student_p(2.5, 4), 0.0667665448119881, 1e-14, R);
    CHECK_NEAR(student_p(-6, 5.5), 0.00132078273353363, 1e-14, R);
    CHECK_NEAR(student_p(1.959963984540054, INFINITY), 0.05, 1e-14, "normal quantile");
    CHECK_NEAR(student_p(0, 3), 1, 0, "identity");
    CHECK(isnan(student_p((double)NAN, 3)) && isnan(student_p(1, 0)) &&
          isnan(student_p(1, (double)NAN)));
}

/* A0 W1 A0 W2 A0 W1 A0 W2 A0 W1 A0: one configuration three times, another twice. */
struct tap_night {
    struct family_run runs[RUNS];
    double time[RUNS];
    double cp[RUNS * TAPS];
    struct map_tap taps[TAPS];
    struct family family;
    struct tap_map map;
};

static const size_t order[RUNS] = {0, 1, 0, 2, 0, 1, 0, 2, 0, 1, 0};

static void make_night(struct tap_night *night)
{
    size_t mounted[CONFIGURATIONS] = {0};
    memset(night, 0, sizeof *night);
    for (size_t i = 0; i < RUNS; i++) {
        night->time[i] = 600.0 * (double)i;
        night->runs[i] = (struct family_run){
            .configuration = order[i], .mounting = ++mounted[order[i]], .time = &night->time[i]};
    }
    night->family.n_configurations = CONFIGURATIONS;
    night->family.runs = night->runs;
    night->family.n_runs = RUNS;
    night->family.n_measures = 1;
    night->map = (struct tap_map){night->taps, TAPS, night->cp, RUNS};
}

/* Invented: neighbours share most of what a mounting does to them (correlation 0.8), all drift alike,
 * and the first taps of configuration 1 change by size standard deviations. */
static void fill_night(struct tap_night *night, double size, uint64_t *state)
{
    for (size_t i = 0; i < RUNS; i++) {
        double *cp = &night->cp[i * TAPS];
        noise_autoregressive(cp, TAPS, 0.8, state);
        for (size_t tap = 0; tap < TAPS; tap++)
            cp[tap] = -1 + 0.004 * (cp[tap] + 0.5 * (double)i +
                                    (order[i] == 1 && tap < CHANGED ? size : 0));
    }
}

static size_t named(const struct tap_changes *changes, size_t configuration, size_t from, size_t to)
{
    size_t n = 0;
    for (size_t tap = from; tap < to; tap++)
        n += changes->changes[configuration * TAPS + tap].q <= 0.05;
    return n;
}

/* Without any change whatever is named is false, so the share of maps that name a tap is to be 5 % at
 * most; of 600 maps, two a night whose baselines are shared, 5 % + 3 sqrt(0.05 0.95 / 300). */
static void a_map_without_a_change_names_no_tap(void)
{
    static struct tap_night night;
    uint64_t state = 20;
    size_t maps = 0;
    make_night(&night);
    for (int i = 0; i < NIGHTS; i++) {
        struct tap_changes changes;
        struct fault fault = {0};
        fill_night(&night, 0, &state);
        CHECK_OK(tap_changes_make(&night.family, 0, &night.map, &changes, &fault), &fault);
        for (size_t c = 1; c < CONFIGURATIONS; c++)
            maps += named(&changes, c, 0, TAPS) > 0;
        tap_changes_end(&changes);
    }
    CHECK((double)maps <= (0.05 + 3 * sqrt(0.05 * 0.95 / NIGHTS)) * 2 * NIGHTS);
    CHECK(maps > 0); /* else it is no test at all */
}

/* Of those named at most 5 % in the mean did not change; 40 of 250 did, by seven deviations. The
 * standard deviation of the share in one map is below 0.1, so its mean is known to 3 * 0.1 / sqrt(300). */
static void few_of_the_named_did_not_change(void)
{
    static struct tap_night night;
    uint64_t state = 21;
    double share = 0, found = 0;
    make_night(&night);
    for (int i = 0; i < NIGHTS; i++) {
        struct tap_changes changes;
        struct fault fault = {0};
        fill_night(&night, 7, &state);
        CHECK_OK(tap_changes_make(&night.family, 0, &night.map, &changes, &fault), &fault);
        size_t right = named(&changes, 1, 0, CHANGED), wrong = named(&changes, 1, CHANGED, TAPS);
        share += right + wrong > 0 ? (double)wrong / (double)(right + wrong) : 0;
        found += (double)right;
        tap_changes_end(&changes);
    }
    CHECK(share / NIGHTS <= 0.05 + 3 * 0.1 / sqrt(NIGHTS));
    CHECK(found / NIGHTS >= 0.8 * CHANGED);
}

static void what_is_not_tested_says_why(void)
{
    static struct tap_night night;
    struct tap_changes changes;
    struct fault fault = {0};
    uint64_t state = 22;
    make_night(&night);
    fill_night(&night, 7, &state);
    for (size_t i = 0; i < RUNS; i++) {
        double *cp = &night.cp[i * TAPS];
        if (order[i] == 1)
            cp[0] = (double)NAN; /* dead in configuration 1 only */
        if (i == 1 || i == 5)
            cp[1] = (double)NAN; /* lives in one mounting of it */
        if (order[i] == 0 && i > 0)
            cp[2] = (double)NAN; /* and in one of the baseline */
        if (order[i] == 0 && i > 2)
            cp[3] = (double)NAN; /* no return behind 2's */
        cp[4] = -0.25;           /* reads the same whatever happens */
    }
    CHECK_OK(tap_changes_make(&night.family, 0, &night.map, &changes, &fault), &fault);
    const struct tap_change *of[] = {&changes.changes[0], &changes.changes[TAPS],
                                     &changes.changes[(size_t)2 * TAPS]};
    CHECK(of[1][0].test == TAP_DEAD && of[2][0].test == TAP_TESTED);
    CHECK(of[1][1].test == TAP_MOUNTED_ONCE && isfinite(of[1][1].delta) && isnan(of[1][1].p));
    CHECK(of[1][2].test == TAP_BASELINE_ONCE && of[2][2].test == TAP_BASELINE_ONCE);
    CHECK(of[2][3].test == TAP_UNBRACKETED && isnan(of[2][3].delta));
    CHECK(of[1][4].test == TAP_NO_SCATTER && of[1][4].delta == 0);
    CHECK(of[0][9].test == TAP_OF_BASELINE && isnan(of[0][9].q));
    size_t tested = 0;
    for (size_t tap = 0; tap < TAPS; tap++) {
        CHECK(isnan(of[1][tap].p) == isnan(of[1][tap].q));
        CHECK((of[1][tap].test == TAP_TESTED) == isfinite(of[1][tap].p));
        tested += isfinite(of[1][tap].p);
    }
    CHECK(tested == TAPS - 5); /* 3: mounted once between returns */
    double largest = 0, of_largest = 0;
    for (size_t tap = 0; tap < TAPS; tap++)
        if (of[1][tap].p > largest) {
            largest = of[1][tap].p;
            of_largest = of[1][tap].q;
        }
    CHECK_NEAR(of_largest, largest, 1e-15, "identity: the largest p is adjusted by n/n");
    CHECK_CONTAINS(tap_test_reason(TAP_MOUNTED_ONCE), "mounted once");
    CHECK(tap_test_reason(TAP_TESTED)[0] == '\0');
    tap_changes_end(&changes);
}

CU_TestInfo tap_change_tests[] = {
    {"probabilities of t are those of R", probabilities_of_t_are_those_of_r},
    {"a map without a change names no tap", a_map_without_a_change_names_no_tap},
    {"few of the named did not change", few_of_the_named_did_not_change},
    {"what is not tested says why", what_is_not_tested_says_why},
    CU_TEST_INFO_NULL};
