/* test_stage_record.c - what the record stage writes, and what it does to points. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stddef.h>
#include <stdio.h>

#include "reduce/pipeline.h"
#include "schema/point_statistics.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

/* The fixture's channels. */
enum { DRAG_OUTPUT = 0, LIFT_OUTPUT = 2, RISE = 6, HUMIDITY = 9, FRONT = 10, REAR = 11, TAP = 13 };

#define FIELD(name) offsetof(struct channel_statistics, name)

static struct reduce_summary reduce(struct night_fixture *fixture)
{
    struct fault fault;
    struct reduce_summary summary;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
    return summary;
}

/* A run of n points, all at the first target, 1 s apart. */
static void add_run(struct night_fixture *fixture, const char *run, double start, int n)
{
    struct fixture_run made = {
        .run = run, .kind = "wind_on", .configuration = "base", .start = start};
    struct fixture_point values = {.rise = 3000, .front = 0.02, .rear = 0.04, .tap = {-1500, -600}};
    fixture_outputs(0.9, 3, 0.45 * 3, values.output);
    fixture_add_run(fixture, &made);
    for (int i = 0; i < n; i++) {
        char point[16];
        (void)snprintf(point, sizeof point, "P%d", i + 1);
        fixture_add_point(fixture, run, point, start + i, &values);
    }
}

static void open_night(struct night_fixture *fixture, int points)
{
    fixture_open(fixture);
    fixture->targets[0].weight = 0;
    fixture->targets[1].weight = 0;
    fixture_add_zero(fixture, "z1", 0, 0);
    add_run(fixture, "r1", 50, points);
    fixture_add_zero(fixture, "z2", 100, 0);
}

static void set_one(struct night_fixture *fixture, const char *point, int channel, size_t field,
                    double value)
{
    fixture_set_point_statistic(fixture, "r1", point, channel, field, value);
}

static const char *flags(struct night_fixture *fixture)
{
    return fixture_text(fixture,
                        "SELECT group_concat(subject || ' ' || rule || ' ' || state, ', ') "
                        "FROM (SELECT * FROM flag ORDER BY run, rule, subject)");
}

static double dynamic_pressure(void)
{
    return 0.7 * 101325 * 5 * (pow(1 + 3000.0 / 101325, 2.0 / 7) - 1);
}

static void a_clean_run_raises_nothing(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 6);
    struct reduce_summary summary = reduce(&fixture);
    CHECK(summary.entries_judged == 1);
    CHECK_TEXT(flags(&fixture), "");
    summary = reduce(&fixture);
    CHECK(summary.entries_judged == 0);
    fixture.campaign.limits.trend = 0.4;
    summary = reduce(&fixture);
    CHECK(summary.entries_judged == 1);
    fixture_close(&fixture);
}

static void a_stuck_load_fails_its_point_and_keeps_its_number(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 3);
    set_one(&fixture, "P2", LIFT_OUTPUT, FIELD(stuck), 40);
    (void)reduce(&fixture);
    CHECK_TEXT(flags(&fixture), "c2 stuck failed");
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
    open_night(&fixture, 3);
    set_one(&fixture, "P2", LIFT_OUTPUT, FIELD(stuck), 10); /* 1 % of its samples */
    (void)reduce(&fixture);
    CHECK_TEXT(flags(&fixture), "c2 stuck flagged");
    CHECK_TEXT(fixture_text(&fixture, "SELECT state FROM point_coefficient WHERE point = 'P2'"),
               "flagged");
    fixture_close(&fixture);
}

static void a_clipped_attitude_of_a_target_fails_its_point(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 2);
    set_one(&fixture, "P1", FRONT, FIELD(clipped), 6); /* 0.6 % */
    (void)reduce(&fixture);
    CHECK_TEXT(flags(&fixture), "c10 clipped failed");
    CHECK_NEAR(fixture_number(&fixture, "SELECT limit_value FROM flag"), 0.005, 0,
               "record_rules.h");
    fixture_close(&fixture);
    open_night(&fixture, 2);
    set_one(&fixture, "P1", HUMIDITY, FIELD(clipped), 6); /* no coefficient rests on it */
    (void)reduce(&fixture);
    CHECK_TEXT(flags(&fixture), "c9 clipped flagged");
    CHECK_TEXT(fixture_text(&fixture, "SELECT state FROM point_coefficient WHERE point = 'P1'"),
               "ok");
    fixture_close(&fixture);
}

