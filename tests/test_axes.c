/* test_axes.c - signs, moment centres, axle split and rotation, each sign on its own. */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/axes.h"
#include "reduce/physics/constants.h"
#include "tests/check.h"

static void signs_of_a_balance(void)
{
    const double load[6] = {1, 2, 3, 4, 5, 6}, axis[3] = {-1, 1, -1}, moment[3] = {1, -1, -1};
    const double want[6] = {-1, 2, -3, 4, -5, -6};
    double car[6] = {0};
    CHECK(axes_to_car(load, axis, moment, car) == OUTCOME_OK);
    for (int i = 0; i < 6; i++)
        CHECK_NEAR(car[i], want[i], 0.0, "identity");
    const double half[3] = {1, 1, 0.5};
    CHECK(axes_to_car(load, half, moment, car) == OUTCOME_GEOMETRY);
    CHECK(axes_to_car(load, axis, half, car) == OUTCOME_GEOMETRY);
}

/* Fx..Mz at P, r, M at the origin, lift of the axles (up positive) with W = 3 m */
static const double transfers[][14] = {
    {1000.0, 0.0, -3000.0, 0.0, 0.0, 0.0, 0.2, 0.0, 0.4, 0.0, 1000.0, 0.0, -1166.66666666667,
     -1833.33333333333},
    {1200.0, 150.0, -4000.0, 30.0, -250.0, 60.0, 0.15, 0.02, 0.3, -95.0, 710.0, 58.5,
     -1763.33333333333, -2236.66666666667},
    {800.0, -200.0, 500.0, -20.0, 100.0, -40.0, -0.3, 0.0, 0.55, 90.0, 690.0, 20.0, 480.0, 20.0},
};

static void moment_transfer_and_axle_split(void)
{
    const char *source = "statics, computed independently; axes of SAE J1594:2010";
    for (size_t i = 0; i < sizeof transfers / sizeof *transfers; i++) {
        const double *row = transfers[i];
        double moved[6] = {0}, front = 0.0, rear = 0.0;
        CHECK(axes_transfer(row, row + 6, moved) == OUTCOME_OK);
        for (int k = 0; k < 3; k++) {
            CHECK_NEAR(moved[k], row[k], 0.0, "identity: a force does not change");
            CHECK_NEAR(moved[k + 3], row[k + 9], 1e-10, source);
        }
        CHECK(axes_axle_split(-moved[2], moved[4], 3.0, &front, &rear) == OUTCOME_OK);
        CHECK_NEAR(front, -row[12], 1e-10, source);
        CHECK_NEAR(rear, -row[13], 1e-10, source);
    }
}

static void there_and_back(void)
{
    const double load[6] = {310, -45, -2200, 31, -87, 12}, point[3] = {0.12, -0.03, -0.31};
    const double back[3] = {-0.12, 0.03, 0.31};
    double moved[6] = {0};
    CHECK(axes_transfer(load, point, moved) == OUTCOME_OK);
    CHECK(axes_transfer(moved, back, moved) == OUTCOME_OK); /* in place */
    for (int i = 0; i < 6; i++)
        CHECK_NEAR(moved[i], load[i], 1e-12, "identity: A to B to A");
}

static void axle_split_of_golden_loads(void)
{
    double front = 0.0, rear = 0.0;
    CHECK(axes_axle_split(3000, 250, 2.5, &front, &rear) == OUTCOME_OK);
    CHECK_NEAR(front, 1400, 1e-12, "common practice, worked by hand");
    CHECK_NEAR(rear, 1600, 1e-12, "common practice, worked by hand");
    CHECK_NEAR(100 * front / 3000, 46.667, 5e-4, "common practice, worked by hand");

    const double drag[6] = {1000, 0, 0, 0, 0, 0}, above[3] = {0, 0, 0.5};
    double moved[6] = {0};
    CHECK(axes_transfer(drag, above, moved) == OUTCOME_OK);
    CHECK_NEAR(moved[4], 500, 1e-12, "statics: drag above the ground lifts the nose");
    CHECK(axes_axle_split(0, moved[4], 2.5, &front, &rear) == OUTCOME_OK);
    CHECK_NEAR(front, -200, 1e-12, "common practice, worked by hand");
    CHECK_NEAR(rear, 200, 1e-12, "common practice, worked by hand");
    CHECK(axes_axle_split(1, 1, 0, &front, &rear) == OUTCOME_GEOMETRY);
}

