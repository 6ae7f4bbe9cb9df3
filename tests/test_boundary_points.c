/* test_boundary_points.c - boundary corrections on their way through the point stage: what reads taps, what is
 * told, flagged and refused, and what stands in the ledger.
 *
 * The fixture's car: CD 0.9, 2 m2 in a section of 20 m2, q 2968.80 Pa of p 101325 Pa and p0 - p 3000 Pa
 * (NACA Report 1135). All other values are invented.                                               */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stddef.h>
#include <stdio.h>

#include "tests/check.h"
#include "tests/point_flags.h"

enum { BASE_1 = 13, BASE_2 = 14 };

/* One run r1 with one point, a zero on both sides, no weighted targets to miss. */
static void open_night(struct night_fixture *fixture)
{
    fixture_open(fixture);
    fixture->targets[0].weight = 0;
    fixture->targets[1].weight = 0;
    fixture->facility.boundary.maskell.base_cp = (double)NAN;
    fixture_add_zero(fixture, "z1", 0, 0);
    fixture_add_wind(fixture, "r1", "base", 50, 3);
    fixture_add_zero(fixture, "z2", 100, 0);
}

static double ledger(struct night_fixture *fixture, const char *quantity)
{
    char sql[200];
    (void)snprintf(sql, sizeof sql,
                   "SELECT value FROM ledger WHERE run = 'r1' AND step = 'blockage' AND quantity = "
                   "'%s'",
                   quantity);
    return fixture_number(fixture, sql);
}

static double q_of(struct night_fixture *fixture)
{
    return fixture_number(fixture, "SELECT dynamic_pressure_pa FROM point_coefficient");
}

static char base_surface[] = "floor";

static void choose_maskell(struct night_fixture *fixture)
{
    fixture->facility.blockage = "maskell";
    fixture->facility.boundary.given[BOUNDARY_MASKELL] = 1;
    fixture->facility.boundary.maskell.base_surface = base_surface;
    set_statistic(fixture, BASE_1, offsetof(struct channel_statistics, mean), -2300);
    set_statistic(fixture, BASE_2, offsetof(struct channel_statistics, mean), -2500);
}

/* k^2 = 1 + 2400/q, m = 0.9 2/20; the forward equations must hold for what was found. */
static void the_base_tells_its_pressure(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    choose_maskell(&fixture);
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "");
    double base = -2400 / q_of(&fixture), ratio = ledger(&fixture, "q_c/q");
    double theta = ledger(&fixture, "theta"), drag = 0.9;
    CHECK_NEAR(ledger(&fixture, "Cpb"), base, 1e-14, "mean of both taps over q");
    CHECK_NEAR(ratio, 1 + theta * drag * 0.1, 1e-12, "Maskell, forward");
    CHECK_NEAR((1 - base) / ratio, 1 + 1 / theta, 1e-12, "Maskell, forward: k_c^2");
    CHECK(ratio < 1 + 1 / theta); /* the larger root */
    CHECK_NEAR(fixture_number(&fixture, "SELECT drag_coefficient FROM point_coefficient"),
               drag / ratio, 1e-12, "C_c = C/(q_c/q)");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT step || ' ' || method || ': ' || evidence || ' "
                                          "NOT ' || not_verified FROM correction_method"),
                   "blockage maskell: S/C to 0.10; separated bodies");
    fixture_execute(&fixture, "UPDATE tap SET area_m2 = 1 + 2 * (tap = 'T2')");
    flags_reduce(&fixture); /* by area: a quarter and three */
    CHECK_NEAR(ledger(&fixture, "Cpb"), -2450 / q_of(&fixture), 1e-14, "mean by area over q");
    fixture_close(&fixture);
}

static void without_a_root_the_point_is_refused(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    choose_maskell(&fixture);
    set_statistic(&fixture, BASE_2, offsetof(struct channel_statistics, mean), -1000);
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "blockage-refused refused");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE run = 'r1'"),
                   "no real solution");
    CHECK(isnan(fixture_number(&fixture, "SELECT drag_coefficient FROM point_coefficient")));
    fixture_close(&fixture);
}

static void a_silent_tap_of_the_base_refuses_the_point(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    choose_maskell(&fixture);
    set_statistic(&fixture, BASE_2, offsetof(struct channel_statistics, mean), (double)NAN);
    flags_reduce(&fixture);
    CHECK_CONTAINS(flags_of_run(&fixture), "blockage-refused refused");
    CHECK_CONTAINS(
        fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'blockage-refused'"),
        "a tap that 'maskell' reads has no value");
    fixture_close(&fixture);
}

