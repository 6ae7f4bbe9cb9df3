/* test_tap_zero.c - wind-off readings of taps: missing ones, one of two, and absolute scanners. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>

#include "reduce/pipeline.h"
#include "schema/point_statistics.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

enum { STATIC = 7, T1 = 13 };

static const size_t mean = offsetof(struct channel_statistics, mean);

/* The run r1 at 50 s between the zeros z1 and z2, whose taps read 10 and 30 Pa; T1 is at -1500 Pa. */
static void open_night(struct night_fixture *fixture)
{
    fixture_open(fixture);
    fixture->targets[0].weight = 0;
    fixture->targets[1].weight = 0;
    fixture_add_zero(fixture, "z1", 0, 0);
    fixture_add_wind(fixture, "r1", "base", 50, 3);
    fixture_add_zero(fixture, "z2", 100, 0);
    for (int tap = T1; tap < T1 + FIXTURE_TAPS; tap++) {
        fixture_set_statistic(fixture, "z1", tap, mean, 10);
        fixture_set_statistic(fixture, "z2", tap, mean, 30);
    }
}

static void reduce(struct night_fixture *fixture)
{
    struct fault fault;
    struct reduce_summary summary;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
}

static double dynamic_pressure(void)
{
    return 0.7 * 101325 * 5 * (pow(1 + 3000.0 / 101325, 2.0 / 7) - 1);
}

static double raw(struct night_fixture *fixture)
{
    return fixture_number(fixture, "SELECT cp_raw FROM tap_coefficient WHERE tap = 'T1'");
}

static const char *state(struct night_fixture *fixture)
{
    return fixture_text(fixture, "SELECT state FROM tap_coefficient WHERE tap = 'T1'");
}

static const char *flags(struct night_fixture *fixture)
{
    return fixture_text(fixture,
                        "SELECT group_concat(rule || ' ' || state || ' ' || subject, ', ') FROM "
                        "(SELECT * FROM flag WHERE run = 'r1' ORDER BY rule)");
}

static void a_tap_without_a_value_in_both_zeros_fails(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    fixture_set_statistic(&fixture, "z1", T1, mean, (double)NAN);
    fixture_set_statistic(&fixture, "z2", T1, mean, (double)NAN);
    reduce(&fixture);
    CHECK_TEXT(state(&fixture), "failed");
    CHECK(isnan(raw(&fixture)));
    CHECK_TEXT(flags(&fixture), "tap-zero-silent failed T1");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE run = 'r1'"),
                   "at 1 of 1 points");
    CHECK_TEXT(fixture_text(&fixture, "SELECT state FROM tap_coefficient WHERE tap = 'T2'"), "ok");
    fixture_close(&fixture);
}

static void a_held_zero_without_a_value_fails(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    fixture_set_statistic(&fixture, "z1", T1, mean, (double)NAN);
    fixture_execute(&fixture, "UPDATE run SET zero = 'z1' WHERE run = 'r1'");
    reduce(&fixture);
    CHECK_TEXT(state(&fixture), "failed");
    fixture_close(&fixture);
}

static void one_value_of_two_is_held_and_flagged(void)
{
    static const char *const silent[] = {"z1", "z2"};
    static const double zero[] = {30, 10};
    for (int i = 0; i < 4; i++) {
        struct night_fixture fixture;
        char sql[128];
        open_night(&fixture);
        if (i < 2)
            fixture_set_statistic(&fixture, silent[i % 2], T1, mean, (double)NAN);
        (void)snprintf(sql, sizeof sql,
                       "UPDATE channel SET role = 'belt_speed', tap = NULL WHERE run = '%s' AND "
                       "position = %d",
                       silent[i % 2], (int)T1);
        if (i >= 2) /* not logged there at all */
            fixture_execute(&fixture, sql);
        reduce(&fixture);
        CHECK_TEXT(state(&fixture), "ok");
        CHECK_NEAR(raw(&fixture), (-1500 - zero[i % 2]) / dynamic_pressure(), 1e-12,
                   "identity: the other zero alone");
        CHECK_TEXT(flags(&fixture), "tap-zero-held flagged taps");
        CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE run = 'r1'"),
                       "1 of 2 taps, the first is T1");
        fixture_close(&fixture);
    }
}