static void a_channel_that_dies_within_a_run_is_stuck_at_those_points(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 10);
    for (int i = 1; i <= 4; i++) {
        char point[16];
        (void)snprintf(point, sizeof point, "P%d", i);
        set_one(&fixture, point, DRAG_OUTPUT, FIELD(stuck), 1000);
        set_one(&fixture, point, DRAG_OUTPUT, FIELD(sd), 0);
        set_one(&fixture, point, FRONT, FIELD(stuck),
                1000); /* a height that is held now and then */
        set_one(&fixture, point, FRONT, FIELD(sd), 0);
    }
    (void)reduce(&fixture);
    CHECK_TEXT(flags(&fixture), "c0 stuck failed");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag"),
                   "points P1, P2, P3 and P4 of 10: 'c0' repeats one value for 1000 of 1000 "
                   "samples, chance allows 3, at point P1");
    CHECK_TEXT(fixture_text(&fixture, "SELECT point FROM flag"), "");
    fixture_close(&fixture);
}

static void spikes_are_told_with_both_means_and_their_effect(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 2);
    double force = 3 * dynamic_pressure() * 2 / 1000;
    set_one(&fixture, "P1", LIFT_OUTPUT, FIELD(spiked), 2);
    set_one(&fixture, "P1", LIFT_OUTPUT, FIELD(mean_without_spikes), -force * 1.001);
    (void)reduce(&fixture);
    CHECK_TEXT(flags(&fixture), "c2 spikes flagged");
    CHECK_NEAR(fixture_number(&fixture, "SELECT effect_counts FROM flag"), -3, 1e-6,
               "identity: a thousandth of CL 3 less with them, in counts of 0.001");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag"), "effect on CL -3 counts");
    fixture_close(&fixture);
}

static void many_points_are_listed_in_one_flag(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 12);
    for (int i = 1; i <= 9; i++) {
        char point[16];
        (void)snprintf(point, sizeof point, "P%d", i);
        set_one(&fixture, point, RISE, FIELD(spiked), 2);
    }
    (void)reduce(&fixture);
    CHECK_TEXT(flags(&fixture), "c6 spikes flagged");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag"),
                   "points P1, P2, P3, P4, P5, P6 and 3 more of 12: 'c6' has 2 of 1000");
    fixture_close(&fixture);
}

static void the_noise_of_one_point_is_flagged(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 6);
    double sd = 3 * dynamic_pressure() * 2 / 1000 * 1e-3; /* the fixture's, of the lift output */
    set_one(&fixture, "P4", LIFT_OUTPUT, FIELD(sd), 5 * sd);
    (void)reduce(&fixture);
    CHECK_TEXT(flags(&fixture), "c2 noise-unusual flagged");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM flag"), 5, 1e-9, "identity");
    CHECK_NEAR(fixture_number(&fixture, "SELECT effect_counts FROM flag"), 1.5, 1e-6,
               "identity: one standard error, 0.005 of CL 3 over the root of 100 samples");
    fixture_close(&fixture);
}

static void a_trend_within_a_point_is_told_in_counts(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 6);
    double force = 3 * dynamic_pressure() * 2 / 1000;
    /* CL has u 0.0004 or so: sd 0.001 of lift and of q, 100 samples. */
    set_one(&fixture, "P3", LIFT_OUTPUT, FIELD(mean_first_half), -force * 0.998);
    set_one(&fixture, "P3", LIFT_OUTPUT, FIELD(mean_second_half), -force * 1.002);
    (void)reduce(&fixture);
    CHECK_TEXT(flags(&fixture), "CL trend flagged");
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
    open_night(&fixture, 6);
    double force = 3 * dynamic_pressure() * 2 / 1000;
    set_one(&fixture, "P3", LIFT_OUTPUT, FIELD(mean_first_half), -force * 0.998);
    set_one(&fixture, "P3", LIFT_OUTPUT, FIELD(mean_second_half), -force * 1.002);
    set_one(&fixture, "P3", LIFT_OUTPUT, FIELD(sd), force * 0.0025);
    set_one(&fixture, "P3", LIFT_OUTPUT, FIELD(n_effective), (double)NAN);
    (void)reduce(&fixture);
    CHECK_CONTAINS(flags(&fixture), "CL trend flagged");
    fixture_close(&fixture);
}

