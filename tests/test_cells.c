/* test_cells.c - wheel and belt cells from the log to totals: zeros, tare, content, flags, refusals.
 *
 * Loads are invented; the car has 1 m2 and a wheelbase of 2 m, q is 1000 Pa, so that 1000 N of drag are
 * a CD of 1. Expected numbers are worked by hand.                                                    */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "reduce/explain.h"
#include "tests/campaign_folder.h"
#include "tests/check.h"
#include "tests/rig_folder.h"
#include "tests/season_look.h"

static const char tracks[] = "  track_front: 1.0 m\n  track_rear: 0.8 m\n";
static const char adds[] =
    "    balance_contains: body\n    add_cells: wheel drag, wheel loads, belt drag, belt load\n"
    "    belt_centre: 0.1 m\n";
static const char columns[] =
    "      hF: {role: front_ride_height, unit: mm}\n"
    "      D1: {role: wheel_drag_front_left, unit: N}\n"
    "      D2: {role: wheel_drag_front_right, unit: N}\n"
    "      D3: {role: wheel_drag_rear_left, unit: N}\n"
    "      D4: {role: wheel_drag_rear_right, unit: N}\n"
    "      L1: {role: wheel_load_front_left, unit: N}\n"
    "      L2: {role: wheel_load_front_right, unit: N}\n"
    "      L3: {role: wheel_load_rear_left, unit: N}\n"
    "      L4: {role: wheel_load_rear_right, unit: N}\n"
    "      BD: {role: belt_drag, unit: N}\n"
    "      BL: {role: belt_load, unit: N}\n"
    "      D1_sd: {role: wheel_drag_front_left, unit: N, statistic: sd}\n";
static const char run_1[] =
    "R1,saltmarsh,E1,2026-02-11T20:00:00Z,base,wind_on,,forces=logs/R1.csv,,,,\n";

/* Body: D 400, L 1200, even. Cells: drags 10 20 30 40, loads 50 60 70 80, belt 5 and 7 N. */
static struct rig_point loaded(void)
{
    struct rig_point point = rig_point();
    for (int i = 0; i < 4; i++) {
        point.value[RIG_D1 + i] = 10 * (i + 1);
        point.value[RIG_L1 + i] = 50 + 10 * i;
    }
    point.value[RIG_BELT_DRAG] = 5;
    point.value[RIG_BELT_LOAD] = 7;
    return point;
}

static void make(char folder[SCRATCH_PATH], const char *car, const char *facility,
                 const char *mapped, const struct rig_point *point)
{
    rig_make(folder, &(struct rig_night){car, facility, mapped, "", run_1});
    rig_log(folder, "R1", point, 1);
}

static struct store *reduce(const char *car, const char *facility, const char *mapped,
                            const struct rig_point *point)
{
    char folder[SCRATCH_PATH];
    make(folder, car, facility, mapped, point);
    struct store *store = rig_reduce(folder);
    scratch_remove(folder);
    return store;
}

static double of_point(struct store *store, const char *column)
{
    char sql[160];
    (void)snprintf(sql, sizeof sql,
                   "SELECT %s FROM point_coefficient WHERE run = 'R1' AND point = 'P1'", column);
    return rig_number(store, sql);
}

static void check_totals(struct store *store)
{
    double front = 600 + 50 + 60 + 7 * (0.5 - 0.1 / 2), rear = 600 + 70 + 80 + 7 * (0.5 + 0.1 / 2);
    CHECK_NEAR(of_point(store, "drag_coefficient"), 0.400 + 0.100 + 0.005, 1e-12, "by hand");
    CHECK_NEAR(of_point(store, "downforce_coefficient"), 1.200 + 0.260 + 0.007, 1e-12, "by hand");
    CHECK_NEAR(of_point(store, "downforce_front_coefficient"), front / 1000, 1e-12,
               "by hand: belt 0.1 m aft of mid-wheelbase");
    CHECK_NEAR(of_point(store, "downforce_rear_coefficient"), rear / 1000, 1e-12, "by hand");
    CHECK_NEAR(of_point(store, "downforce_front_coefficient + downforce_rear_coefficient"),
               of_point(store, "downforce_coefficient"), 1e-15, "identity: axles make the total");
}

