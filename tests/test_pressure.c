/* test_pressure.c - Cp, its correction, and integrals against flows known exactly. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/constants.h"
#include "reduce/physics/freestream.h"
#include "reduce/physics/pressure.h"
#include "reduce/physics/tunnel_taps.h"
#include "tests/check.h"

/* deg, Cp of a cylinder, Cp of a sphere */
static const double round_bodies[][3] = {
    {0.0, 1.0, 1.0},
    {10.0, 0.879385241572, 0.932154198384},
    {20.0, 0.532088886238, 0.736799998509},
    {30.0, 0.0, 0.4375},
    {40.0, -0.652703644666, 0.0703541998753},
    {50.0, -1.34729635533, -0.320354199875},
    {60.0, -2.0, -0.6875},
    {70.0, -2.53208888624, -0.986799998509},
    {80.0, -2.87938524157, -1.18215419838},
    {90.0, -3.0, -1.25},
    {100.0, -2.87938524157, -1.18215419838},
    {110.0, -2.53208888624, -0.986799998509},
    {120.0, -2.0, -0.6875},
    {130.0, -1.34729635533, -0.320354199875},
    {140.0, -0.652703644666, 0.0703541998753},
    {150.0, 2.29588740395e-41, 0.4375},
    {160.0, 0.532088886238, 0.736799998509},
    {170.0, 0.879385241572, 0.932154198384},
    {180.0, 1.0, 1.0},
};

/* A cylinder or sphere taken through the program's own Cp: p = q (1 - (v/U)^2) with v on the surface. */
static void pressures_of_round_bodies(void)
{
    const double q = 812.5;
    for (size_t i = 0; i < sizeof round_bodies / sizeof *round_bodies; i++) {
        double speed = sin(round_bodies[i][0] * PI / 180.0), cp = 0.0;
        CHECK(pressure_coefficient(q * (1 - 4 * speed * speed), q, &cp) == OUTCOME_OK);
        CHECK_NEAR(cp, round_bodies[i][1], 1e-11, "potential flow, 1 - 4 sin^2");
        CHECK(pressure_coefficient(q * (1 - 2.25 * speed * speed), q, &cp) == OUTCOME_OK);
        CHECK_NEAR(cp, round_bodies[i][2], 1e-11, "potential flow, 1 - 9/4 sin^2");
    }
}

/* S/C, q_c/q, ..., Cp corrected from 0, -1 and -5 */
static const double chain[][7] = {
    {0.01, 1.02030405061, -2.9403, 0.88209, 0.0199, -0.9602, -4.8806},
    {0.025, 1.05193951348, -2.851875, 0.8555625, 0.049375, -0.90125, -4.70375},
    {0.05, 1.108033241, -2.7075, 0.81225, 0.0975, -0.805, -4.415},
    {0.075, 1.16873630387, -2.566875, 0.7700625, 0.144375, -0.71125, -4.13375},
    {0.10, 1.23456790123, -2.43, 0.729, 0.19, -0.62, -3.86},
    {0.15, 1.38408304498, -2.1675, 0.65025, 0.2775, -0.445, -3.335},
    {0.01, 1.00500625, -2.98505606308, 0.895516818925, 0.00498131230527, -0.990037375389,
     -4.97011212617},
    {0.025, 1.0125390625, -2.96284865553, 0.888854596659, 0.0123837814899, -0.97523243702,
     -4.92569731106},
    {0.05, 1.02515625, -2.9263831733, 0.877914951989, 0.0245389422344, -0.950922115531,
     -4.85276634659},
    {0.075, 1.0378515625, -2.89058677406, 0.867176032218, 0.0364710753133, -0.927057849373,
     -4.78117354812},
    {0.10, 1.050625, -2.85544318858, 0.856632956573, 0.0481856038073, -0.903628792385,
     -4.71088637716},
    {0.15, 1.07640625, -2.78705182174, 0.836115546523, 0.0709827260851, -0.85803454783,
     -4.57410364349},
};

