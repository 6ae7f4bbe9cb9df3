/* test_record_history.c - what the record stage says of a run beside the other runs of its entry. All
 * values are invented. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>

#include "tests/check.h"
#include "tests/record_night.h"

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
        record_night_add_run(fixture, run, 10 * i, 4);
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
    (void)record_night_reduce(&fixture);
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
    double force = 3 * record_night_dynamic_pressure() * 2 / 1000;
    scale(&fixture, "r4", LIFT_OUTPUT, -force, -1, force * 1e-3);
    (void)record_night_reduce(&fixture);
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
    (void)record_night_reduce(&fixture);
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
        double sd = 3 * record_night_dynamic_pressure() * 2 / 1000 * 1e-3;
        fixture_set_statistic(&fixture, "r4", LIFT_OUTPUT, FIELD(sd), cases[i].sd * sd);
        fixture_set_statistic(&fixture, "r4", LIFT_OUTPUT, FIELD(n_effective),
                              cases[i].n_effective);
        fixture_set_statistic(&fixture, "r4", LIFT_OUTPUT, FIELD(stuck), cases[i].stuck);
        (void)record_night_reduce(&fixture);
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
        (void)record_night_reduce(&fixture);
        CHECK_TEXT(fixture_text(&fixture, "SELECT rule || ' ' || run || ' ' || state || ' ' || "
                                          "point FROM flag WHERE rule = 'constant'"),
                   "constant r4 failed ");
        CHECK_TEXT(states_of(&fixture, "r4"), "failed,failed,failed,failed");
        CHECK_TEXT(states_of(&fixture, "r3"), "ok,ok,ok,ok");
        CHECK_NEAR(fixture_number(&fixture, "SELECT count(downforce_coefficient) FROM "
                                            "point_coefficient WHERE run = 'r4'"),
                   4, 0, "the numbers are kept");
        CHECK(record_night_reduce(&fixture).runs_reduced == 0);
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
    (void)record_night_reduce(&fixture);
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
    (void)record_night_reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, "SELECT group_concat(subject || ' ' || state) FROM flag "
                                      "WHERE rule = 'constant'"),
               "c9 flagged");
    CHECK_TEXT(states_of(&fixture, "r4"), "ok,ok,ok,ok");
    fixture_close(&fixture);
    record_night_open(&fixture, 3);
    freeze(&fixture, "r1", LIFT_OUTPUT);
    (void)record_night_reduce(&fixture);
    CHECK_TEXT(record_night_flags(&fixture), "c2 constant flagged");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag"),
                   "'c2' has one value through every point, while others of the run move; no other "
                   "run tells whether it does");
    CHECK_TEXT(states_of(&fixture, "r1"), "ok,ok,ok");
    record_night_add_run(&fixture, "r2", 60, 3);
    (void)record_night_reduce(&fixture); /* the next run shows it */
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
    (void)record_night_reduce(&fixture);
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
        record_night_open(&fixture, 2);
        fixture_execute(&fixture,
                        "UPDATE channel SET role = CASE position WHEN 13 THEN "
                        "'balance_temperature' ELSE 'balance_temperature_rear' END, tap = "
                        "NULL WHERE position > 12");
        fixture_set_statistic(&fixture, "r1", TAP, FIELD(mean), cases[i].front);
        fixture_set_statistic(&fixture, "r1", TAP + 1, FIELD(mean), cases[i].rear);
        fixture_set_statistic(&fixture, "z1", TAP, FIELD(mean), cases[i].zero_front);
        fixture_set_statistic(&fixture, "z1", TAP + 1, FIELD(mean), cases[i].zero_rear);
        (void)record_night_reduce(&fixture);
        CHECK_TEXT(fixture_text(&fixture, "SELECT group_concat(subject) FROM flag WHERE rule = "
                                          "'balance-temperature' AND run = 'r1'"),
                   cases[i].rows);
        fixture_execute(&fixture,
                        "UPDATE channel SET role = 'scanner_temperature' WHERE position = "
                        "13");
        fixture_execute(&fixture, "UPDATE run SET ingest_key = ingest_key || '2'");
        fixture_set_statistic(&fixture, "r1", TAP, FIELD(mean), 301.1);
        fixture_set_statistic(&fixture, "z1", TAP, FIELD(mean), 300);
        (void)record_night_reduce(&fixture);
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
    record_night_open(&fixture, 3);
    set_lag(&fixture, LIFT_OUTPUT, 0.75);
    set_lag(&fixture, HUMIDITY, 0.125);
    (void)record_night_reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, late), "r1 c2 0.75"); /* the zeros are not asked */
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'late-channel'"),
                   "'c2' is 0.75 s later than the wind; limit 0.25 s");
    for (int output = 0; output < 6; output++)
        set_lag(&fixture, output, -0.5);
    fixture_execute(&fixture, "UPDATE run SET ingest_key = ingest_key || '2'");
    (void)record_night_reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, late), "r1 c6 0.5");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'late-channel'"),
                   "'c6' is 0.50 s later than the loads");
    fixture_close(&fixture);
}

extern CU_TestInfo record_history_tests[];
CU_TestInfo record_history_tests[] = {
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
    CU_TEST_INFO_NULL,
};