static void cells_are_added_where_they_stand(void)
{
    struct rig_point point = loaded();
    struct store *store = reduce(tracks, adds, columns, &point);
    check_totals(store);
    CHECK_NEAR(of_point(store, "roll_coefficient"), (0.5 * (50 - 60) + 0.4 * (70 - 80)) / 2000,
               1e-12, "by hand: Mx = -y L over q A W");
    CHECK_NEAR(of_point(store, "yaw_coefficient"), (0.5 * (10 - 20) + 0.4 * (30 - 40)) / 2000,
               1e-12, "by hand: Mz = -y D");
    check_rig_text(store, "SELECT drag_contains FROM point_coefficient", "body, wheels, belt");
    check_season(
        store,
        "SELECT quantity, unit, value, round(change, 9) FROM ledger WHERE step = 'cells' AND "
        "quantity IN ('Fx', 'Fz', 'wheel_load_rear_right', 'belt_drag') ORDER BY quantity",
        4,
        "Fx|N|505.0|105.0\nFz|N|-1467.0|-267.0\nbelt_drag|N|5.0|NULL\n"
        "wheel_load_rear_right|N|80.0|NULL\n");
    end_season(store);
}

static void without_tracks_two_moments_are_refused(void)
{
    struct rig_point point = loaded();
    struct store *store = reduce("", adds, columns, &point);
    check_totals(store);
    CHECK(isnan(of_point(store, "roll_coefficient")));
    CHECK(isnan(of_point(store, "yaw_coefficient")));
    CHECK_NEAR(of_point(store, "side_coefficient"), 0, 0, "no cell has one");
    check_season(
        store, "SELECT point, state, detail FROM flag WHERE rule = 'track-missing'", 3,
        "|flagged|CRM and CYM are not given: cells are added, and the car's tracks are not "
        "declared\n");
    end_season(store);
}

static void zeros_take_the_weight_off(void)
{
    char folder[SCRATCH_PATH];
    struct rig_point zero = {.value = {0}};
    struct rig_point point = loaded();
    for (int i = RIG_D1; i <= RIG_BELT_LOAD; i++) {
        zero.value[i] = 100 + i;
        point.value[i] += 100 + i;
    }
    make(folder, tracks, adds, columns, &point);
    rig_log(folder, "Z1", &zero, 1);
    struct store *store = rig_reduce(folder);
    check_totals(store);
    end_season(store);
    zero.value[RIG_L3] = (double)NAN;
    rig_log(folder, "Z1", &zero, 1);
    store = rig_reduce(folder);
    check_rig_text(store, "SELECT state FROM point_coefficient WHERE run = 'R1'", "refused");
    check_rig_text(store, "SELECT rule || ' ' || subject FROM flag WHERE state = 'refused'",
                   "samples-missing wheel_load_rear_left");
    end_season(store);
    scratch_remove(folder);
}

static const char tare_run[] =
    "T1,saltmarsh,E1,2026-02-11T19:55:00Z,,weight_tare,,%s=logs/T1.csv,,,,\n"
    "R1,saltmarsh,E1,2026-02-11T20:00:00Z,base,wind_on,,forces=logs/R1.csv,,,,\n";

static void make_tared(char folder[SCRATCH_PATH], const char *map)
{
    char sheet[400];
    struct rig_point tare = {.value = {[RIG_HF] = 20, [RIG_L1] = 3, [RIG_L2] = -3, [RIG_D4] = 1}};
    struct rig_point point = loaded();
    (void)snprintf(sheet, sizeof sheet, tare_run, map);
    rig_make(folder, &(struct rig_night){tracks, adds, columns, "", sheet});
    for (int i = RIG_D1; i <= RIG_BELT_LOAD; i++)
        point.value[i] += tare.value[i];
    rig_log(folder, "R1", &point, 1);
    rig_log(folder, "T1", &tare, 1);
    CHECK(scratch_edit(folder, "campaign.yaml", "weight_tare: none",
                       "weight_tare: lookup, tare_tolerance: {front_ride_height: 1 mm}"));
}

static void a_tare_that_logs_cells_takes_their_weight_off(void)
{
    char folder[SCRATCH_PATH];
    make_tared(folder, "forces");
    struct store *store = rig_reduce(folder);
    check_totals(store);
    check_rig_text(store, "SELECT rule FROM flag WHERE rule = 'cells-without-tare'", "");
    end_season(store);
    scratch_remove(folder);
}

