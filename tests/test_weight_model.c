/* test_weight_model.c - a known weight and centre of gravity found again, and what a sweep does not tell.
 *
 * Loads come from tests/oracles/weight_sweep.py: rotation matrices and statics, no code shared with the
 * program. Weight, place and attitudes are invented.                                                */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/physics/constants.h"
#include "reduce/physics/weight_model.h"
#include "tests/check.h"

#define DEGREE (PI / 180)

enum { SAMPLES = 5 };

static const char oracle[] = "tests/oracles/weight_sweep.py";
static const double weight = 812 * 9.80665;
static const double position[3] = {0.05, -0.02, 0.31};
static const double degrees[SAMPLES][3] = {
    {0, 0, 0}, {2, 0, 0}, {-1.5, 1, 0}, {1, -2, 7}, {0.5, 1.5, -5}};

/* A balance that follows all angles, one that follows pitch and yaw, and one that stays. */
static const double loads[3][SAMPLES][6] = {
    {{0, 0, -7962.9998, 238.889994, 159.259996, 0},
     {-277.9046852621, 0, -7958.1489556749, 238.7444686702, -24.2541131595, -8.3371405579},
     {208.4470341402, 138.9258862190, -7959.0586910071, 147.0806758257, 296.7562163527,
      9.0319287486},
     {-138.9735089696, -277.8623590325, -7956.9368910428, 422.0972636927, 67.4162219009,
      -9.7264524497},
     {-69.4894004282, 208.4390971159, -7959.9679761178, 101.2292351871, 113.3363552397,
      2.0840999295}},
    {{0, 0, -7962.9998, 238.889994, 159.259996, 0},
     {-277.9046852621, 0, -7958.1489556749, 238.7444686702, -24.2541131595, -8.3371405579},
     {208.4470341402, 0, -7960.2710788489, 195.7168598807, 296.8433804339, 5.1250263426},
     {-138.9735089696, 0, -7961.7869965608, 324.8939390865, 67.6364703827, -5.6710448015},
     {-69.4894004282, 0, -7962.6965933676, 174.2102053501, 113.3619289833, -1.5203094299}},
    {{0, 0, -7962.9998, 238.889994, 159.259996, 0},
     {0, 0, -7962.9998, 238.889994, 72.8670013525, 0},
     {0, 0, -7962.9998, 195.7839501506, 223.8050568503, 0},
     {0, 0, -7962.9998, 279.8353419807, 143.4899100563, 0},
     {0, 0, -7962.9998, 206.6766328105, 127.9973964005, 0}}};
static const unsigned follows[3] = {FOLLOWS_PITCH | FOLLOWS_ROLL | FOLLOWS_YAW,
                                    FOLLOWS_PITCH | FOLLOWS_YAW, 0};

static struct weight_setup setup_of(int rig)
{
    return (struct weight_setup){follows[rig], {0.03, 0.01, -0.35}, 0, 0.02};
}

/* As a balance reads them that was set to zero at the first attitude. */
static void sweep_of(int rig, struct weight_sample sample[SAMPLES])
{
    for (int i = 0; i < SAMPLES; i++) {
        sample[i].attitude = (struct weight_attitude){
            degrees[i][0] * DEGREE, degrees[i][1] * DEGREE, degrees[i][2] * DEGREE};
        for (int k = 0; k < 6; k++)
            sample[i].load[k] = loads[rig][i][k] - loads[rig][0][k];
    }
}

static void a_tilting_balance_tells_weight_and_place(void)
{
    for (int rig = 0; rig < 2; rig++) {
        struct weight_setup setup = setup_of(rig);
        struct weight_sample sample[SAMPLES];
        struct weight_fit fit;
        sweep_of(rig, sample);
        CHECK(weight_fit_make(&setup, sample, SAMPLES, &fit) == OUTCOME_OK);
        CHECK_NEAR(fit.weight, weight, 1e-6, oracle);
        for (int k = 0; k < 3; k++)
            CHECK_NEAR(fit.position[k], position[k], 1e-7, oracle);
        for (int k = 0; k < 6; k++)
            CHECK_NEAR(fit.rms[k], 0, 1e-9, "identity: the sweep has no noise; 1e-10 printed");
        CHECK(fit.condition > 1 && fit.condition < 1000);
        CHECK_NEAR(fit.most.yaw - fit.least.yaw, 12 * DEGREE, 1e-15, "identity");
    }
}