static void a_surface_without_taps_refuses_the_run(void)
{
    static char other[] = "base";
    struct night_fixture fixture;
    open_night(&fixture);
    choose_maskell(&fixture);
    fixture.facility.boundary.maskell.base_surface = other;
    flags_reduce(&fixture);
    CHECK_CONTAINS(flags_of_run(&fixture), "run-quarantined refused");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'run-quarantined'"),
                   "surface 'base', and taps.csv has none of it");
    fixture_execute(&fixture, "INSERT INTO tap VALUES ('B1',3,'B1',1,0,0,1,0,0,NULL,'base',NULL)");
    flags_reduce(&fixture); /* its taps are in the key: it is reduced again */
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'run-quarantined'"),
                   "its tap B1 is not in the logs of run r1");
    fixture_close(&fixture);
}

static void walls_that_tell_nothing_refuse_the_run(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    fixture.facility.boundary.given[BOUNDARY_WALL_SIGNATURE] = 1;
    fixture.facility.blockage = "wall signature";
    static char run[] = "nobody";
    fixture.facility.boundary.signature.surface = base_surface;
    fixture.facility.boundary.signature.empty_run = run;
    flags_reduce(&fixture);
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'run-quarantined'"),
                   "empty_run 'nobody' is not a usable run of facility tunnel");
    static char empty[] = "z1"; /* a zero: no wind */
    static double stations[] = {0.0};
    fixture.facility.boundary.signature.empty_run = empty;
    fixture.facility.boundary.signature.stations = (struct number_list){stations, 1};
    flags_reduce(&fixture);
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'run-quarantined'"),
                   "the empty section, run z1 point");
    static char self[] = "r1"; /* two taps are too few for a station */
    fixture.facility.boundary.signature.empty_run = self;
    flags_reduce(&fixture);
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'run-quarantined'"),
                   "2 taps and 1 stations: there are fewer data than unknowns");
    fixture_close(&fixture);
}

static void an_open_jet_says_that_it_is_not_verified(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    fixture.facility.section = SECTION_OPEN_JET;
    fixture.facility.blockage = "open jet";
    fixture.campaign.car.length = 4.6;
    fixture.facility.boundary.given[BOUNDARY_OPEN_JET] = 1;
    fixture.facility.boundary.jet = (struct jet_block){.car_distance = 4.5,
                                                       .nozzle = 1,
                                                       .collector_wake_factor = (double)NAN,
                                                       .collector_wake_constant = (double)NAN};
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "");
    double radius = sqrt(2 * 20 / 3.14159265358979323846),
           source = 4.5 - 2.3 + sqrt(2 / (2 * 3.14159265358979323846));
    double nozzle = 2.0 / 40 * (1 - source / sqrt(source * source + radius * radius)) *
                    pow(1 + 4.5 * 4.5 / (radius * radius), -1.5);
    CHECK_NEAR(ledger(&fixture, "eps_N"), nozzle, 1e-14, "open_jet.h, worked here");
    CHECK_NEAR(ledger(&fixture, "eps_S"), 0, 0, "off");
    CHECK_NEAR(ledger(&fixture, "q_c/q"), (1 + nozzle) * (1 + nozzle), 1e-14, "identity");
    CHECK_TEXT(fixture_text(&fixture, "SELECT not_verified FROM correction_method"),
               "the weights, the collector's constants and the sum of the pieces");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT found FROM correction_method"),
                   "expansion 0, nozzle 1, nozzle_q 0, collector 0");
    fixture_close(&fixture);
}

static void a_slotted_section_by_its_series(void)
{
    static double area[] = {0.4, 0.8, 1.2, 2.0}, cd[] = {0.404, 0.408, 0.412, 0.42};
    struct night_fixture fixture;
    open_night(&fixture);
    fixture.facility.section = SECTION_SLOTTED;
    fixture.facility.blockage = "slotted";
    fixture.facility.boundary.given[BOUNDARY_SLOTTED] = 1;
    fixture.facility.boundary.slotted =
        (struct slotted_block){.factor = (double)NAN, .area = {area, 4}, .coefficient = {cd, 4}};
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "");
    CHECK_NEAR(ledger(&fixture, "k"), 0.5, 1e-12, "0.4 (1 + 0.5 S/C), found back");
    CHECK_NEAR(ledger(&fixture, "q_c/q"), 1.05, 1e-13, "1 + k S/C of S/C 0.1");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT found FROM correction_method"),
                   "from 4 measurements to S/C 0.1, free air 0.4");
    fixture_close(&fixture);
}