/* deg, CFx, CFy, CD, CS, CMx, CMy in wind axes; positive there: air from the car's left */
static const double rotations[][7] = {
    {0.0, 0.9, 0.25, 0.9, 0.25, 0.03, -0.12},
    {3.0, 0.9, 0.25, 0.91185057034, 0.20255502307, 0.0236785712935, -0.121405622858},
    {6.0, 0.9, 0.25, 0.921201821648, 0.154554856901, 0.0172922412689, -0.122478481342},
    {10.0, 0.9, 0.25, 0.929739022128, 0.0899185783528, 0.00870645127033, -0.123386375691},
    {15.0, 0.9, 0.25, 0.934038004936, 0.00854431598, -0.00208051062363, -0.123675670508},
    {-6.0, 0.9, 0.25, 0.868937590015, 0.342706090783, 0.0423790724532, -0.116206773546},
};

static void rotation_to_wind_axes(void)
{
    const char *source = "rotation about z, computed independently for air from the left";
    for (size_t i = 0; i < sizeof rotations / sizeof *rotations; i++) {
        const double *row = rotations[i];
        const double load[6] = {row[1], row[2], -2.9, 0.03, -0.12, 0.07};
        double wind[6] = {0}, yaw = -row[0] * PI / 180.0; /* ours: air from the right */
        CHECK(axes_to_wind(load, yaw, wind) == OUTCOME_OK);
        CHECK_NEAR(wind[0], row[3], 1e-11, source);
        CHECK_NEAR(wind[1], row[4], 1e-11, source);
        CHECK_NEAR(wind[3], row[5], 1e-11, source);
        CHECK_NEAR(wind[4], row[6], 1e-11, source);
        CHECK_NEAR(wind[2], -2.9, 0.0, "identity: z does not turn");
        CHECK_NEAR(wind[5], 0.07, 0.0, "identity: z does not turn");
        CHECK_NEAR(wind[0] * wind[0] + wind[1] * wind[1], row[1] * row[1] + row[2] * row[2], 1e-15,
                   "identity: D^2 + S^2 = Fx^2 + Fy^2");
    }
}

/* Air from the right drifts to the left: a force to the left is then partly drag. */
static void sense_of_yaw(void)
{
    const double to_the_left[6] = {0, -1, 0, 0, 0, 0};
    double wind[6] = {0};
    CHECK(axes_to_wind(to_the_left, 0.1, wind) == OUTCOME_OK);
    CHECK(wind[0] > 0.0);
}

/* Tunnel axes in car axes with the air from the right: x is (cos, -sin), y is (sin, cos). */
static void loads_that_stay_with_the_tunnel_are_turned(void)
{
    const double yaw = 0.3;
    const double along[6] = {1, 0, -7, 1, 0, 9}, across[6] = {0, 1, -7, 0, 1, 9};
    double car[6] = {0};
    CHECK(axes_from_wind(along, yaw, car) == OUTCOME_OK);
    for (int i = 0; i < 6; i += 3) {
        CHECK_NEAR(car[i], cos(yaw), 1e-15, "definition, worked by hand");
        CHECK_NEAR(car[i + 1], -sin(yaw), 1e-15, "definition, worked by hand");
    }
    CHECK(axes_from_wind(across, yaw, car) == OUTCOME_OK);
    for (int i = 0; i < 6; i += 3) {
        CHECK_NEAR(car[i], sin(yaw), 1e-15, "definition, worked by hand");
        CHECK_NEAR(car[i + 1], cos(yaw), 1e-15, "definition, worked by hand");
    }
    CHECK_NEAR(car[2], -7, 0.0, "identity: z does not turn");
    CHECK_NEAR(car[5], 9, 0.0, "identity: z does not turn");
    CHECK(axes_to_wind(car, yaw, car) == OUTCOME_OK);
    for (int i = 0; i < 6; i++)
        CHECK_NEAR(car[i], across[i], 1e-15, "identity: there and back");
}

