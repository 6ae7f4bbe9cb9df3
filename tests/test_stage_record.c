/* test_stage_record.c - what the record stage says of one run by itself, and what it does to points. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>

#include "tests/check.h"
#include "tests/record_night.h"

static void a_clean_run_raises_nothing(void)
{
    struct night_fixture fixture;
    record_night_open(&fixture, 6);
    struct reduce_summary summary = record_night_reduce(&fixture);
    CHECK(summary.entries_judged == 1);
    CHECK_TEXT(record_night_flags(&fixture), "");
    summary = record_night_reduce(&fixture);
    CHECK(summary.entries_judged == 0);
    fixture.campaign.limits.trend = 0.4;
    summary = record_night_reduce(&fixture);
    CHECK(summary.entries_judged == 1);
    fixture_close(&fixture);
}

static void a_stuck_load_fails_its_point_and_keeps_its_number(void)
{
    struct night_fixture fixture;
    record_night_open(&fixture, 3);
    record_night_set(&fixture, "P2", LIFT_OUTPUT, FIELD(stuck), 40);
    (void)record_night_reduce(&fixture);
    CHECK_TEXT(record_night_flags(&fixture), "c2 stuck failed");
    CHECK_TEXT(fixture_text(&fixture, "SELECT point FROM flag"), "P2");
    CHECK_TEXT(fixture_text(&fixture, "SELECT group_concat(state) FROM (SELECT * FROM "
                                      "point_coefficient ORDER BY point)"),
               "ok,failed,ok");
    CHECK_NEAR(fixture_number(&fixture, "SELECT downforce_coefficient FROM point_coefficient WHERE "
                                        "point = 'P2'"),
               3, 1e-12, "the fixture's own downforce");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM point_coefficient WHERE "
                                        "target_is_used = 1"),
               2, 0, "the others are compared");
    CHECK(isnan(fixture_number(&fixture, "SELECT effect_counts FROM flag")));
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag"), "effect on CL not known");
    fixture_close(&fixture);
}

static void a_short_run_of_one_value_is_flagged_and_compared(void)
{
    struct night_fixture fixture;
    record_night_open(&fixture, 3);
    record_night_set(&fixture, "P2", LIFT_OUTPUT, FIELD(stuck), 10); /* 1 % of its samples */
    (void)record_night_reduce(&fixture);
    CHECK_TEXT(record_night_flags(&fixture), "c2 stuck flagged");
    CHECK_TEXT(fixture_text(&fixture, "SELECT state FROM point_coefficient WHERE point = 'P2'"),
               "flagged");
    fixture_close(&fixture);
}

static void a_clipped_attitude_of_a_target_fails_its_point(void)
{
    struct night_fixture fixture;
    record_night_open(&fixture, 2);
    record_night_set(&fixture, "P1", FRONT, FIELD(clipped), 6); /* 0.6 % */
    (void)record_night_reduce(&fixture);
    CHECK_TEXT(record_night_flags(&fixture), "c10 clipped failed");
    CHECK_NEAR(fixture_number(&fixture, "SELECT limit_value FROM flag"), 0.005, 0,
               "record_rules.h");
    fixture_close(&fixture);
    record_night_open(&fixture, 2);
    record_night_set(&fixture, "P1", HUMIDITY, FIELD(clipped), 6); /* no coefficient rests on it */
    (void)record_night_reduce(&fixture);
    CHECK_TEXT(record_night_flags(&fixture), "c9 clipped flagged");
    CHECK_TEXT(fixture_text(&fixture, "SELECT state FROM point_coefficient WHERE point = 'P1'"),
               "ok");
    fixture_close(&fixture);
}