static void two_gradients_are_taken_off(void)
{
    static double gradient[] = {0.001, 0.003}, cd[] = {0.9, 0.88}, cl[] = {3.0, 3.1},
                  clf[] = {1.2, 1.22};
    struct night_fixture fixture;
    open_night(&fixture);
    fixture.facility.buoyancy = BUOYANCY_TWO_GRADIENTS;
    fixture.facility.pressure_gradient = 0.001;
    fixture.facility.boundary.given[BOUNDARY_TWO_GRADIENTS] = 1;
    fixture.facility.boundary.gradients = (struct gradients_block){
        .gradient = {gradient, 2}, .cd = {cd, 2}, .cl = {cl, 2}, .clf = {clf, 2}};
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "");
    CHECK_NEAR(fixture_number(&fixture, "SELECT change FROM ledger WHERE step = 'buoyancy' AND "
                                        "quantity = 'CD'"),
               0.01, 1e-12, "worked by hand: -10 1/m times 0.001 1/m, taken off");
    CHECK_NEAR(fixture_number(&fixture, "SELECT change FROM ledger WHERE step = 'buoyancy' AND "
                                        "quantity = 'CLR'"),
               -0.04, 1e-12, "worked by hand: CL less CLF");
    fixture.facility.pressure_gradient = 0.0052;
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "blockage-evidence flagged");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE run = 'r1'"),
                   "two gradients 0.001 and 0.003 1/m were measured");
    fixture_close(&fixture);
}

static void outside_the_speed_sweep_a_point_is_not_compared(void)
{
    static double re[] = {6e6, 9e6, 14e6}, cd[] = {0.93, 0.92, 0.91};
    struct night_fixture fixture;
    open_night(&fixture);
    fixture.facility.boundary.given[BOUNDARY_REYNOLDS] = 1;
    fixture.facility.boundary.reynolds =
        (struct reynolds_block){.to = 9e6, .re = {re, 3}, .cd = {cd, 3}};
    flags_reduce(&fixture);
    double here = fixture_number(&fixture, "SELECT reynolds FROM point_coefficient");
    CHECK(here > 6e6 && here < 14e6); /* 70.7 m/s on 2.5 m */
    CHECK_TEXT(flags_of_run(&fixture), "");
    double x[3], mean = 0, top = 0, bottom = 0;
    for (int i = 0; i < 3; i++) {
        x[i] = log10(re[i]);
        mean += x[i] / 3;
    }
    for (int i = 0; i < 3; i++) {
        top += (x[i] - mean) * (cd[i] - 0.92);
        bottom += (x[i] - mean) * (x[i] - mean);
    }
    CHECK_NEAR(fixture_number(&fixture, "SELECT change FROM ledger WHERE step = 'Reynolds' AND "
                                        "quantity = 'CD'"),
               top / bottom * (log10(9e6) - log10(here)), 1e-12, "least squares, worked here");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM ledger WHERE step = 'Reynolds' AND "
                                        "quantity = 'Re'"),
               here, 0, "so that the step can be done again by hand");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT found FROM correction_method WHERE step = "
                                          "'Reynolds'"),
                   "Re 6e+06 to 1.4e+07");
    re[2] = 11e6;
    re[0] = 8e6;
    flags_reduce(&fixture);
    CHECK_TEXT(flags_of_run(&fixture), "reynolds-unmeasured failed");
    CHECK_TEXT(state_of_point(&fixture), "failed");
    CHECK_NEAR(fixture_number(&fixture, "SELECT drag_coefficient FROM point_coefficient"), 0.9,
               1e-12, "left at its own Reynolds number");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM ledger WHERE step = 'Reynolds'"), 0,
               0, "no step");
    fixture_close(&fixture);
}

static void the_flow_is_turned_only_where_a_body_confirms_it(void)
{
    static double yaw[] = {-0.04, 0, 0.04}, cy[] = {-0.098, 0.0012, 0.1016},
                  mirrored[] = {-0.0996, 0.0003, 0.1001};
    struct night_fixture fixture;
    open_night(&fixture);
    fixture.facility.boundary.given[BOUNDARY_FLOW_ANGULARITY] = 1;
    fixture.facility.boundary.turn =
        (struct turn_block){.yaw = {yaw, 3}, .cy = {cy, 3}, .mirrored_cy = {mirrored, 3}};
    flags_reduce(&fixture);
    double slope = (0.1996 + 0.1997) / 0.08 / 2; /* of both, worked by hand */
    double turn = (0.0048 / 3 + 0.0008 / 3) / 2 / slope;
    CHECK_NEAR(fixture_number(&fixture, "SELECT yaw_rad FROM point_coefficient"), turn, 1e-12,
               "psi0 = (b + b')/(2 a1), worked by hand");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM ledger WHERE step = 'flow angularity'"),
               turn, 1e-12, "the same in the ledger");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT found FROM correction_method"),
                   "confirmed, added to the yaw");
    fixture.facility.yaw_sign = -1; /* the logs, and the block, count air from the left */
    flags_reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT yaw_rad FROM point_coefficient"), -turn, 1e-12,
               "the same turn in the targets' sense");
    fixture.facility.yaw_sign = 1;
    for (int i = 0; i < 3; i++)
        mirrored[i] -= 0.0018; /* the body's own asymmetry */
    flags_reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT yaw_rad FROM point_coefficient"), 0, 1e-15,
               "not confirmed: nothing is added");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT found FROM correction_method"),
                   "not confirmed, reported only");
    fixture_close(&fixture);
}