static void the_model_predicts_an_attitude_that_was_left_out(void)
{
    for (int rig = 0; rig < 3; rig++) {
        struct weight_setup setup = setup_of(rig);
        struct weight_sample sample[SAMPLES];
        struct weight_fit fit;
        double load[6];
        sweep_of(rig, sample);
        CHECK(weight_fit_make(&setup, sample, SAMPLES - 1, &fit) == OUTCOME_OK);
        CHECK(weight_loads(&setup, &fit, &sample[SAMPLES - 1].attitude, load) == OUTCOME_OK);
        for (int k = 0; k < 6; k++)
            CHECK_NEAR(load[k], sample[SAMPLES - 1].load[k], 1e-6, oracle);
    }
}

/* By hand: at a pitch of 2 degrees the car's weight pulls forward by its sine. */
static void gravity_turns_as_the_balance_does(void)
{
    const struct weight_attitude nose_down = {2 * DEGREE, 0, 0}, right_down = {0, 3 * DEGREE, 0};
    double g[3];
    weight_direction(FOLLOWS_PITCH, &nose_down, g);
    CHECK_NEAR(g[0], -sin(2 * DEGREE), 1e-16, "by hand: -sin pitch");
    CHECK_NEAR(g[2], -cos(2 * DEGREE), 1e-16, "by hand: -cos pitch");
    weight_direction(FOLLOWS_ROLL, &right_down, g);
    CHECK_NEAR(g[1], sin(3 * DEGREE), 1e-16, "by hand: the weight pulls to the side that is down");
    weight_direction(FOLLOWS_YAW, &nose_down, g);
    CHECK_NEAR(g[0], 0, 0, "identity: a balance that does not pitch stays level");
}

/* Level under a yawing car: the weight's moment turns with it, its force stays, z is never told. */
static void a_level_balance_tells_no_weight_and_no_height(void)
{
    struct weight_setup setup = setup_of(2);
    struct weight_sample sample[3];
    struct weight_fit fit;
    memset(sample, 0, sizeof sample);
    for (int i = 0; i < 3; i++) {
        double yaw = (i - 1) * 8 * DEGREE;
        sample[i].attitude.yaw = yaw;
        double x = position[0] * cos(yaw) - position[1] * sin(yaw);
        double y = position[0] * sin(yaw) + position[1] * cos(yaw);
        sample[i].load[3] = -weight * y;
        sample[i].load[4] = weight * x;
    }
    CHECK(weight_fit_make(&setup, sample, 3, &fit) == OUTCOME_OK);
    CHECK(isnan(fit.weight) && fit.tilt == 0 && isinf(fit.condition));
    CHECK(isnan(fit.position[0]) && isnan(fit.position[1]) && isnan(fit.position[2]));
    CHECK_NEAR(fit.moment[0], weight * position[0], 1e-8, "by hand: W x");
    CHECK_NEAR(fit.moment[1], weight * position[1], 1e-8, "by hand: W y");
    setup.scales_weight = weight;
    CHECK(weight_fit_make(&setup, sample, 3, &fit) == OUTCOME_OK);
    CHECK(isnan(fit.weight));
    CHECK_NEAR(fit.position[0], position[0], 1e-12, "by hand, W from scales");
    CHECK_NEAR(fit.position[1], position[1], 1e-12, "by hand, W from scales");
    CHECK(isnan(fit.position[2]) && isinf(fit.position_u[2]));
}

