/* test_hold_watch.c - what hold: blank and hold: repeat do to the statistics; counts by hand. */
#include "ingest/hold_watch.h"

#include <CUnit/CUnit.h>
#include <math.h>

#include "tests/check.h"

static struct hold_watch watch_of(enum map_hold hold)
{
    struct hold_watch watch;
    struct fault fault = {.status = OK};
    CHECK_OK(hold_watch_make(&watch, 2, &fault), &fault);
    hold_watch_declare(&watch, 1, hold);
    return watch;
}

/* Takes a point's values of channel 1; 'b' of a text stands for blank, 'n' for missing, digits for
 * themselves. The statistics come as they are without a hold: every row counts. */
static struct channel_statistics point(struct hold_watch *watch, const char *rows,
                                       double n_effective)
{
    struct channel_statistics statistics[2] = {{0}};
    struct fault fault = {.status = OK};
    for (const char *c = rows; *c != '\0'; c++) {
        int is_digit = *c >= '0' && *c <= '9';
        if (*c == 'b')
            hold_watch_blank(watch, 1);
        else
            CHECK_OK(hold_watch_take(watch, 1, is_digit ? *c - '0' : (double)NAN, &fault), &fault);
        statistics[1].n += is_digit;
        statistics[1].n_missing += !is_digit;
    }
    statistics[0].n_missing = 7;
    statistics[1].n_effective = n_effective;
    statistics[1].stuck = 99;
    hold_watch_finish(watch, statistics);
    CHECK(statistics[0].n_missing == 7); /* a channel without a hold */
    return statistics[1];
}

static void a_blank_is_no_sample_and_not_missing(void)
{
    struct hold_watch watch = watch_of(HOLD_BLANK);
    struct channel_statistics s = point(&watch, "1bb1bnb2b2b2b", 5);
    CHECK(s.n == 5 && s.n_missing == 1);
    CHECK(s.stuck == 3 && s.n_effective == 5);
    CHECK(s.repeated == 1); /* 1 and 1, outside the run of 2 */
    s = point(&watch, "bbb", (double)NAN);
    CHECK(s.n == 0 && s.n_missing == 0 && s.stuck == 0);
    s = point(&watch, "1n1", 2);
    CHECK(s.stuck == 1 && s.n_missing == 1); /* blanks of one point do not reach another */
    hold_watch_free(&watch);
}

static void a_repeat_is_worth_its_changes_and_one(void)
{
    struct hold_watch watch = watch_of(HOLD_REPEAT);
    CHECK(point(&watch, "111222333", 8).n_effective == 3);
    CHECK(point(&watch, "1112223", 2.5).n_effective == 2.5);
    CHECK(point(&watch, "1111", 4).n_effective == 1);
    CHECK(point(&watch, "11nn11", 4).n_effective == 1);
    CHECK(point(&watch, "11nn22", 4).n_effective == 2);
    CHECK(isnan(point(&watch, "1122", (double)NAN).n_effective));
    hold_watch_free(&watch);
}

/* Ends the log of these points, whose longest runs are given in rows, and gives what becomes of them. */
static void finish(struct hold_watch *watch, double *stuck, size_t n)
{
    struct channel_statistics statistics[4][2] = {{{0}}};
    struct log_point points[4] = {{0}};
    const struct log_record record = {.points = points, .n_points = n};
    for (size_t i = 0; i < n; i++) {
        /* cppcheck-suppress unreadVariable; read through a pointer */
        points[i].statistics = statistics[i];
        statistics[i][0].stuck = 5;
        statistics[i][1].stuck = stuck[i];
    }
    hold_watch_finish_log(watch, &record);
    for (size_t i = 0; i < n; i++) {
        stuck[i] = statistics[i][1].stuck;
        CHECK(statistics[i][0].stuck == 5);
    }
    hold_watch_free(watch);
}

static void the_longest_run_is_counted_in_usual_holds(void)
{
    struct hold_watch watch = watch_of(HOLD_REPEAT);
    double stuck[4];
    /* whole runs: 3 3, none, 3 2 3, none; the others are cut by an end or by a missing sample */
    stuck[0] = point(&watch, "1222333444444", 9).stuck;
    stuck[1] = point(&watch, "11111111112", 9).stuck;
    stuck[2] = point(&watch, "4555667778", 9).stuck;
    stuck[3] = point(&watch, "1222nn33344", 9).stuck;
    CHECK(stuck[0] == 6 && stuck[1] == 10 && stuck[2] == 3 && stuck[3] == 3);
    finish(&watch, stuck, 4);
    CHECK_NEAR(stuck[0], 2, 0, "identity: 6 / 3");
    CHECK_NEAR(stuck[1], 10.0 / 3, 0, "identity");
    CHECK_NEAR(stuck[2], 1, 0, "identity");
    CHECK_NEAR(stuck[3], 1, 0, "identity");
}