static void a_channel_that_dies_within_a_run_is_stuck_at_those_points(void)
{
    struct night_fixture fixture;
    record_night_open(&fixture, 10);
    for (int i = 1; i <= 4; i++) {
        char point[16];
        (void)snprintf(point, sizeof point, "P%d", i);
        record_night_set(&fixture, point, DRAG_OUTPUT, FIELD(stuck), 1000);
        record_night_set(&fixture, point, DRAG_OUTPUT, FIELD(sd), 0);
        record_night_set(&fixture, point, FRONT, FIELD(stuck),
                         1000); /* a height that is held now and then */
        record_night_set(&fixture, point, FRONT, FIELD(sd), 0);
    }
    (void)record_night_reduce(&fixture);
    CHECK_TEXT(record_night_flags(&fixture), "c0 stuck failed");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag"),
                   "points P1, P2, P3 and P4 of 10: 'c0' repeats one value for 1000 of 1000 "
                   "samples, chance allows 3, at point P1");
    CHECK_TEXT(fixture_text(&fixture, "SELECT point FROM flag"), "");
    fixture_close(&fixture);
}

static void spikes_are_told_with_both_means_and_their_effect(void)
{
    struct night_fixture fixture;
    record_night_open(&fixture, 2);
    double force = 3 * record_night_dynamic_pressure() * 2 / 1000;
    record_night_set(&fixture, "P1", LIFT_OUTPUT, FIELD(spiked), 2);
    record_night_set(&fixture, "P1", LIFT_OUTPUT, FIELD(mean_without_spikes), -force * 1.001);
    (void)record_night_reduce(&fixture);
    CHECK_TEXT(record_night_flags(&fixture), "c2 spikes flagged");
    CHECK_NEAR(fixture_number(&fixture, "SELECT effect_counts FROM flag"), -3, 1e-6,
               "identity: a thousandth of CL 3 less with them, in counts of 0.001");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag"), "effect on CL -3 counts");
    fixture_close(&fixture);
}

static void many_points_are_listed_in_one_flag(void)
{
    struct night_fixture fixture;
    record_night_open(&fixture, 12);
    for (int i = 1; i <= 9; i++) {
        char point[16];
        (void)snprintf(point, sizeof point, "P%d", i);
        record_night_set(&fixture, point, RISE, FIELD(spiked), 2);
    }
    (void)record_night_reduce(&fixture);
    CHECK_TEXT(record_night_flags(&fixture), "c6 spikes flagged");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag"),
                   "points P1, P2, P3, P4, P5, P6 and 3 more of 12: 'c6' has 2 of 1000");
    fixture_close(&fixture);
}

static void the_noise_of_one_point_is_flagged(void)
{
    struct night_fixture fixture;
    record_night_open(&fixture, 6);
    double sd = 3 * record_night_dynamic_pressure() * 2 / 1000 *
                1e-3; /* the fixture's, of the lift output */
    record_night_set(&fixture, "P4", LIFT_OUTPUT, FIELD(sd), 5 * sd);
    (void)record_night_reduce(&fixture);
    CHECK_TEXT(record_night_flags(&fixture), "c2 noise-unusual flagged");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM flag"), 5, 1e-9, "identity");
    CHECK_NEAR(fixture_number(&fixture, "SELECT effect_counts FROM flag"), 1.5, 1e-6,
               "identity: one standard error, 0.005 of CL 3 over the root of 100 samples");
    fixture_close(&fixture);
}

static void a_trend_within_a_point_is_told_in_counts(void)
{
    struct night_fixture fixture;
    record_night_open(&fixture, 6);
    double force = 3 * record_night_dynamic_pressure() * 2 / 1000;
    /* CL has u 0.0004 or so: sd 0.001 of lift and of q, 100 samples. */
    record_night_set(&fixture, "P3", LIFT_OUTPUT, FIELD(mean_first_half), -force * 0.998);
    record_night_set(&fixture, "P3", LIFT_OUTPUT, FIELD(mean_second_half), -force * 1.002);
    (void)record_night_reduce(&fixture);
    CHECK_TEXT(record_night_flags(&fixture), "CL trend flagged");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM flag"), 0.012, 1e-9,
               "identity: 0.004 of CL 3");
    CHECK_NEAR(fixture_number(&fixture, "SELECT limit_value FROM flag"), 0.005, 1e-12,
               "identity: half of 0.010");
    CHECK_NEAR(fixture_number(&fixture, "SELECT effect_counts FROM flag"), 12, 1e-6, "identity");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag"), "+12 counts above the first");
    fixture_close(&fixture);
}