static void corrected_pressures(void)
{
    static const double measured[] = {0.0, -1.0, -5.0};
    for (size_t i = 0; i < sizeof chain / sizeof *chain; i++) {
        double cp = 0.0;
        for (int k = 0; k < 3; k++) {
            CHECK(pressure_corrected(measured[k], 1.0, chain[i][1], &cp) == OUTCOME_OK);
            CHECK_NEAR(cp, chain[i][4 + k], 1e-10, "identity, computed independently");
        }
        CHECK(pressure_corrected(1.01, 1.01, chain[i][1], &cp) == OUTCOME_OK);
        CHECK_NEAR(cp, 1.01, 1e-15, "identity: stagnation stays");
    }
}

/* panels, lift by the trapezoid rule, by taps in the middle of panels; exact 5/3 on 2R */
static const double half_cylinders[][3] = {
    {6.0, 1.54903810568, 1.63397459622},   {12.0, 1.63646651499, 1.6589186226},
    {18.0, 1.65317971867, 1.66325606868},  {36.0, 1.66328525143, 1.66581889333},
    {72.0, 1.66582070855, 1.66645502606},  {180.0, 1.6665312863, 1.66663281771},
    {360.0, 1.66663282061, 1.66665820491},
};

enum { MOST_PANELS = 360 };

static double cylinder_cp(double angle)
{
    return 1.0 - 4.0 * sin(angle) * sin(angle);
}

/* Nodes counter-clockwise from the front of the arc, then the flat base at Cp 0. */
static double lift_from_nodes(int panels, int clockwise)
{
    double x[MOST_PANELS + 3], y[MOST_PANELS + 3], cp[MOST_PANELS + 3];
    size_t n = (size_t)panels + 3;
    for (size_t i = 0; i < n; i++) {
        size_t at = clockwise ? n - 1 - i : i;
        double angle = i < n - 2 ? PI * (double)i / panels : PI * (double)(n - 1 - i + n - 2 - i);
        x[at] = i < n - 2 ? cos(angle) : i == n - 2 ? -1.0 : 1.0;
        y[at] = i < n - 2 ? sin(angle) : 0.0;
        cp[at] = i < n - 2 ? cylinder_cp(angle) : 0.0;
    }
    struct section_force force = {0};
    CHECK(pressure_section(x, y, cp, n, &force) == OUTCOME_OK);
    CHECK_NEAR(force.axial, 0.0, 1e-13, "d'Alembert, front and rear alike");
    return force.normal / 2.0;
}

static double lift_from_panels(int panels)
{
    double cp[MOST_PANELS], normal[3 * MOST_PANELS], area[MOST_PANELS], force[3] = {0};
    for (size_t i = 0; i < (size_t)panels; i++) {
        double angle = PI * ((double)i + 0.5) / panels;
        cp[i] = cylinder_cp(angle);
        normal[3 * i] = cos(angle);
        normal[3 * i + 1] = 0.0;
        normal[3 * i + 2] = sin(angle);
        area[i] = 2.0 * sin(PI / (2.0 * panels)); /* chord of the arc, unit span */
    }
    CHECK(pressure_force(cp, normal, area, (size_t)panels, force) == OUTCOME_OK);
    CHECK_NEAR(force[0], 0.0, 1e-13, "d'Alembert");
    return force[2] / 2.0;
}

static void half_a_cylinder_on_the_ground(void)
{
    for (size_t i = 0; i < sizeof half_cylinders / sizeof *half_cylinders; i++) {
        const double *row = half_cylinders[i];
        CHECK_NEAR(lift_from_nodes((int)row[0], 0), row[1], 1e-10, "trapezoid, independently");
        CHECK_NEAR(lift_from_nodes((int)row[0], 1), row[1], 1e-10, "the same tapped clockwise");
        CHECK_NEAR(lift_from_panels((int)row[0]), row[2], 1e-10, "mid-panel, independently");
    }
    CHECK_NEAR(lift_from_nodes(360, 0), 5.0 / 3.0, 4e-5, "potential flow, closed integral");
    CHECK_NEAR(lift_from_panels(360), 5.0 / 3.0, 1e-5, "potential flow, closed integral");
}