static void a_tare_without_cells_is_told(void)
{
    char folder[SCRATCH_PATH];
    static const char second[] = "attitudes:\n";
    static const char plain[] =
        "  plain:\n    rows: points\n    columns:\n      Point: {role: point}\n"
        "      Fx: {role: force_x, unit: N}\n      Fy: {role: force_y, unit: N}\n"
        "      Fz: {role: force_z, unit: N}\n      Mx: {role: moment_x, unit: N m}\n"
        "      My: {role: moment_y, unit: N m}\n      Mz: {role: moment_z, unit: N m}\n"
        "      hF: {role: front_ride_height, unit: mm}\nattitudes:\n";
    make_tared(folder, "plain");
    CHECK(scratch_edit(folder, "campaign.yaml", second, plain));
    struct store *store = rig_reduce(folder);
    check_rig_text(store, "SELECT state FROM flag WHERE rule = 'cells-without-tare'", "info");
    CHECK_NEAR(of_point(store, "downforce_coefficient"), 1.467, 1e-12,
               "by hand: 3 and -3 N cancel");
    CHECK_NEAR(of_point(store, "drag_coefficient"), 0.506, 1e-12, "by hand: 1 N stays in");
    end_season(store);
    scratch_remove(folder);
}

static void uncertainty_includes_the_cells(void)
{
    struct rig_point point = loaded();
    point.value[RIG_D1_SD] = 3;
    char mapped[2048];
    (void)snprintf(mapped, sizeof mapped, "%s", columns);
    struct store *store = reduce(tracks, adds, mapped, &point);
    /* No load has an sd in this log, so that nothing can be said of the total. */
    CHECK(isnan(of_point(store, "drag_coefficient_u")));
    end_season(store);
    enum { ROWS = 400 };
    static struct rig_point points[ROWS];
    char folder[SCRATCH_PATH];
    unsigned state = 7;
    for (int i = 0; i < ROWS; i++) { /* a gust that the wheel loses and the body gains */
        state = state * 1103515245U + 12345U;
        double gust = 20 * ((double)(state >> 16 & 1023U) / 1023 - 0.5);
        points[i] = loaded();
        points[i].value[RIG_FX] += gust;
        points[i].value[RIG_D1] -= gust;
        points[i].value[RIG_L1] += gust;
        points[i].value[RIG_HR] = 1;
    }
    make(folder, tracks, adds, columns, points);
    rig_log(folder, "R1", points, ROWS);
    CHECK(scratch_edit_all(folder, "campaign.yaml", "rows: points",
                           "rows: samples\n    rate: 100 Hz"));
    CHECK(scratch_edit_all(folder, "campaign.yaml", "Point: {role: point}", "hR: {role: point}"));
    CHECK(scratch_edit_all(folder, "campaign.yaml",
                           "      D1_sd: {role: wheel_drag_front_left, unit: N, statistic: sd}\n",
                           ""));
    store = rig_reduce(folder);
    scratch_remove(folder);
    double drag = rig_number(store, "SELECT drag_coefficient_u FROM point_coefficient");
    double downforce = rig_number(store, "SELECT downforce_coefficient_u FROM point_coefficient");
    CHECK(drag < 1e-9);
    /* sd 20/sqrt(12) N over sqrt(400) of 1000 N, give or take the estimate of effective samples */
    CHECK_RELATIVE(downforce, 20 / sqrt(12.0) / 20 / 1000, 0.5, "by hand: a uniform gust");
    end_season(store);
}

static void wheels_of_a_car_that_stands_on_them_make_the_total(void)
{
    static const char inside[] = "    balance_contains: body, wheels\n    car_stands_on: wheels\n";
    static const char mapped[] = "      L1: {role: wheel_load_front_left, unit: N}\n"
                                 "      L2: {role: wheel_load_front_right, unit: N}\n"
                                 "      L3: {role: wheel_load_rear_left, unit: N}\n"
                                 "      L4: {role: wheel_load_rear_right, unit: N}\n";
    struct rig_point point = rig_point();
    for (int i = 0; i < 4; i++)
        point.value[RIG_L1 + i] = 300;
    struct store *store = reduce("", inside, mapped, &point);
    check_rig_text(store, "SELECT rule FROM flag WHERE rule = 'axle-sum'", "");
    CHECK_NEAR(of_point(store, "downforce_coefficient"), 1.2, 1e-12, "nothing is added");
    check_rig_text(store, "SELECT downforce_contains FROM point_coefficient", "body, wheels");
    end_season(store);
    point.value[RIG_L1] = 303;
    store = reduce("", inside, mapped, &point);
    check_season(store,
                 "SELECT round(value, 9), round(limit_value, 9), unit FROM flag WHERE rule = "
                 "'axle-sum'",
                 3, "-3.0|2.4|N\n");
    end_season(store);
    point.value[RIG_L3] = 297; /* the sum is right, the axles are not */
    store = reduce("", inside, mapped, &point);
    check_rig_text(
        store, "SELECT detail FROM flag WHERE rule = 'axle-sum'",
        "the balance has 600.00 N of downforce on the front axle, the wheels' load cells add "
        "up to 603.00 N: -3.00 N between them, limit 2.40 N");
    end_season(store);
    store = reduce("", "    balance_contains: body, wheels\n", mapped, &point);
    check_rig_text(store, "SELECT rule FROM flag WHERE rule = 'axle-sum'", "");
    end_season(store);
}