/* Five yaws at one pair of heights, the side force zero at 0.004 rad. */
static void the_yaw_of_no_side_force_is_told(void)
{
    static const double yaw[] = {-0.04, -0.02, 0.002, 0.02, 0.04},
                        wobble[] = {1e-4, -1e-4, 0, 1e-4, -1e-4};
    static char follows[] = "yaw";
    struct night_fixture fixture;
    fixture_open(&fixture);
    fixture.facility.balance_follows = follows;
    fixture.targets[0].weight = 0;
    fixture.targets[1].weight = 0;
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_add_zero(&fixture, "z2", 100, 0);
    fixture_add_run(&fixture,
                    &(struct fixture_run){
                        .run = "r1", .kind = "wind_on", .configuration = "base", .start = 50});
    for (int i = 0; i < 5; i++) {
        struct fixture_point point = {.rise = 3000, .front = 0.02, .rear = 0.04, .yaw = yaw[i]};
        char label[16];
        fixture_outputs(0.9 + 2 * yaw[i] * yaw[i], 3, 1.3, point.output);
        point.output[1] = 15 * (yaw[i] - 0.004 + wobble[i]);
        (void)snprintf(label, sizeof label, "%d", i + 1);
        fixture_add_point(&fixture, "r1", label, 50 + i, &point);
    }
    flags_reduce(&fixture);
    CHECK_CONTAINS(flags_of_run(&fixture), "yaw-offset info");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM flag WHERE rule = 'yaw-offset'"), 0.004,
               1e-4, "invented, found back within the wobble");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'yaw-offset'"),
                   "of 5 points at one pair of ride heights the side force is zero at yaw +0.2");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'yaw-offset'"),
                   "the drag has its vertex at");
    /* off to one side only nothing can be told */
    fixture_execute(&fixture, "DELETE FROM point WHERE run = 'r1' AND point IN ('1', '2')");
    fixture_execute(&fixture, "UPDATE run SET ingest_key = 'again' WHERE run = 'r1'");
    flags_reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = 'yaw-offset'"), 0,
               0, "three points on one side");
    fixture_close(&fixture);
}

static void a_model_is_told_at_full_size(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    fixture.campaign.car.model_scale = 0.4;
    flags_reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM ledger WHERE step = 'full size' AND "
                                        "quantity = 'CDA_full_size'"),
               0.9 * 2 / 0.16, 1e-12, "C A/s^2, worked by hand");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM ledger WHERE step = 'full size' AND "
                                        "quantity = 'CLA_full_size'"),
               3.0 * 2 / 0.16, 1e-11, "C A/s^2, worked by hand");
    fixture.campaign.car.model_scale = 1;
    flags_reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM ledger WHERE step = 'full size'"), 0,
               0, "the car itself");
    fixture_close(&fixture);
}

CU_TestInfo boundary_points_tests[] = {
    {"the base's taps tell its pressure", the_base_tells_its_pressure},
    {"without a real root the point is refused", without_a_root_the_point_is_refused},
    {"a silent tap of the base refuses the point", a_silent_tap_of_the_base_refuses_the_point},
    {"a surface without taps refuses the run", a_surface_without_taps_refuses_the_run},
    {"walls that tell nothing refuse the run", walls_that_tell_nothing_refuse_the_run},
    {"an open jet says that it is not verified", an_open_jet_says_that_it_is_not_verified},
    {"a slotted section by its series", a_slotted_section_by_its_series},
    {"two gradients are taken off, and flagged when far", two_gradients_are_taken_off},
    {"outside the speed sweep a point is not compared",
     outside_the_speed_sweep_a_point_is_not_compared},
    {"the flow is turned only where a body confirms it",
     the_flow_is_turned_only_where_a_body_confirms_it},
    {"the yaw of no side force is told", the_yaw_of_no_side_force_is_told},
    {"a model is told at full size", a_model_is_told_at_full_size},
    CU_TEST_INFO_NULL};
