/* test_height_sensors.c - ride heights from sensors, from the log to targets, flags and the ledger.
 *
 * Places and poses are invented. The heights that a pose makes are worked by hand: a car of wheelbase
 * 2 m, nose down by 10 mm a metre, stands 10 mm lower at the front axle than at mid-wheelbase.      */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"
#include "tests/rig_folder.h"
#include "tests/season_look.h"

static const char sensors[] =
    "    contains: body, wheels\n    ride_height: from sensors\n    height_sensors:\n"
    "      - {sensor: height_sensor_1, x: -0.5 m, y: -0.5 m, offset: 1 mm}\n"
    "      - {sensor: height_sensor_2, x: -0.5 m, y: 0.5 m, offset: -2 mm}\n"
    "      - {sensor: height_sensor_3, x: 0.5 m, y: -0.5 m, offset: 0 mm}\n"
    "      - {sensor: height_sensor_4, x: 0.5 m, y: 0.5 m, offset: 0 mm}\n";

static const char columns[] = "      h1: {role: height_sensor_1, unit: mm}\n"
                              "      h1_sd: {role: height_sensor_1, unit: mm, statistic: sd}\n"
                              "      h2: {role: height_sensor_2, unit: mm}\n"
                              "      h3: {role: height_sensor_3, unit: mm}\n"
                              "      h4: {role: height_sensor_4, unit: mm}\n";

static const char run_1[] =
    "R1,saltmarsh,E1,2026-02-11T20:00:00Z,base,wind_on,,forces=logs/R1.csv,,,,\n";

/* Height h = 30 + 10 x - 2 y mm: front 20, rear 40, right side 2 mm a metre down; readings are less
 * the offsets. */
static struct rig_point posed(void)
{
    struct rig_point point = rig_point();
    point.value[RIG_H1] = 30 - 5 + 1 - 1;
    point.value[RIG_H2] = 30 - 5 - 1 + 2;
    point.value[RIG_H3] = 30 + 5 + 1;
    point.value[RIG_H4] = 30 + 5 - 1;
    return point;
}

static struct store *reduce(const char *facility, const char *mapped,
                            const struct rig_point *points, size_t n)
{
    char folder[SCRATCH_PATH];
    rig_make(folder, &(struct rig_night){"", facility, mapped, "", run_1});
    rig_log(folder, "R1", points, n);
    struct store *store = rig_reduce(folder);
    scratch_remove(folder);
    return store;
}

static double attitude(struct store *store, const char *column)
{
    char sql[160];
    (void)snprintf(sql, sizeof sql, "SELECT %s FROM point_coefficient WHERE point = 'P1'", column);
    return rig_number(store, sql);
}

static void heights_pitch_and_roll_come_from_the_plane(void)
{
    struct rig_point point = posed();
    struct store *store = reduce(sensors, columns, &point, 1);
    CHECK_NEAR(attitude(store, "front_ride_height_m"), 0.020, 1e-12, "by hand");
    CHECK_NEAR(attitude(store, "rear_ride_height_m"), 0.040, 1e-12, "by hand");
    CHECK_NEAR(attitude(store, "pitch_rad"), asin(0.010), 1e-12, "by hand: nose down");
    CHECK_NEAR(attitude(store, "roll_rad"), asin(0.002 / sqrt(1 - 1e-4)), 1e-12,
               "by hand: right side down");
    CHECK(isnan(attitude(store, "yaw_rad")));
    check_rig_text(store, "SELECT target FROM point_coefficient", "low");
    check_rig_text(store, "SELECT rule FROM flag WHERE run = 'R1' ORDER BY rule",
                   "not-estimable, time-missing, zero-after-missing");
    check_rig_text(store, "SELECT state FROM point_coefficient", "flagged");
    end_season(store);
}