/* Rings of a sphere's upper half: theta from the nose, phi round the x axis. Lift 11/16 on pi R^2. */
static void half_a_sphere_on_the_ground(void)
{
    enum { RINGS = 90, SECTORS = 90 };
    static double cp[RINGS * SECTORS], normal[3 * RINGS * SECTORS], area[RINGS * SECTORS];
    double force[3] = {0}, front[3] = {0};
    size_t n = 0;
    for (int i = 0; i < RINGS; i++) {
        double theta = PI * (i + 0.5) / RINGS;
        double ring = cos(PI * i / RINGS) - cos(PI * (i + 1) / RINGS);
        for (int j = 0; j < SECTORS; j++, n++) {
            double phi = PI * (j + 0.5) / SECTORS;
            cp[n] = 1.0 - 2.25 * sin(theta) * sin(theta);
            area[n] = ring * PI / SECTORS;
            normal[3 * n] = -cos(theta);
            normal[3 * n + 1] = sin(theta) * cos(phi);
            normal[3 * n + 2] = sin(theta) * sin(phi);
        }
    }
    CHECK(pressure_force(cp, normal, area, n, force) == OUTCOME_OK);
    CHECK_NEAR(force[2] / PI, 11.0 / 16.0, 5e-4, "potential flow, closed integral");
    CHECK_NEAR(force[0] / PI, 0.0, 1e-12, "d'Alembert");
    CHECK_NEAR(force[1] / PI, 0.0, 1e-12, "symmetry");
    CHECK(pressure_force(cp, normal, area, n / 2, front) == OUTCOME_OK);
    CHECK_NEAR(2.0 * front[0] / PI, -1.0 / 8.0, 5e-4, "potential flow, front half of a sphere");
}

/* A floor's lower side looks down: suction there is downforce, Fz negative. */
static void suction_under_a_floor_is_downforce(void)
{
    const double cp[] = {-1.2, -0.8}, normal[] = {0, 0, -1, 0, 0, -1}, area[] = {0.5, 0.25};
    double force[3] = {0};
    CHECK(pressure_force(cp, normal, area, 2, force) == OUTCOME_OK);
    CHECK_NEAR(force[2], -0.8, 1e-15, "worked by hand: -(1.2 x 0.5 + 0.8 x 0.25)");
}

static void one_tap(void)
{
    struct tunnel_freestream freestream = {.static_pressure = 100800.0,
                                           .dynamic_pressure = 1551.45301228067,
                                           .stagnation_cp =
                                               freestream_stagnation_cp(0.148282543676185)};
    struct tap_reading relative = {.pressure = -2347.0, .zero = 3.0};
    struct tap_reading absolute = {.pressure = 98450.0, .measure = TAP_ABSOLUTE};
    struct tap_coefficient tap = {0};
    CHECK(tunnel_tap_reduce(&relative, &freestream, 1.03255235460069, &tap) == OUTCOME_OK);
    CHECK_NEAR(tap.raw, -1.51470910262725, 1e-12, "end-to-end case computed in 40 digits");
    /* the case keeps 1 where we keep Cp0 = 1.0055: the difference is (Cp0 - 1)(1 - q/q_c) */
    double fixed = (freestream.stagnation_cp - 1.0) * (1.0 - 1.0 / 1.03255235460069);
    CHECK_NEAR(tap.corrected - fixed, -1.43543011782655, 1e-12, "the same");
    CHECK(tunnel_tap_reduce(&absolute, &freestream, 1.03255235460069, &tap) == OUTCOME_OK);
    CHECK_NEAR(tap.raw, -1.51470910262725, 1e-12, "the same");

    tap.raw = 9.0;
    relative.zero = NAN;
    CHECK(tunnel_tap_reduce(&relative, &freestream, 1.0, &tap) == OUTCOME_NOT_FINITE);
    relative = (struct tap_reading){.pressure = NAN};
    CHECK(tunnel_tap_reduce(&relative, &freestream, 1.0, &tap) == OUTCOME_NOT_FINITE);
    CHECK(tunnel_tap_reduce(&absolute, &freestream, 0.0, &tap) == OUTCOME_BLOCKAGE_RANGE);
    freestream.dynamic_pressure = 0.0;
    CHECK(tunnel_tap_reduce(&absolute, &freestream, 1.0, &tap) == OUTCOME_NO_WIND);
    CHECK(tap.raw == 9.0);
}