static void without_a_whole_run_the_longest_one_is_usual(void)
{
    struct hold_watch watch = watch_of(HOLD_REPEAT);
    double stuck[2];
    stuck[0] = point(&watch, "1111222222", 9).stuck;
    stuck[1] = point(&watch, "333", 9).stuck;
    finish(&watch, stuck, 2);
    CHECK_NEAR(stuck[0], 1, 0, "identity: 6 / 6");
    CHECK_NEAR(stuck[1], 0.5, 0, "identity: 3 / 6");
    watch = watch_of(HOLD_REPEAT);
    stuck[0] = point(&watch, "11111111", 9).stuck;
    stuck[1] = point(&watch, "22", 9).stuck; /* it changes between the points only */
    finish(&watch, stuck, 2);
    CHECK_NEAR(stuck[0], 1, 0, "identity: 8 / 8");
    CHECK_NEAR(stuck[1], 0.25, 0, "identity: 2 / 8");
    watch = watch_of(HOLD_REPEAT);
    stuck[0] = point(&watch, "1111", 9).stuck;
    stuck[1] = point(&watch, "n11", 9).stuck;
    finish(&watch, stuck, 2);
    CHECK_NEAR(stuck[0], 4, 0, "it never changes: nothing is known of its hold");
    CHECK_NEAR(stuck[1], 2, 0, "the same");
}

/* What the rule for stuck channels is told: 12 rows in holds of 3, one of which is a repeated value. */
static void repeats_are_counted_in_holds(void)
{
    struct hold_watch watch = watch_of(HOLD_REPEAT);
    struct channel_statistics statistics[2][2] = {{{0}}};
    struct log_point points[2] = {{.statistics = statistics[0]}, {.statistics = statistics[1]}};
    const struct log_record record = {.points = points, .n_points = 2};
    statistics[0][1] = point(&watch, "111222333444555666666", 9);
    statistics[0][1].repeated = 10; /* in rows: 15 rows in 5 runs */
    statistics[1][1] = point(&watch, "111222222333444444444", 9);
    statistics[1][1].repeated = 9; /* 12 rows in 3 runs, a repeat among them */
    hold_watch_finish_log(&watch, &record);
    CHECK_NEAR(statistics[0][1].stuck, 2, 0, "identity: 6 / 3");
    CHECK_NEAR(statistics[0][1].repeated, 2, 0, "identity: 3 (0 + 1) - 1");
    CHECK_NEAR(statistics[1][1].stuck, 3, 0, "identity: 9 / 3");
    CHECK_NEAR(statistics[1][1].repeated, 5, 0, "identity: 3 (4 - 3 + 1) - 1");
    hold_watch_free(&watch);
}

static void more_runs_than_are_kept(void)
{
    struct hold_watch watch = watch_of(HOLD_REPEAT);
    struct channel_statistics statistics[2] = {{0}};
    struct fault fault = {.status = OK};
    double stuck[1] = {4};
    for (size_t run = 0; run < HOLD_RUNS_MAX + 10; run++)
        for (int row = 0; row < 2; row++)
            CHECK_OK(hold_watch_take(&watch, 1, (double)(run % 2), &fault), &fault);
    hold_watch_finish(&watch, statistics);
    finish(&watch, stuck, 1);
    CHECK_NEAR(stuck[0], 2, 0, "identity: 4 / 2");
}

CU_TestInfo hold_watch_tests[] = {
    {"a blank is no sample and not missing", a_blank_is_no_sample_and_not_missing},
    {"a repeat is worth its changes and one", a_repeat_is_worth_its_changes_and_one},
    {"the longest run is counted in usual holds", the_longest_run_is_counted_in_usual_holds},
    {"without a whole run the longest one is usual", without_a_whole_run_the_longest_one_is_usual},
    {"repeats are counted in holds", repeats_are_counted_in_holds},
    {"more runs than are kept", more_runs_than_are_kept},
    CU_TEST_INFO_NULL};
