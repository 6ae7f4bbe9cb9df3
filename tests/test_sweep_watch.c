/* test_sweep_watch.c - which rows of known series belong to a point by attained attitude. Windows of 1 and
 * times that are binary fractions, so that every count follows from the rule by hand. */
#include "ingest/sweep_watch.h"

#include <CUnit/CUnit.h>
#include <math.h>

#include "tests/check.h"

enum { STAYS_MAX = 16 };

/* Rows that belong, stay by stay. */
struct told {
    size_t points;
    size_t rows[STAYS_MAX];
    double window[STAYS_MAX];
    size_t stay[STAYS_MAX];
    size_t outside;
};

static void tell(struct told *told, const struct sweep_watch *watch, int belongs)
{
    size_t last = told->points - 1;
    told->outside += !belongs;
    if (!belongs)
        return;
    if (told->points == 0 || told->stay[last] != watch->stay) {
        CU_ASSERT_FATAL(told->points < STAYS_MAX);
        last = told->points++;
        told->stay[last] = watch->stay;
        told->window[last] = watch->window;
    }
    told->rows[last]++;
}

/* A series at 128 Hz over so many seconds. */
static struct told run(double (*series)(double time), double seconds, double settle)
{
    struct sweep_watch watch = sweep_watch_for(1, settle);
    struct told told = {0};
    for (int i = 0; i <= 128 * seconds; i++)
        tell(&told, &watch, sweep_watch_take(&watch, series(i / 128.0), i / 128.0));
    return told;
}

static double triangle(double time)
{
    return time < 4 ? time : 8 - time;
}

/* Window k is passed in 1 s: 128 rows, the first 64 of which settle. Window 4 holds the turn, from 3.5 s to
 * 4.5 s, both ends in it; window 0 is left, and entered, too late for any row. */
static void a_slow_triangle_gives_a_point_a_window_and_a_way(void)
{
    static const double windows[] = {1, 2, 3, 4, 3, 2, 1};
    struct told told = run(triangle, 8, 0.5);
    CHECK(told.points == 7);
    for (size_t i = 0; i < 7; i++) {
        CHECK(told.window[i] == windows[i]);
        CHECK(told.rows[i] == (i == 3 ? 65U : 64U));
    }
    CHECK(told.outside == 1025 - (6 * 64 + 65));
}

static double fast_triangle(double time)
{
    return triangle(4 * time);
}

static void too_fast_a_sweep_gives_none(void)
{
    struct told told = run(fast_triangle, 2, 0.5);
    CHECK(told.points == 0 && told.outside == 257);
    struct sweep_watch watch = sweep_watch_for(1, 0.5);
    for (int i = 0; i <= 2 * 128; i++)
        (void)sweep_watch_take(&watch, fast_triangle(i / 128.0), i / 128.0);
    CHECK_NEAR(watch.longest, 0.25, 0, "identity: the turn, 4 - 0.5 and back at 4 a second");
}

/* Held for 1 s, moved on within 1/4 s by 3: the windows between are passed in 1/12 s. */
static double steps(double time)
{
    double n = floor(time / 1.25);
    double within = time - 1.25 * n;
    return 3 * n + (within < 1 ? 0 : 12 * (within - 1));
}

static void step_and_hold_gives_a_point_a_hold(void)
{
    struct told told = run(steps, 4, 0.5);
    CHECK(told.points == 3);
    for (size_t i = 0; i < 3; i++)
        CHECK_NEAR(told.window[i], 3 * (double)i, 0, "identity");
    /* From 0 to the last row below 0.5: t <= 1 + 5/128, so 134 rows less 64. */
    CHECK(told.rows[0] == 70);
    /* Entered while moving, at 2.5 of 3: t >= 1 + 27/128; 1.25 + 1 + 5/128 is the last one. */
    CHECK(told.rows[1] == (288 + 5) - (128 + 27) + 1 - 64);
}

/* Noise of 0.01 about the edge between windows 0 and 1. */
static double at_an_edge(double time)
{
    return 0.5 + (fmod(time * 128, 2) < 1 ? 0.01 : -0.01);
}

static double in_the_middle(double time)
{
    return 0.5 + at_an_edge(time);
}

static void noise_at_an_edge_settles_nowhere(void)
{
    struct told edge = run(at_an_edge, 4, 0.5);
    struct told middle = run(in_the_middle, 4, 0.5);
    CHECK(edge.points == 0 && edge.outside == 513);
    CHECK(middle.points == 1 && middle.outside == 64);
}