static void refusals(void)
{
    double cp = 0.0;
    CHECK(pressure_coefficient(NAN, 1, &cp) == OUTCOME_NOT_FINITE);
    CHECK(pressure_coefficient(1, NAN, &cp) == OUTCOME_NOT_FINITE);
    CHECK(pressure_coefficient(1, 0, &cp) == OUTCOME_NO_WIND);
    CHECK(pressure_corrected(NAN, 1, 1, &cp) == OUTCOME_NOT_FINITE);
    CHECK(pressure_corrected(0, NAN, 1, &cp) == OUTCOME_NOT_FINITE);
    CHECK(pressure_corrected(0, 1, NAN, &cp) == OUTCOME_NOT_FINITE);
    CHECK(pressure_corrected(0, 1, 0, &cp) == OUTCOME_BLOCKAGE_RANGE);

    const double good[3] = {0, 1, 0.5}, up[3] = {0, 0, 1}, bad[3] = {0, NAN, 1};
    const double height[3] = {0, 0, 1}, flat[3] = {0, 0, 0}, one = 1.0, minus = -1.0;
    double force[3];
    struct section_force section;
    CHECK(pressure_section(good, height, good, 2, &section) == OUTCOME_TOO_FEW);
    CHECK(pressure_section(good, height, good, 3, &section) == OUTCOME_OK);
    CHECK(pressure_section(bad, height, good, 3, &section) == OUTCOME_NOT_FINITE);
    CHECK(pressure_section(good, bad, good, 3, &section) == OUTCOME_NOT_FINITE);
    CHECK(pressure_section(good, height, bad, 3, &section) == OUTCOME_NOT_FINITE);
    CHECK(pressure_section(good, flat, good, 3, &section) == OUTCOME_GEOMETRY);
    CHECK(pressure_force(&one, up, &one, 0, force) == OUTCOME_TOO_FEW);
    CHECK(pressure_force(&bad[1], up, &one, 1, force) == OUTCOME_NOT_FINITE);
    CHECK(pressure_force(&one, bad, &one, 1, force) == OUTCOME_NOT_FINITE);
    CHECK(pressure_force(&one, up, &bad[1], 1, force) == OUTCOME_NOT_FINITE);
    CHECK(pressure_force(&one, up, &minus, 1, force) == OUTCOME_GEOMETRY);
}

CU_TestInfo pressure_tests[] = {
    {"Cp of a cylinder and a sphere", pressures_of_round_bodies},
    {"corrected Cp keeps stagnation", corrected_pressures},
    {"half a cylinder on the ground lifts 5/3, order 2 in the taps", half_a_cylinder_on_the_ground},
    {"half a sphere on the ground lifts 11/16", half_a_sphere_on_the_ground},
    {"suction under a floor is downforce", suction_under_a_floor_is_downforce},
    {"one tap, relative and absolute", one_tap},
    {"NAN, no taps and impossible geometry are refused", refusals},
    CU_TEST_INFO_NULL};