static void taps_that_no_zero_logs_are_taken_as_they_are(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    fixture_execute(&fixture, "UPDATE channel SET role = 'belt_speed', tap = NULL WHERE run <> "
                              "'r1' AND role = 'tap'");
    reduce(&fixture);
    CHECK_TEXT(state(&fixture), "ok");
    CHECK_NEAR(raw(&fixture), -1500 / dynamic_pressure(), 1e-12, "identity: no zero");
    CHECK_TEXT(flags(&fixture), "tap-zero-missing info taps");
    fixture_close(&fixture);
}

/* The same taps read by an absolute scanner: the barometer is in all readings. */
static void make_absolute(struct night_fixture *fixture, struct channel_map *map)
{
    static char name[] = "forces";
    *map = (struct channel_map){.name = name, .has_taps = 1, .taps_measured = TAPS_ABSOLUTE};
    fixture->campaign.maps = map;
    fixture->campaign.n_maps = 1;
    for (int tap = T1; tap < T1 + FIXTURE_TAPS; tap++) {
        fixture_set_statistic(fixture, "z1", tap, mean, 101325 + 10);
        fixture_set_statistic(fixture, "z2", tap, mean, 101325 + 30);
        fixture_set_statistic(fixture, "r1", tap, mean, 101325 - 1500);
    }
}

static void an_absolute_tap_knows_static_no_better_than_it_is_measured(void)
{
    struct night_fixture fixture;
    struct channel_map map;
    open_night(&fixture);
    make_absolute(&fixture, &map);
    fixture_set_statistic(&fixture, "r1", STATIC, offsetof(struct channel_statistics, sd), 40);
    reduce(&fixture);
    double q = dynamic_pressure();
    double cp = (-1500 - 20) / q;
    CHECK_TEXT(state(&fixture), "ok");
    CHECK_NEAR(raw(&fixture), cp, 1e-12, "identity: half way between 10 and 30 Pa");
    /* 100 effective samples: tap 5 Pa, static 40 Pa, p0 - p one part in 1000. */
    CHECK_NEAR(fixture_number(&fixture, "SELECT cp_u FROM tap_coefficient WHERE tap = 'T1'"),
               sqrt(pow(0.5 / q, 2) + pow(4 / q, 2) + pow(cp * 1e-4, 2)), 1e-12,
               "identity: tap, static and wind in quadrature");
    fixture_close(&fixture);
}

static void an_absolute_zero_without_static_pressure_fails(void)
{
    struct night_fixture fixture;
    struct channel_map map;
    open_night(&fixture);
    make_absolute(&fixture, &map);
    fixture_set_statistic(&fixture, "z1", STATIC, mean, (double)NAN);
    reduce(&fixture);
    CHECK_TEXT(flags(&fixture), "tap-zero-held flagged taps");
    fixture_set_statistic(&fixture, "z2", STATIC, mean, (double)NAN);
    fixture_execute(&fixture, "UPDATE run SET ingest_key = 'again' WHERE run = 'r1'");
    reduce(&fixture);
    CHECK_TEXT(state(&fixture), "failed");
    CHECK_TEXT(flags(&fixture), "tap-zero-silent failed T1, tap-zero-silent failed T2");
    /* p = p0 - (p0 - p) where it was not measured itself */
    fixture_execute(&fixture, "UPDATE channel SET role = 'total_pressure' WHERE run <> 'r1' AND "
                              "role = 'relative_humidity'");
    static const char *const zeros[] = {"z1", "z2"};
    for (int i = 0; i < 2; i++) {
        fixture_set_statistic(&fixture, zeros[i], 9, mean, 101325 + 3);
        fixture_set_statistic(&fixture, zeros[i], 6, mean, 3);
    }
    fixture_execute(&fixture, "UPDATE run SET ingest_key = 'once more' WHERE run = 'r1'");
    reduce(&fixture);
    CHECK_NEAR(raw(&fixture), (-1500 - 20) / dynamic_pressure(), 1e-12, "identity: p0 - (p0 - p)");
    fixture_close(&fixture);
}

extern CU_TestInfo tap_zero_tests[];
CU_TestInfo tap_zero_tests[] = {
    {"a tap without a value in both zeros fails", a_tap_without_a_value_in_both_zeros_fails},
    {"a held zero without a value fails", a_held_zero_without_a_value_fails},
    {"one value of two is held and flagged", one_value_of_two_is_held_and_flagged},
    {"taps that no zero logs are taken as they are", taps_that_no_zero_logs_are_taken_as_they_are},
    {"an absolute tap knows static no better than it is measured",
     an_absolute_tap_knows_static_no_better_than_it_is_measured},
    {"an absolute zero without static pressure fails",
     an_absolute_zero_without_static_pressure_fails},
    CU_TEST_INFO_NULL};