/* Noise of 0.05 N m over one degree of pitch: x comes at second order only and is drowned. */
static void a_short_pitch_range_does_not_tell_x(void)
{
    static const double noise[7] = {0.05, -0.03, -0.05, 0.06, -0.02, 0.04, -0.05};
    struct weight_setup setup = {FOLLOWS_PITCH, {0, 0, 0}, 0, 0.02};
    struct weight_sample sample[7];
    struct weight_fit fit;
    memset(sample, 0, sizeof sample);
    for (int i = 0; i < 7; i++) {
        double pitch = (i - 3) * DEGREE / 6;
        const double g[3] = {-sin(pitch), 0, -cos(pitch)};
        sample[i].attitude.pitch = pitch;
        for (int k = 0; k < 3; k++)
            sample[i].load[k] = weight * g[k];
        sample[i].load[3] = weight * position[1] * g[2] + noise[i];
        sample[i].load[4] = weight * (position[2] * g[0] - position[0] * g[2]) - noise[6 - i];
        sample[i].load[5] = -weight * position[1] * g[0] + noise[(2 * i) % 7];
    }
    CHECK(weight_fit_make(&setup, sample, 7, &fit) == OUTCOME_OK);
    CHECK_RELATIVE(fit.weight, weight, 1e-9, "by hand: the forces have no noise");
    CHECK(isnan(fit.position[0]) && fit.position_u[0] > 0.02 && fit.condition > 100);
    CHECK_NEAR(fit.position[2], position[2], 4 * fit.position_u[2], "by hand, noise added");
    CHECK_NEAR(fit.position[1], position[1], 4 * fit.position_u[1], "by hand, noise added");
    CHECK(fit.position_u[2] < 0.005);
}

/* Turned end for end: what is not finite, and too little. */
static void what_can_not_be_fitted_is_refused(void)
{
    struct weight_setup setup = setup_of(0);
    struct weight_sample sample[SAMPLES];
    struct weight_fit fit;
    double load[6];
    sweep_of(0, sample);
    CHECK(weight_fit_make(&setup, sample, 1, &fit) == OUTCOME_TOO_FEW);
    sample[1].load[4] = NAN;
    CHECK(weight_fit_make(&setup, sample, SAMPLES, &fit) == OUTCOME_NOT_FINITE);
    sweep_of(0, sample);
    sample[2].attitude.roll = INFINITY;
    CHECK(weight_fit_make(&setup, sample, SAMPLES, &fit) == OUTCOME_NOT_FINITE);
    sweep_of(0, sample);
    setup.origin[1] = NAN;
    CHECK(weight_fit_make(&setup, sample, SAMPLES, &fit) == OUTCOME_NOT_FINITE);
    setup = setup_of(0);
    CHECK(weight_fit_make(&setup, sample, SAMPLES, &fit) == OUTCOME_OK);
    const struct weight_attitude nowhere = {NAN, 0, 0};
    CHECK(weight_loads(&setup, &fit, &nowhere, load) == OUTCOME_NOT_FINITE);
    struct weight_sample same[2] = {sample[1], sample[1]};
    CHECK(weight_fit_make(&setup, same, 2, &fit) == OUTCOME_OK);
    CHECK(isnan(fit.weight) && isinf(fit.condition) && isnan(fit.position[0]));
    CHECK_NEAR(fit.constant[0], sample[1].load[0], 1e-12, "identity: nothing but the constant");
}

CU_TestInfo weight_model_tests[] = {
    {"a tilting balance tells weight and place", a_tilting_balance_tells_weight_and_place},
    {"the model predicts an attitude that was left out",
     the_model_predicts_an_attitude_that_was_left_out},
    {"gravity turns as the balance does", gravity_turns_as_the_balance_does},
    {"a level balance tells no weight and no height",
     a_level_balance_tells_no_weight_and_no_height},
    {"a short pitch range does not tell x", a_short_pitch_range_does_not_tell_x},
    {"what can not be fitted is refused", what_can_not_be_fitted_is_refused},
    CU_TEST_INFO_NULL};