static void a_trend_of_the_wind_is_flagged_beyond_a_thousandth(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 6);
    for (int i = 0; i < 2; i++) {
        set_one(&fixture, "P3", RISE, FIELD(mean_first_half), 3000 * (1 - 0.0006));
        set_one(&fixture, "P3", RISE, FIELD(mean_second_half), 3000 * (1 + 0.0006));
    }
    set_one(&fixture, "P3", LIFT_OUTPUT, FIELD(n), 1000);
    (void)reduce(&fixture);
    CHECK_CONTAINS(flags(&fixture), "q q-trend flagged");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM flag WHERE rule = 'q-trend'"),
               0.0012 * (1 - 0.204590 * 0.204590 / 4), 1e-6,
               "(p0 - p)/q = 1 + M^2/4 (NACA Report 1135), M of p0 - p 3000 Pa");
    fixture_close(&fixture);
}

/* Seven runs r1 .. r7 of four points, between two zeros. */
static void open_history(struct night_fixture *fixture)
{
    fixture_open(fixture);
    fixture->targets[0].weight = 0;
    fixture->targets[1].weight = 0;
    fixture_add_zero(fixture, "z1", 0, 0);
    for (int i = 1; i <= 7; i++) {
        char run[16];
        (void)snprintf(run, sizeof run, "r%d", i);
        add_run(fixture, run, 10 * i, 4);
    }
    fixture_add_zero(fixture, "z2", 100, 0);
    fixture_execute(fixture, "UPDATE channel SET unit = 'm', written_unit = 'mm' WHERE position IN "
                             "(10, 11)");
    fixture_execute(fixture, "UPDATE channel SET unit = 'mV/V', written_unit = 'mV/V' WHERE "
                             "position < 6");
    fixture_execute(fixture, "UPDATE channel SET unit = 'Pa', written_unit = 'hPa' WHERE position "
                             "IN (6, 7, 13, 14)");
}

static void scale(struct night_fixture *fixture, const char *run, int channel, double mean,
                  double factor, double sd)
{
    fixture_set_statistic(fixture, run, channel, FIELD(mean), mean * factor);
    fixture_set_statistic(fixture, run, channel, FIELD(sd), sd * fabs(factor));
}

static void a_unit_that_would_explain_a_level_is_named(void)
{
    struct night_fixture fixture;
    open_history(&fixture);
    scale(&fixture, "r4", FRONT, 0.02, 25.4, 2e-5);
    (void)reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, "SELECT run || ' ' || subject FROM flag WHERE rule = "
                                      "'unit-suspected'"),
               "r4 c10");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'unit-suspected'"),
                   "'c10' has a level of 0.508 m, usually 0.02: as if mm were read as inch (factor "
                   "25.4)");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule IN ('level-unusual', "
                                        "'noise-unusual', 'run-differs')"),
               0, 0, "one finding, one flag");
    fixture_close(&fixture);
}

static void a_load_of_the_wrong_sign_is_told_in_counts(void)
{
    struct night_fixture fixture;
    open_history(&fixture);
    double force = 3 * dynamic_pressure() * 2 / 1000;
    scale(&fixture, "r4", LIFT_OUTPUT, -force, -1, force * 1e-3);
    (void)reduce(&fixture);
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'unit-suspected'"),
                   "as if its sign were turned round");
    CHECK_NEAR(
        fixture_number(&fixture, "SELECT effect_counts FROM flag WHERE rule = 'unit-suspected'"),
        -6000, 1e-6, "identity: CL -3 in the place of 3");
    fixture_close(&fixture);
}