static const struct {
    const char *facility, *take_out, *says;
} cases[] = {
    {"    balance_contains: body\n", "",
     "has the role wheel_drag_front_left, and facility 'saltmarsh' neither adds the wheel drag nor "
     "has "
     "wheels inside its balance"},
    {"    balance_contains: body, wheels, belt\n", "", ""},
    {"    balance_contains: body\n    add_cells: wheel drag, wheel loads, belt drag\n", "",
     "has the role belt_load, and facility 'saltmarsh' neither adds the belt load"},
    {adds, "      L3: {role: wheel_load_rear_left, unit: N}\n",
     "adds the wheel loads, and no column has the role wheel_load_rear_left; map it"},
    {adds, "", ""},
};

static void cells_are_checked_before_any_log(void)
{
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char folder[SCRATCH_PATH];
        char lines[4096];
        struct rig_point point = loaded();
        make(folder, tracks, cases[i].facility, columns, &point);
        if (cases[i].take_out[0] != '\0')
            CHECK(scratch_edit(folder, "campaign.yaml", cases[i].take_out, ""));
        rig_check(folder, lines, sizeof lines);
        if (cases[i].says[0] == '\0')
            CHECK_TEXT(lines, "");
        else
            CHECK_CONTAINS(lines, cases[i].says);
        scratch_remove(folder);
    }
}

static void zeros_without_cells_are_told_before_any_log(void)
{
    char folder[SCRATCH_PATH];
    char lines[4096];
    struct rig_point point = loaded();
    make(folder, tracks, adds, columns, &point);
    CHECK(scratch_edit(
        folder, "campaign.yaml", "attitudes:\n",
        "  plain:\n    rows: points\n    columns:\n      Point: {role: point}\n"
        "      Fx: {role: force_x, unit: N}\n      Fy: {role: force_y, unit: N}\n"
        "      Fz: {role: force_z, unit: N}\n      Mx: {role: moment_x, unit: N m}\n"
        "      My: {role: moment_y, unit: N m}\n      Mz: {role: moment_z, unit: N m}\n"
        "attitudes:\n"));
    CHECK(scratch_edit(folder, "runs.csv", "forces=logs/Z1.csv", "plain=logs/Z1.csv"));
    rig_check(folder, lines, sizeof lines);
    CHECK_CONTAINS(lines,
                   "the run can have no zero: add_cells adds the wheel drag, and the channel maps "
                   "of zero 'Z1' hold no wheel_drag_front_left; map it");
    scratch_remove(folder);
}

/* A body balance with cells and a balance that weighs all of the car, in one entry. */
static const char balances[] =
    "  inner:\n    file: balance/inner.csv\n    outputs: N\n    origin: {x: 0 m, y: 0 m, z: 0 m}\n"
    "    axes: {x: aft, y: right, z: up}\n    moments: right-handed\n"
    "  outer:\n    file: balance/inner.csv\n    outputs: N\n    contains: body, wheels\n"
    "    origin: {x: 0 m, y: 0 m, z: 0 m}\n    axes: {x: aft, y: right, z: up}\n"
    "    moments: right-handed\n";
static const char zero_runs[] =
    "Z2,saltmarsh,E1,2026-02-11T19:50:00Z,,zero,%s,forces=logs/Z1.csv,,,,\n"
    "Z3,saltmarsh,E1,2026-02-11T19:50:00Z,,zero,%s,forces=logs/Z1.csv,,,,\n"
    "R1,saltmarsh,E1,2026-02-11T20:00:00Z,base,wind_on,inner,forces=logs/R1.csv,,,,\n"
    "R2,saltmarsh,E1,2026-02-11T20:10:00Z,wing,wind_on,%s,forces=logs/R1.csv,,,,\n"
    "R3,saltmarsh,E1,2026-02-11T20:20:00Z,base,wind_on,%s,forces=logs/R1.csv,,,,\n"
    "R4,saltmarsh,E1,2026-02-11T20:30:00Z,base,wind_on,inner,forces=logs/R1.csv,,,,\n";