static void signs_of_sae_j1594(void)
{
    const double ours[COEFFICIENTS] = {1, 2, 3, 4, 5, 6, 7, 8};
    const double want[COEFFICIENTS] = {1, 2, -3, -4, -5, -6, 7, -8};
    double sae[COEFFICIENTS] = {0};
    CHECK(axes_sae_j1594(ours, sae) == OUTCOME_OK);
    for (int i = 0; i < COEFFICIENTS; i++)
        CHECK_NEAR(sae[i], want[i], 0.0, "SAE J1594, 2010; senses of 1987 from memory");

    /* A force to the right ahead of the origin turns the nose right: SAE positive, ours negative. */
    const double side[6] = {0, 1, 0, 0, 0, 0}, ahead[3] = {-1, 0, 0}, above[3] = {0, 0, 1};
    double moved[6] = {0};
    CHECK(axes_transfer(side, ahead, moved) == OUTCOME_OK && moved[5] < 0.0);
    /* Above the ground it pushes the right side down: SAE positive, ours negative. */
    CHECK(axes_transfer(side, above, moved) == OUTCOME_OK && moved[3] < 0.0);
}

static void refuses_nan(void)
{
    const double one[3] = {1, 1, 1}, bad[3] = {1, NAN, 1};
    double front = 0.0, rear = 0.0, out[COEFFICIENTS];
    for (int i = 0; i < COEFFICIENTS; i++) {
        double value[COEFFICIENTS] = {1, 1, 1, 1, 1, 1, 1, 1};
        value[i] = NAN;
        CHECK(axes_sae_j1594(value, out) == OUTCOME_NOT_FINITE);
        if (i >= 6)
            continue;
        CHECK(axes_to_car(value, one, one, out) == OUTCOME_NOT_FINITE);
        CHECK(axes_transfer(value, one, out) == OUTCOME_NOT_FINITE);
        CHECK(axes_to_wind(value, 0.1, out) == OUTCOME_NOT_FINITE);
        CHECK(axes_from_wind(value, 0.1, out) == OUTCOME_NOT_FINITE);
    }
    const double load[6] = {1, 1, 1, 1, 1, 1};
    CHECK(axes_to_car(load, bad, one, out) == OUTCOME_NOT_FINITE);
    CHECK(axes_to_car(load, one, bad, out) == OUTCOME_NOT_FINITE);
    CHECK(axes_transfer(load, bad, out) == OUTCOME_NOT_FINITE);
    CHECK(axes_to_wind(load, NAN, out) == OUTCOME_NOT_FINITE);
    CHECK(axes_from_wind(load, NAN, out) == OUTCOME_NOT_FINITE);
    CHECK(axes_axle_split(NAN, 1, 1, &front, &rear) == OUTCOME_NOT_FINITE);
    CHECK(axes_axle_split(1, NAN, 1, &front, &rear) == OUTCOME_NOT_FINITE);
    CHECK(axes_axle_split(1, 1, NAN, &front, &rear) == OUTCOME_NOT_FINITE);
}

CU_TestInfo axes_tests[] = {
    {"a balance's declared senses", signs_of_a_balance},
    {"moment transfer and axle split of three cases", moment_transfer_and_axle_split},
    {"a transfer there and back changes nothing", there_and_back},
    {"drag above the ground unloads the front axle", axle_split_of_golden_loads},
    {"rotation to wind axes", rotation_to_wind_axes},
    {"yaw is positive with the air from the right", sense_of_yaw},
    {"loads that stay with the tunnel are turned", loads_that_stay_with_the_tunnel_are_turned},
    {"SAE J1594 signs", signs_of_sae_j1594},
    {"NAN in each argument is refused", refuses_nan},
    CU_TEST_INFO_NULL};