static void exchanged_heights_are_one_flag(void)
{
    struct night_fixture fixture;
    open_history(&fixture);
    scale(&fixture, "r4", FRONT, 0.04, 1, 4e-5);
    scale(&fixture, "r4", REAR, 0.02, 1, 2e-5);
    (void)reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, "SELECT group_concat(run || ' ' || subject) FROM flag WHERE "
                                      "rule IN ('channels-swapped', 'level-unusual', "
                                      "'unit-suspected', 'noise-unusual')"),
               "r4 c10 and c11");
    fixture_close(&fixture);
}

static void noise_slowness_and_silence_are_told_apart(void)
{
    static const struct {
        double sd, n_effective, stuck;
        const char *flag;
    } cases[] = {{3, 100, 1, "noise-unusual r4 c2"},
                 {0.3, 100, 1, "noise-unusual r4 c2"},
                 {0.4, 12, 1, "slow-response r4 c2"},
                 {0.4, (double)NAN, 1, "slow-response r4 c2"},
                 {0, 1000, 1000, "constant r4 c2"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct night_fixture fixture;
        open_history(&fixture);
        double sd = 3 * dynamic_pressure() * 2 / 1000 * 1e-3;
        fixture_set_statistic(&fixture, "r4", LIFT_OUTPUT, FIELD(sd), cases[i].sd * sd);
        fixture_set_statistic(&fixture, "r4", LIFT_OUTPUT, FIELD(n_effective),
                              cases[i].n_effective);
        fixture_set_statistic(&fixture, "r4", LIFT_OUTPUT, FIELD(stuck), cases[i].stuck);
        (void)reduce(&fixture);
        CHECK_TEXT(fixture_text(&fixture, "SELECT group_concat(rule || ' ' || run || ' ' || "
                                          "subject) FROM flag WHERE rule IN ('noise-unusual', "
                                          "'slow-response', 'constant', 'stuck')"),
                   cases[i].flag);
        CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE run <> 'r4'"), 0, 0,
                   "the others are as usual");
        fixture_close(&fixture);
    }
}

static void freeze(struct night_fixture *fixture, const char *run, int channel)
{
    fixture_set_statistic(fixture, run, channel, FIELD(sd), 0);
    fixture_set_statistic(fixture, run, channel, FIELD(stuck), 1000);
}

static const char *states_of(struct night_fixture *fixture, const char *run)
{
    char sql[200];
    (void)snprintf(sql, sizeof sql,
                   "SELECT group_concat(state) FROM (SELECT * FROM point_coefficient WHERE run = "
                   "'%s' ORDER BY point)",
                   run);
    return fixture_text(fixture, sql);
}

static void a_load_frozen_through_a_run_fails_its_points(void)
{
    static const int channels[] = {LIFT_OUTPUT, RISE, FRONT};
    for (size_t i = 0; i < sizeof channels / sizeof channels[0]; i++) {
        struct night_fixture fixture;
        open_history(&fixture);
        freeze(&fixture, "r4", channels[i]);
        (void)reduce(&fixture);
        CHECK_TEXT(fixture_text(&fixture, "SELECT rule || ' ' || run || ' ' || state || ' ' || "
                                          "point FROM flag WHERE rule = 'constant'"),
                   "constant r4 failed ");
        CHECK_TEXT(states_of(&fixture, "r4"), "failed,failed,failed,failed");
        CHECK_TEXT(states_of(&fixture, "r3"), "ok,ok,ok,ok");
        CHECK_NEAR(fixture_number(&fixture, "SELECT count(downforce_coefficient) FROM "
                                            "point_coefficient WHERE run = 'r4'"),
                   4, 0, "the numbers are kept");
        CHECK(reduce(&fixture).runs_reduced == 0);
        fixture_close(&fixture);
    }
}