static double one_hop(double time)
{
    return time == 2 ? 0.51 : 0.49;
}

static void one_hop_parts_two_points(void)
{
    struct told told = run(one_hop, 4, 0.5);
    CHECK(told.points == 2);
    CHECK(told.rows[0] == 256 - 64 && told.rows[1] == 256 - 64);
}

static void edges_belong_to_the_upper_window(void)
{
    static const struct {
        double coordinate, window;
    } rows[] = {{0.5, 1}, {-0.5, 0}, {-0.51, -1}, {0.49, 0}, {1.5, 2}, {-1.5, -1}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct sweep_watch watch = sweep_watch_for(1, 0);
        CHECK(sweep_watch_take(&watch, rows[i].coordinate, 0) == 1);
        CHECK_NEAR(watch.window, rows[i].window, 0, "identity: (k - 1/2) <= x < (k + 1/2)");
    }
}

static double missing_once(double time)
{
    return time == 2 ? (double)NAN : 0;
}

static void a_missing_coordinate_breaks_the_stay(void)
{
    struct told told = run(missing_once, 4, 0.5);
    CHECK(told.points == 2 && told.window[1] == 0);
    CHECK(told.outside == 64 + 1 + 64);
}

static double nothing(double time)
{
    (void)time;
    return (double)NAN;
}

static void without_settle_every_row_belongs(void)
{
    struct told told = run(steps, 1, 0);
    CHECK(told.outside == 0 && told.points == 1 && told.rows[0] == 129);
    CHECK(run(nothing, 1, 0).points == 0);
}

/* The coordinate in every fourth row; from 2 s to 3 s it stays away. */
static void blanks_keep_the_window_for_as_long_as_settle(void)
{
    struct sweep_watch watch = sweep_watch_for(1, 0.25);
    struct told told = {0};
    for (int row = 0; row < 512; row++) {
        int is_written = row % 4 == 0 && (row <= 256 || row >= 384);
        tell(&told, &watch,
             is_written ? sweep_watch_take(&watch, 0.1, row / 128.0)
                        : sweep_watch_blank(&watch, row / 128.0));
    }
    CHECK(told.points == 2);
    CHECK(told.rows[0] == 256 + 32 + 1 - 32); /* to 2 s and 0.25 s on, less the first 0.25 s */
    CHECK(told.rows[1] == 128 - 32);
    struct sweep_watch none = sweep_watch_for(1, 0.25);
    CHECK(sweep_watch_blank(&none, 0) == 0);
}

/* 0.7 - 0.2 is less than 0.5 by a bit; and a row without time has that of the row before. */
static void times_may_be_decimal_or_missing(void)
{
    struct sweep_watch watch = sweep_watch_for(1, 0.5);
    CHECK(sweep_watch_take(&watch, 0, 0.2) == 0);
    CHECK(sweep_watch_take(&watch, 0, 0.699) == 0);
    CHECK(sweep_watch_take(&watch, 0, 0.7) == 1);
    CHECK(sweep_watch_take(&watch, 0, (double)NAN) == 1);
    struct sweep_watch late = sweep_watch_for(1, 0.5);
    CHECK(sweep_watch_take(&late, 0, (double)NAN) == 0);
    CHECK(sweep_watch_take(&late, 0, 10) == 0);
    CHECK(sweep_watch_take(&late, 0, 10.5) == 1 && late.stay == 1);
}

CU_TestInfo sweep_watch_tests[] = {
    {"a slow triangle gives a point a window and a way",
     a_slow_triangle_gives_a_point_a_window_and_a_way},
    {"too fast a sweep gives none", too_fast_a_sweep_gives_none},
    {"step and hold gives a point a hold", step_and_hold_gives_a_point_a_hold},
    {"noise at an edge settles nowhere", noise_at_an_edge_settles_nowhere},
    {"one hop parts two points", one_hop_parts_two_points},
    {"edges belong to the upper window", edges_belong_to_the_upper_window},
    {"a missing coordinate breaks the stay", a_missing_coordinate_breaks_the_stay},
    {"without settle every row belongs", without_settle_every_row_belongs},
    {"blanks keep the window for as long as settle", blanks_keep_the_window_for_as_long_as_settle},
    {"times may be decimal or missing", times_may_be_decimal_or_missing},
    CU_TEST_INFO_NULL};
