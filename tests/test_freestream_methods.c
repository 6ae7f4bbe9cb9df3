/* test_freestream_methods.c - q by contraction, nozzle and plenum, and the belt against the air, through
 * ingest and reduce. The tunnel and its constants are invented.                                     */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "tests/check.h"
#include "tests/rig_folder.h"
#include "tests/season_look.h"

static const char row[] =
    "R1,saltmarsh,E1,2026-02-11T20:00:00Z,base,wind_on,,forces=logs/R1.csv,,,,\n";

/* Replaces the first `from` of campaign.yaml. */
static void edit(const char *folder, const char *from, const char *to)
{
    CHECK(scratch_replace(folder, "campaign.yaml", from, to));
}

/* The column q of the log holds the drop: 980 Pa. */
static void make(char folder[SCRATCH_PATH], const char *method, const char *role)
{
    char freestream[160];
    struct rig_point point = rig_point();
    rig_make(folder, &(struct rig_night){"", "    contains: body\n",
                                         "      hF: {role: front_ride_height, unit: mm}\n"
                                         "      D1: {role: belt_speed, unit: m/s}\n",
                                         "", row});
    (void)snprintf(freestream, sizeof freestream,
                   "freestream: %s\n    %s_polynomial: [0.5 Pa, 1.02, 1e-6 1/Pa]", method, method);
    edit(folder, "freestream: given", freestream);
    edit(folder, "role: dynamic_pressure", role);
    point.value[RIG_Q] = 980;
    point.value[RIG_D1] = 40.7;
    rig_log(folder, "R1", &point, 1);
}

static void each_method_takes_its_own_drop(void)
{
    static const char *const methods[] = {"contraction", "nozzle", "plenum"};
    for (int i = 0; i < 3; i++) {
        char folder[SCRATCH_PATH], role[40], lines[4096];
        (void)snprintf(role, sizeof role, "role: %s_drop", methods[i]);
        make(folder, methods[i], role);
        rig_check(folder, lines, sizeof lines);
        CHECK_TEXT(lines, "");
        struct store *store = rig_reduce(folder);
        CHECK_NEAR(rig_number(store, "SELECT dynamic_pressure_pa FROM point_coefficient"),
                   0.5 + 1.02 * 980 + 1e-6 * 980 * 980, 1e-9, "by hand: the polynomial");
        CHECK_NEAR(rig_number(store, "SELECT drag_coefficient FROM point_coefficient"),
                   400 / (0.5 + 1.02 * 980 + 1e-6 * 980 * 980), 1e-12, "by hand: 400 N over q A");
        end_season(store);
        scratch_remove(folder);
    }
}

/* A drop of another method is no q of this one, and neither is p0 - p. */
static void another_method_is_refused_by_name(void)
{
    static const char *const roles[] = {"role: contraction_drop", "role: plenum_drop",
                                        "role: total_minus_static"};
    for (int i = 0; i < 3; i++) {
        char folder[SCRATCH_PATH], lines[4096];
        make(folder, "nozzle", roles[i]);
        rig_check(folder, lines, sizeof lines);
        CHECK_CONTAINS(lines, "freestream: nozzle, which needs the roles nozzle_drop and "
                              "static_pressure");
        scratch_remove(folder);
    }
    char folder[SCRATCH_PATH], lines[4096];
    make(folder, "nozzle", "role: nozzle_drop");
    edit(folder, "nozzle_polynomial", "plenum_polynomial");
    rig_check(folder, lines, sizeof lines);
    CHECK_CONTAINS(lines, "lacks 'nozzle_polynomial', which freestream: nozzle needs");
    CHECK_CONTAINS(lines, "plenum_polynomial is given, but freestream is not plenum");
    scratch_remove(folder);
}

/* V = sqrt(2 q/rho), near 40.8 m/s: a belt of 40.7 m/s is within 0.5 %, one of 40 m/s is not. */
static void the_belt_is_held_against_the_air(void)
{
    char folder[SCRATCH_PATH];
    struct rig_point point = rig_point();
    make(folder, "nozzle", "role: nozzle_drop");
    struct store *store = rig_reduce(folder);
    double speed = rig_number(store, "SELECT speed_m_s FROM point_coefficient");
    CHECK(fabs(40.7 / speed - 1) < 0.005);
    check_rig_text(store, "SELECT rule FROM flag WHERE rule = 'belt-speed'", "");
    end_season(store);
    point.value[RIG_Q] = 980;
    point.value[RIG_D1] = 40;
    rig_log(folder, "R1", &point, 1);
    store = rig_reduce(folder);
    CHECK_NEAR(rig_number(store, "SELECT value FROM flag WHERE rule = 'belt-speed'"),
               40 / speed - 1, 1e-12, "identity");
    check_rig_text(store, "SELECT state FROM point_coefficient", "flagged");
    end_season(store);
    edit(folder, "main_measure:", "limits: {belt_speed: 3 %}\nmain_measure:");
    store = rig_reduce(folder);
    check_rig_text(store, "SELECT rule FROM flag WHERE rule = 'belt-speed'", "");
    end_season(store);
    scratch_remove(folder);
}

CU_TestInfo freestream_methods_tests[] = {
    {"each method takes its own drop", each_method_takes_its_own_drop},
    {"another method is refused by name", another_method_is_refused_by_name},
    {"the belt is held against the air", the_belt_is_held_against_the_air},
    CU_TEST_INFO_NULL};