/* Six of seven runs without the channel: the seventh still shows that it moves. */
static void a_load_that_died_early_fails_all_runs_after_it(void)
{
    struct night_fixture fixture;
    open_history(&fixture);
    for (int i = 2; i <= 7; i++) {
        char run[16];
        (void)snprintf(run, sizeof run, "r%d", i);
        freeze(&fixture, run, LIFT_OUTPUT);
    }
    (void)reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = 'constant' AND "
                                        "state = 'failed'"),
               6, 0, "r2 to r7");
    CHECK_TEXT(states_of(&fixture, "r1"), "ok,ok,ok,ok");
    CHECK_TEXT(states_of(&fixture, "r7"), "failed,failed,failed,failed");
    fixture_close(&fixture);
}

/* A humidity enters the density only, a height that two other runs hold is left where it stands, and a
 * channel that no other run tells about is a question. */
static void what_need_not_move_fails_nothing(void)
{
    struct night_fixture fixture;
    open_history(&fixture);
    freeze(&fixture, "r4", HUMIDITY);
    for (int i = 3; i <= 6; i++) {
        char run[16];
        (void)snprintf(run, sizeof run, "r%d", i);
        freeze(&fixture, run, FRONT);
    }
    (void)reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, "SELECT group_concat(subject || ' ' || state) FROM flag "
                                      "WHERE rule = 'constant'"),
               "c9 flagged");
    CHECK_TEXT(states_of(&fixture, "r4"), "ok,ok,ok,ok");
    fixture_close(&fixture);
    open_night(&fixture, 3);
    freeze(&fixture, "r1", LIFT_OUTPUT);
    (void)reduce(&fixture);
    CHECK_TEXT(flags(&fixture), "c2 constant flagged");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag"),
                   "'c2' has one value through every point, while others of the run move; no other "
                   "run tells whether it does");
    CHECK_TEXT(states_of(&fixture, "r1"), "ok,ok,ok");
    add_run(&fixture, "r2", 60, 3);
    (void)reduce(&fixture); /* the next run shows it */
    CHECK_TEXT(states_of(&fixture, "r1"), "failed,failed,failed");
    CHECK_TEXT(states_of(&fixture, "r2"), "ok,ok,ok");
    fixture_close(&fixture);
}

static void a_run_at_another_speed_differs_as_a_whole(void)
{
    struct night_fixture fixture;
    open_history(&fixture);
    struct fixture_point values = {.rise = 750, .front = 0.02, .rear = 0.04, .tap = {-375, -150}};
    fixture_outputs(0.9 / 4, 3.0 / 4, 0.45 * 3 / 4, values.output);
    fixture_execute(&fixture, "DELETE FROM point WHERE run = 'r4'");
    for (int i = 0; i < 4; i++) {
        char point[16];
        (void)snprintf(point, sizeof point, "P%d", i + 1);
        fixture_add_point(&fixture, "r4", point, 40 + i, &values);
    }
    (void)reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture,
                            "SELECT group_concat(rule || ' ' || run || ' ' || state) FROM "
                            "flag WHERE rule IN ('noise-unusual', 'unit-suspected', "
                            "'level-unusual', 'run-differs')"),
               "run-differs r4 info");
    fixture_close(&fixture);
}

static void temperatures_are_held_against_each_other_and_the_zero(void)
{
    static const struct {
        double front, rear, zero_front, zero_rear;
        const char *rows;
    } cases[] = {{300, 301.9, 300, 301.9, ""},
                 {300, 302.1, 300, 302.1, "c14"},
                 {301.2, 301.2, 300, 301, "c13"},
                 {300, 298.9, 300, 300, "c14"},
                 {300, 300, 300, (double)NAN, ""}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct night_fixture fixture;
        open_night(&fixture, 2);
        fixture_execute(&fixture,
                        "UPDATE channel SET role = CASE position WHEN 13 THEN "
                        "'balance_temperature' ELSE 'balance_temperature_rear' END, tap = "
                        "NULL WHERE position > 12");
        fixture_set_statistic(&fixture, "r1", TAP, FIELD(mean), cases[i].front);
        fixture_set_statistic(&fixture, "r1", TAP + 1, FIELD(mean), cases[i].rear);
        fixture_set_statistic(&fixture, "z1", TAP, FIELD(mean), cases[i].zero_front);
        fixture_set_statistic(&fixture, "z1", TAP + 1, FIELD(mean), cases[i].zero_rear);
        (void)reduce(&fixture);
        CHECK_TEXT(fixture_text(&fixture, "SELECT group_concat(subject) FROM flag WHERE rule = "
                                          "'balance-temperature' AND run = 'r1'"),
                   cases[i].rows);
        fixture_execute(&fixture,
                        "UPDATE channel SET role = 'scanner_temperature' WHERE position = "
                        "13");
        fixture_execute(&fixture, "UPDATE run SET ingest_key = ingest_key || '2'");
        fixture_set_statistic(&fixture, "r1", TAP, FIELD(mean), 301.1);
        fixture_set_statistic(&fixture, "z1", TAP, FIELD(mean), 300);
        (void)reduce(&fixture);
        CHECK_TEXT(fixture_text(&fixture, "SELECT group_concat(subject || ' ' || state) FROM flag "
                                          "WHERE rule = 'scanner-temperature'"),
                   "c13 flagged");
        fixture_close(&fixture);
    }
}