static void the_ledger_shows_sensors_and_what_they_make(void)
{
    struct rig_point point = posed();
    struct store *store = reduce(sensors, columns, &point, 1);
    check_season(store,
                 "SELECT quantity, unit, round(value, 9) FROM ledger WHERE step = 'ride heights' "
                 "AND quantity NOT LIKE '%_u' ORDER BY quantity",
                 3,
                 "front_ride_height|m|0.02\nheight_sensor_1|m|0.026\nheight_sensor_2|m|0.024\n"
                 "height_sensor_3|m|0.036\nheight_sensor_4|m|0.034\npitch|rad|0.010000167\n"
                 "rear_ride_height|m|0.04\nroll|rad|0.002000101\n");
    end_season(store);
}

/* Sensor 1 alone has a scatter: hF = mean of four - slope = (1/4 + 1/2) h1 + ...; hR has -1/4. */
static void uncertainty_goes_through_the_plane(void)
{
    struct rig_point point = posed();
    point.value[RIG_H1_SD] = 0.04;
    struct store *store = reduce(sensors, columns, &point, 1);
    const char *sql = "SELECT value FROM ledger WHERE quantity = 'front_ride_height_u'";
    CHECK_NEAR(rig_number(store, sql), 0.75 * 0.04e-3, 1e-12, "by hand");
    sql = "SELECT value FROM ledger WHERE quantity = 'rear_ride_height_u'";
    CHECK_NEAR(rig_number(store, sql), 0.25 * 0.04e-3, 1e-12, "by hand");
    end_season(store);
}

static void a_sensor_off_the_plane_is_named(void)
{
    struct rig_point points[2] = {posed(), posed()};
    points[0].value[RIG_H3] += 1.16; /* a quarter of it is left at each: 0.29 and 0.31 mm */
    points[1].value[RIG_H3] += 1.24;
    struct store *store = reduce(sensors, columns, points, 2);
    check_season(store,
                 "SELECT point, subject, state, round(value, 9), round(limit_value, 9), unit FROM "
                 "flag WHERE rule = 'heights-disagree'",
                 6, "P2|height_sensor_1|flagged|-0.00031|0.0003|m\n");
    char *said = season_query(store, "SELECT detail FROM flag WHERE rule = 'heights-disagree'", 1);
    CHECK_CONTAINS(said, "is -0.310 mm off the plane through all 4 sensors, limit 0.300 mm");
    CHECK_CONTAINS(said, "without it the front ride height is");
    CHECK_CONTAINS(said, "one sensor to spare tells that one is off, not which");
    free(said);
    end_season(store);
}

static void three_standard_errors_are_no_disagreement(void)
{
    struct rig_point point = posed();
    point.value[RIG_H1] += 2; /* residual 0.5 mm; its error is 0.25 sd */
    point.value[RIG_H1_SD] = 0.7;
    struct store *store = reduce(sensors, columns, &point, 1);
    check_rig_text(store, "SELECT detail FROM flag WHERE rule = 'heights-disagree'", "");
    end_season(store);
    point.value[RIG_H1_SD] = 0.6;
    store = reduce(sensors, columns, &point, 1);
    CHECK_NEAR(rig_number(store, "SELECT limit_value FROM flag WHERE rule = 'heights-disagree'"),
               3 * 0.25 * 0.6e-3, 1e-12, "by hand: residual 1 is 1/4 of each");
    end_season(store);
}

static void a_silent_sensor_is_done_without(void)
{
    struct rig_point points[3] = {posed(), posed(), posed()};
    points[1].value[RIG_H2] = (double)NAN;
    points[2].value[RIG_H2] = (double)NAN;
    points[2].value[RIG_H4] = (double)NAN;
    struct store *store = reduce(sensors, columns, points, 3);
    check_season(store,
                 "SELECT point, subject, rule, state FROM flag WHERE rule LIKE '%height%' ORDER BY "
                 "point",
                 4,
                 "P2|height_sensor_2|height-sensor-silent|flagged\n"
                 "P3|front_ride_height|ride-heights-missing|failed\n");
    check_season(store,
                 "SELECT point, round(front_ride_height_m, 9), state, target FROM "
                 "point_coefficient ORDER BY point",
                 4, "P1|0.02|flagged|low\nP2|0.02|flagged|low\nP3|NULL|failed|NULL\n");
    CHECK_NEAR(rig_number(store,
                          "SELECT downforce_coefficient FROM point_coefficient WHERE point = "
                          "'P3'"),
               1.2, 1e-12, "its coefficients stand, at an attitude that is not known");
    end_season(store);
}