/* The trend makes its own point look uncertain: the run's other points say how uncertain it is. */
static void a_trend_does_not_hide_behind_its_own_spread(void)
{
    struct night_fixture fixture;
    record_night_open(&fixture, 6);
    double force = 3 * record_night_dynamic_pressure() * 2 / 1000;
    record_night_set(&fixture, "P3", LIFT_OUTPUT, FIELD(mean_first_half), -force * 0.998);
    record_night_set(&fixture, "P3", LIFT_OUTPUT, FIELD(mean_second_half), -force * 1.002);
    record_night_set(&fixture, "P3", LIFT_OUTPUT, FIELD(sd), force * 0.0025);
    record_night_set(&fixture, "P3", LIFT_OUTPUT, FIELD(n_effective), (double)NAN);
    (void)record_night_reduce(&fixture);
    CHECK_CONTAINS(record_night_flags(&fixture), "CL trend flagged");
    fixture_close(&fixture);
}

static void a_trend_of_the_wind_is_flagged_beyond_a_thousandth(void)
{
    struct night_fixture fixture;
    record_night_open(&fixture, 6);
    for (int i = 0; i < 2; i++) {
        record_night_set(&fixture, "P3", RISE, FIELD(mean_first_half), 3000 * (1 - 0.0006));
        record_night_set(&fixture, "P3", RISE, FIELD(mean_second_half), 3000 * (1 + 0.0006));
    }
    record_night_set(&fixture, "P3", LIFT_OUTPUT, FIELD(n), 1000);
    (void)record_night_reduce(&fixture);
    CHECK_CONTAINS(record_night_flags(&fixture), "q q-trend flagged");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM flag WHERE rule = 'q-trend'"),
               0.0012 * (1 - 0.204590 * 0.204590 / 4), 1e-6,
               "(p0 - p)/q = 1 + M^2/4 (NACA Report 1135), M of p0 - p 3000 Pa");
    fixture_close(&fixture);
}

static void a_quarantined_run_is_not_judged(void)
{
    struct night_fixture fixture;
    record_night_open(&fixture, 3);
    record_night_set(&fixture, "P2", LIFT_OUTPUT, FIELD(stuck), 40);
    fixture_execute(&fixture, "UPDATE run SET state = 'quarantined' WHERE run = 'r1'");
    (void)record_night_reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = 'stuck'"), 0, 0,
               "nothing");
    fixture_execute(&fixture, "DELETE FROM run");
    (void)record_night_reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM reduction WHERE stage = 'record' AND "
                                        "is_current = 1"),
               0, 0, "an entry without runs has no records");
    fixture_close(&fixture);
}

CU_TestInfo stage_record_tests[] = {
    {"a clean run raises nothing", a_clean_run_raises_nothing},
    {"a stuck load fails its point and keeps its number",
     a_stuck_load_fails_its_point_and_keeps_its_number},
    {"a short run of one value is flagged and compared",
     a_short_run_of_one_value_is_flagged_and_compared},
    {"a clipped attitude of a target fails its point",
     a_clipped_attitude_of_a_target_fails_its_point},
    {"a channel that dies within a run is stuck at those points",
     a_channel_that_dies_within_a_run_is_stuck_at_those_points},
    {"spikes are told with both means and their effect",
     spikes_are_told_with_both_means_and_their_effect},
    {"many points are listed in one flag", many_points_are_listed_in_one_flag},
    {"the noise of one point is flagged", the_noise_of_one_point_is_flagged},
    {"a trend within a point is told in counts", a_trend_within_a_point_is_told_in_counts},
    {"a trend does not hide behind its own spread", a_trend_does_not_hide_behind_its_own_spread},
    {"a trend of the wind is flagged beyond a thousandth",
     a_trend_of_the_wind_is_flagged_beyond_a_thousandth},
    {"a quarantined run is not judged", a_quarantined_run_is_not_judged},
    CU_TEST_INFO_NULL,
};