/* Lags as ingest leaves them; all other channels have none. */
static void set_lag(struct night_fixture *fixture, int channel, double lag)
{
    char sql[200];
    (void)snprintf(sql, sizeof sql,
                   "UPDATE channel SET lag_s = %g, lag_correlation = 0.6, unlagged_correlation = "
                   "0.1, lag_samples = 200 WHERE position = %d",
                   lag, channel);
    fixture_execute(fixture, sql);
}

static void late_channels_are_flagged_and_a_late_wind_once(void)
{
    struct night_fixture fixture;
    const char *const late =
        "SELECT group_concat(run || ' ' || subject || ' ' || value, ', ') FROM "
        "flag WHERE rule = 'late-channel'";
    open_night(&fixture, 3);
    set_lag(&fixture, LIFT_OUTPUT, 0.75);
    set_lag(&fixture, HUMIDITY, 0.125);
    (void)reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, late), "r1 c2 0.75"); /* the zeros are not asked */
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'late-channel'"),
                   "'c2' is 0.75 s later than the wind; limit 0.25 s");
    for (int output = 0; output < 6; output++)
        set_lag(&fixture, output, -0.5);
    fixture_execute(&fixture, "UPDATE run SET ingest_key = ingest_key || '2'");
    (void)reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, late), "r1 c6 0.5");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'late-channel'"),
                   "'c6' is 0.50 s later than the loads");
    fixture_close(&fixture);
}

static void a_quarantined_run_is_not_judged(void)
{
    struct night_fixture fixture;
    open_night(&fixture, 3);
    set_one(&fixture, "P2", LIFT_OUTPUT, FIELD(stuck), 40);
    fixture_execute(&fixture, "UPDATE run SET state = 'quarantined' WHERE run = 'r1'");
    (void)reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = 'stuck'"), 0, 0,
               "nothing");
    fixture_execute(&fixture, "DELETE FROM run");
    (void)reduce(&fixture);
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
    {"a unit that would explain a level is named", a_unit_that_would_explain_a_level_is_named},
    {"a load of the wrong sign is told in counts", a_load_of_the_wrong_sign_is_told_in_counts},
    {"exchanged heights are one flag", exchanged_heights_are_one_flag},
    {"noise slowness and silence are told apart", noise_slowness_and_silence_are_told_apart},
    {"a load frozen through a run fails its points", a_load_frozen_through_a_run_fails_its_points},
    {"a load that died early fails all runs after it",
     a_load_that_died_early_fails_all_runs_after_it},
    {"what need not move fails nothing", what_need_not_move_fails_nothing},
    {"a run at another speed differs as a whole", a_run_at_another_speed_differs_as_a_whole},
    {"temperatures are held against each other and the zero",
     temperatures_are_held_against_each_other_and_the_zero},
    {"late channels are flagged and a late wind once",
     late_channels_are_flagged_and_a_late_wind_once},
    {"a quarantined run is not judged", a_quarantined_run_is_not_judged},
    CU_TEST_INFO_NULL,
};