static void make_family(char folder[SCRATCH_PATH], const char *wing, const char *base)
{
    char path[SCRATCH_PATH + 12];
    char sheet[1024];
    struct rig_point point = rig_point();
    (void)snprintf(sheet, sizeof sheet, zero_runs, "inner", "outer", wing, base);
    rig_make(folder, &(struct rig_night){"", "    balance_contains: body\n",
                                         "      hF: {role: front_ride_height, unit: mm}\n",
                                         balances, sheet});
    (void)snprintf(path, sizeof path, "%s/balance", folder);
    CHECK(mkdir(path, 0777) == 0);
    CHECK(scratch_write(folder, "balance/inner.csv",
                        "load,unit,R1,R2,R3,R4,R5,R6\nFx,N,1,0,0,0,0,0\nFy,N,0,1,0,0,0,0\n"
                        "Fz,N,0,0,1,0,0,0\nMx,N m,0,0,0,1,0,0\nMy,N m,0,0,0,0,1,0\n"
                        "Mz,N m,0,0,0,0,0,1\n"));
    rig_log(folder, "R1", &point, 1);
}

static void runs_of_unlike_contents_are_not_compared(void)
{
    char folder[SCRATCH_PATH];
    make_family(folder, "outer", "inner");
    struct store *store = rig_reduce(folder);
    scratch_remove(folder);
    check_season(store,
                 "SELECT run, subject, state, detail FROM flag WHERE rule = 'contents-differ'", 4,
                 "R2|R1|refused|the loads of run R2 contain body, wheels, those of run R1 body: it "
                 "takes no part in comparisons\n");
    CHECK_NEAR(rig_number(store, "SELECT count(delta) FROM delta"), 0, 0, "no delta of the wheels");
    end_season(store);
    make_family(folder, "inner", "outer");
    store = rig_reduce(folder);
    scratch_remove(folder);
    check_season(store, "SELECT run, subject, state FROM flag WHERE rule = 'contents-differ'", 3,
                 "R3|R1|refused\n"); /* once, though both stages see it */
    CHECK_NEAR(rig_number(store, "SELECT count(*) FROM target_result WHERE run = 'R3'"), 0, 0,
               "no slope is made over points with wheels and without");
    CHECK_NEAR(
        rig_number(store, "SELECT delta FROM delta WHERE quantity = 'CL' AND target = 'low'"), 0,
        1e-12, "R2 between R1 and R4 stands");
    end_season(store);
    make_family(folder, "inner", "inner");
    store = rig_reduce(folder);
    scratch_remove(folder);
    check_rig_text(store, "SELECT run FROM flag WHERE rule = 'contents-differ'", "");
    end_season(store);
}

static void a_number_is_explained_with_its_cells(void)
{
    char folder[SCRATCH_PATH];
    struct rig_point point = loaded();
    struct key_text text;
    struct fault fault = {.status = OK};
    make(folder, tracks, adds, columns, &point);
    struct store *store = rig_reduce(folder);
    struct campaign *campaign = ingest_folder_campaign(folder);
    const struct explain_request request = {.run = "R1", .point = "P1", .symbol = "CD"};
    CHECK_OK(explain_number(store, campaign, &request, &text, &fault), &fault);
    CHECK_CONTAINS(text.text, "cells: plus what the cells carry, zero and tare off");
    CHECK_CONTAINS(text.text, "it now contains body, wheels, belt\n");
    CHECK_CONTAINS(text.text, "    wheel_load_rear_right 80 N\n");
    CHECK(strstr(text.text, "has changed since") == NULL);
    key_text_end(&text);
    campaign_free(campaign);
    end_season(store);
    scratch_remove(folder);
}

CU_TestInfo cells_tests[] = {
    {"cells are added where they stand", cells_are_added_where_they_stand},
    {"without tracks two moments are refused", without_tracks_two_moments_are_refused},
    {"zeros take the weight off", zeros_take_the_weight_off},
    {"a tare that logs cells takes their weight off",
     a_tare_that_logs_cells_takes_their_weight_off},
    {"a tare without cells is told", a_tare_without_cells_is_told},
    {"uncertainty includes the cells", uncertainty_includes_the_cells},
    {"wheels of a car that stands on them make the total",
     wheels_of_a_car_that_stands_on_them_make_the_total},
    {"cells are checked before any log", cells_are_checked_before_any_log},
    {"zeros without cells are told before any log", zeros_without_cells_are_told_before_any_log},
    {"runs of unlike contents are not compared", runs_of_unlike_contents_are_not_compared},
    {"a number is explained with its cells", a_number_is_explained_with_its_cells},
    CU_TEST_INFO_NULL};