static void a_line_along_the_car_needs_no_roll(void)
{
    static const char line[] =
        "    contains: body\n    ride_height: from sensors\n    height_sensors:\n"
        "      - {sensor: height_sensor_1, x: -0.5 m, y: 0 m, offset: 0 mm}\n"
        "      - {sensor: height_sensor_3, x: 0.5 m, y: 0 m, offset: 0 mm}\n";
    static const char declared[] =
        "    contains: body\n    ride_height: from sensors\n    roll: zero\n    height_sensors:\n"
        "      - {sensor: height_sensor_1, x: -0.5 m, y: -0.5 m, offset: 0 mm}\n"
        "      - {sensor: height_sensor_3, x: 0.5 m, y: 0.5 m, offset: 0 mm}\n";
    static const char mapped[] = "      h1: {role: height_sensor_1, unit: mm}\n"
                                 "      h3: {role: height_sensor_3, unit: mm}\n"
                                 "      ro: {role: roll, unit: deg}\n";
    static const char no_roll[] = "      h1: {role: height_sensor_1, unit: mm}\n"
                                  "      h3: {role: height_sensor_3, unit: mm}\n";
    struct rig_point point = rig_point();
    point.value[RIG_H1] = 25;
    point.value[RIG_H3] = 35;
    point.value[RIG_ROLL] = 0.5;
    struct store *store = reduce(line, mapped, &point, 1);
    CHECK_NEAR(attitude(store, "front_ride_height_m"), 0.020, 1e-12, "by hand");
    CHECK_NEAR(attitude(store, "roll_rad"), 0.5 * acos(-1.0) / 180, 1e-12, "the log's");
    end_season(store);
    store = reduce(line, no_roll, &point, 1);
    CHECK(isnan(attitude(store, "roll_rad")));
    end_season(store);
    store = reduce(declared, no_roll, &point, 1);
    CHECK_NEAR(attitude(store, "rear_ride_height_m"), 0.040, 1e-12, "by hand");
    CHECK_NEAR(attitude(store, "roll_rad"), 0, 0, "as declared");
    end_season(store);
}

/* hF by the log against the plane's; angles by the height they make. */
static void what_is_logged_and_sensed_is_compared(void)
{
    static const char both[] = "      h1: {role: height_sensor_1, unit: mm}\n"
                               "      h2: {role: height_sensor_2, unit: mm}\n"
                               "      h3: {role: height_sensor_3, unit: mm}\n"
                               "      h4: {role: height_sensor_4, unit: mm}\n"
                               "      hF: {role: front_ride_height, unit: mm}\n"
                               "      hR: {role: rear_ride_height, unit: mm}\n"
                               "      pi: {role: pitch, unit: deg}\n";
    char from_log[sizeof sensors];
    struct rig_point points[3] = {posed(), posed(), posed()};
    for (int i = 0; i < 3; i++)
        points[i].value[RIG_PITCH] = asin(0.010) * 180 / acos(-1.0);
    points[1].value[RIG_HF] = 20.4;
    points[2].value[RIG_PITCH] += 0.0005 * 180 / acos(-1.0); /* half a millimetre at the axle */
    struct store *store = reduce(sensors, both, points, 3);
    check_season(store,
                 "SELECT point, subject, round(value, 7), limit_value FROM flag WHERE rule = "
                 "'heights-disagree' ORDER BY point",
                 4, "P2|front_ride_height|0.0004|0.0003\nP3|pitch|0.0005|0.0003\n");
    CHECK_NEAR(rig_number(store, "SELECT front_ride_height_m FROM point_coefficient WHERE point = "
                                 "'P2'"),
               0.020, 1e-12, "the sensors are taken");
    end_season(store);
    (void)snprintf(from_log, sizeof from_log, "%s", sensors);
    char *words = strstr(from_log, "from sensors");
    CHECK(words != NULL);
    if (words != NULL)
        memcpy(words, "from log    ", 12);
    store = reduce(from_log, both, points, 3);
    CHECK_NEAR(rig_number(store, "SELECT front_ride_height_m FROM point_coefficient WHERE point = "
                                 "'P2'"),
               0.0204, 1e-12, "the log is taken");
    check_rig_text(store, "SELECT subject FROM flag WHERE rule = 'heights-disagree' ORDER BY point",
                   "front_ride_height, pitch");
    end_season(store);
}

static const struct {
    const char *sensors, *columns, *says;
} cases[] = {
    {"{sensor: height_sensor_1, x: -0.5 m, y: -0.2 m, offset: 0 mm}\n"
     "      - {sensor: height_sensor_2, x: 0.5 m, y: 0.2 m, offset: 0 mm}\n",
     "12",
     "campaign.yaml:24:18: facility saltmarsh: height_sensors: the places of 2 sensors fix 2 of 3: "
     "the slope across the line that they stand on is open"},
    {"{sensor: height_sensor_1, x: -0.5 m, y: 0.2 m, offset: 0 mm}\n"
     "      - {sensor: height_sensor_2, x: 0.5 m, y: 0.2 m, offset: 0 mm}\n"
     "      - {sensor: height_sensor_3, x: 0.1 m, y: 0.2 m, offset: 0 mm}\n",
     "123", "fix 2 of 3: the roll, and with it the ride heights on the centreline, is open"},
    {"{sensor: height_sensor_1, x: -0.5 m, y: 0.2 m, offset: 0 mm}\n"
     "      - {sensor: height_sensor_2, x: -0.5 m, y: 0 m, offset: 0 mm}\n"
     "      - {sensor: height_sensor_3, x: -0.5 m, y: -0.2 m, offset: 0 mm}\n",
     "123", "fix 2 of 3: the pitch, and with it both ride heights, is open"},
    {"{sensor: height_sensor_1, x: -0.5 m, y: 0 m, offset: 0 mm}\n", "1",
     "the places of 1 sensor fix 1 of 2: the pitch"},
    {"{sensor: height_sensor_1, x: -0.5 m, y: 0.2 m, offset: 0 mm}\n"
     "      - {sensor: height_sensor_2, x: -0.5 m, y: 0.2004 m, offset: 3 mm}\n"
     "      - {sensor: height_sensor_3, x: 0.5 m, y: -0.2 m, offset: 0 mm}\n",
     "123",
     "campaign.yaml:25:18: facility saltmarsh: height_sensors: height_sensor_1 and height_sensor_2 "
     "stand 0.4 mm apart, at one place"},
    {"{sensor: height_sensor_1, x: -0.5 m, y: 0 m, offset: 0 mm}\n"
     "      - {sensor: height_sensor_2, x: 0.5 m, y: 0 m, offset: 0 mm}\n",
     "1", "places height_sensor_2, and no column has this role"},
    {"{sensor: height_sensor_1, x: -0.5 m, y: 0 m, offset: 0 mm}\n"
     "      - {sensor: height_sensor_2, x: 0.5 m, y: 0 m, offset: 0 mm}\n",
     "123", "has the role height_sensor_3, and facility 'saltmarsh' does not say where it stands"},
    {"{sensor: height_sensor_1, x: -0.5 m, y: 0 m, offset: 0 mm}\n"
     "      - {sensor: height_sensor_2, x: 0.5 m, y: 0 m, offset: 0 mm}\n    roll: zero\n",
     "12r", "says roll: zero, and a column has the role roll"},
    {"{sensor: height_sensor_1, x: -0.5 m, y: 0 m, offset: 0 mm}\n"
     "      - {sensor: height_sensor_2, x: 0.5 m, y: 0 m, offset: 0 mm}\n",
     "12", ""},
    {"{sensor: height_sensor_1, x: -0.5 m, y: -0.2 m, offset: 0 mm}\n"
     "      - {sensor: height_sensor_2, x: 0.5 m, y: 0.2 m, offset: 0 mm}\n    roll: zero\n",
     "12", ""},
};

static void places_and_columns_are_checked_before_any_log(void)
{
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char folder[SCRATCH_PATH];
        char facility[1024];
        char mapped[512] = "";
        char lines[4096];
        const struct rig_point point = rig_point();
        (void)snprintf(facility, sizeof facility,
                       "    contains: body\n    ride_height: from sensors\n    height_sensors:\n"
                       "      - %s",
                       cases[i].sensors);
        for (const char *c = cases[i].columns; *c != '\0'; c++) {
            size_t used = strlen(mapped);
            if (*c == 'r')
                (void)snprintf(mapped + used, sizeof mapped - used,
                               "      ro: {role: roll, unit: deg}\n");
            else
                (void)snprintf(mapped + used, sizeof mapped - used,
                               "      h%c: {role: height_sensor_%c, unit: mm}\n", *c, *c);
        }
        rig_make(folder, &(struct rig_night){"", facility, mapped, "", run_1});
        rig_log(folder, "R1", &point, 1);
        rig_check(folder, lines, sizeof lines);
        if (cases[i].says[0] == '\0')
            CHECK_TEXT(lines, "");
        else
            CHECK_CONTAINS(lines, cases[i].says);
        scratch_remove(folder);
    }
}

/* Two sensors of a car that heaves: they move together, so their mean is as uncertain as each. */
static void sensors_that_move_together_do_not_average_out(void)
{
    static const char line[] =
        "    contains: body\n    ride_height: from sensors\n    height_sensors:\n"
        "      - {sensor: height_sensor_1, x: -0.5 m, y: 0 m, offset: 0 mm}\n"
        "      - {sensor: height_sensor_2, x: 0.5 m, y: 0 m, offset: 0 mm}\n";
    static const char mapped[] = "      h1: {role: height_sensor_1, unit: mm}\n"
                                 "      h2: {role: height_sensor_2, unit: mm}\n";
    enum { ROWS = 400 };
    struct rig_point points[ROWS];
    char folder[SCRATCH_PATH];
    unsigned state = 7;
    for (int i = 0; i < ROWS; i++) {
        state = state * 1103515245U + 12345U;
        double heave = 0.1 * ((double)(state >> 16 & 1023U) / 1023 - 0.5);
        points[i] = rig_point();
        points[i].value[RIG_H1] = 25 + heave;
        points[i].value[RIG_H2] = 35 + heave;
    }
    rig_make(folder, &(struct rig_night){"", line, mapped, "", run_1});
    rig_log(folder, "R1", points, ROWS);
    CHECK(scratch_edit_all(folder, "campaign.yaml", "rows: points",
                           "rows: samples\n    rate: 100 Hz"));
    CHECK(scratch_edit_all(folder, "campaign.yaml", "Point: {role: point}", "BL: {role: point}"));
    struct store *store = rig_reduce(folder);
    scratch_remove(folder);
    double front = rig_number(
        store, "SELECT value FROM ledger WHERE quantity = 'front_ride_height_u' AND run = 'R1'");
    double pitch =
        rig_number(store, "SELECT value FROM ledger WHERE quantity = 'pitch_u' AND run = 'R1'");
    CHECK(front > 0.5e-6 && front < 5e-6); /* 0.1 mm / sqrt(12) / 20 is 1.4e-6 m */
    CHECK(pitch < 1e-3 * front);
    end_season(store);
}

CU_TestInfo height_sensors_tests[] = {
    {"heights, pitch and roll come from the plane", heights_pitch_and_roll_come_from_the_plane},
    {"the ledger shows sensors and what they make", the_ledger_shows_sensors_and_what_they_make},
    {"uncertainty goes through the plane", uncertainty_goes_through_the_plane},
    {"a sensor off the plane is named", a_sensor_off_the_plane_is_named},
    {"three standard errors are no disagreement", three_standard_errors_are_no_disagreement},
    {"a silent sensor is done without", a_silent_sensor_is_done_without},
    {"a line along the car needs no roll", a_line_along_the_car_needs_no_roll},
    {"what is logged and sensed is compared", what_is_logged_and_sensed_is_compared},
    {"places and columns are checked before any log",
     places_and_columns_are_checked_before_any_log},
    {"sensors that move together do not average out",
     sensors_that_move_together_do_not_average_out},
    CU_TEST_INFO_NULL};
