/* test_tunnel_point.c - the order of steps, forward effects undone, and what is refused. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/physics/tunnel_freestream.h"
#include "reduce/physics/tunnel_point.h"
#include "tests/check.h"

static struct tunnel_recipe a_recipe(void)
{
    struct tunnel_recipe recipe = {.source = LOADS_FROM_OUTPUTS,
                                   .calibration = {.second_order = 1},
                                   .origin = {0.03, -0.01, -0.35},
                                   .axis_sign = {1, -1, -1},
                                   .moment_sign = {1, -1, -1},
                                   .reference_area = 0.40,
                                   .wheelbase = 1.45,
                                   .length = 2.35,
                                   .volume = 0.30,
                                   .section_width = 3.20,
                                   .section_height = 2.40,
                                   .buoyancy = 1,
                                   .pressure_gradient = -0.0012,
                                   .buoyancy_volume_factor = 1.2,
                                   .blockage = "image sum",
                                   .blockage_shape = 0.95,
                                   .floor_image = 1};
    for (int i = 0; i < 6; i++) {
        recipe.calibration.linear[i][i] = 400.0 + 50.0 * i;
        recipe.calibration.linear[i][(i + 1) % 6] = 3.0 - i;
        recipe.calibration.product[i][(3 * i + 2) % BALANCE_PRODUCTS] = 0.7;
    }
    return recipe;
}

/* A tunnel built backwards: free air to what the instruments would read. Nothing of the program is
 * called. Free-air coefficients are chosen, everything the steps take off is put on. */
static const double free_air[6] = {0.91,  0.034, 3.05,
                                   0.012, 0.21,  -0.008}; /* CD CY CL CRM CPM CYM */
static const double mach = 0.137, static_pressure = 99420.0, total_temperature = 301.4;
static const double tare[6] = {3.1, -0.4, -21.0, 0.7, 5.2, -0.3};
static const double zero_before[6] = {0.010, -0.020, 0.004, 0.001, -0.003, 0.007};
static const double zero_after[6] = {0.013, -0.021, 0.002, 0.004, -0.005, 0.006};
static const double zero_fraction = 0.3;

/* Tunnel factor of the duplex section 3.2 x 4.8, by exact lattice sums computed independently. */
static const double tau_two_thirds = 0.879175759;

/* The wake term knows the measured drag, which holds the blockage: iterate. */
static double tunnel_q_ratio(void)
{
    double solid = 0.95 * tau_two_thirds * 0.60 / pow(3.2 * 4.8, 1.5), ratio = 1.0;
    for (int i = 0; i < 60; i++)
        ratio = pow(1.0 + solid + free_air[0] * ratio * 0.40 / (4.0 * 3.2 * 2.4), 2.0);
    return ratio;
}

static void car_loads(double load[6])
{
    double q = 0.7 * static_pressure * mach * mach, ratio = tunnel_q_ratio();
    double force = q * 0.40, moment = force * 1.45;
    load[0] = (free_air[0] * ratio + 0.0012 * 1.2 * 0.30 / 0.40) * force;
    load[1] = free_air[1] * ratio * force;
    load[2] = -free_air[2] * ratio * force;
    load[3] = free_air[3] * ratio * moment;
    load[4] = free_air[4] * ratio * moment;
    load[5] = free_air[5] * ratio * moment;
}

/* To the balance centre, M_P = M_O - r x F, to its senses, and the weight on top. */
static void balance_readings(double load[6])
{
    static const double sense[6] = {1, -1, -1, 1, -1, -1};
    const double x = 0.03, y = -0.01, z = -0.35;
    double car[6];
    car_loads(car);
    car[3] -= y * car[2] - z * car[1];
    car[4] -= z * car[0] - x * car[2];
    car[5] -= x * car[1] - y * car[0];
    for (int i = 0; i < 6; i++)
        load[i] = sense[i] * car[i] + tare[i];
}

/* Outputs that the calibration turns into these loads: its diagonal leads, so repeated substitution
 * converges to rounding. */
static void outputs_of(const struct balance_calibration *calibration, const double load[6],
                       double output[6])
{
    for (int round = 0; round < 200; round++) {
        for (int i = 0; i < 6; i++) {
            double rest = load[i];
            int column = 0;
            for (int j = 0; j < 6; j++)
                rest -= j != i ? calibration->linear[i][j] * output[j] : 0.0;
            for (int j = 0; j < 6; j++)
                for (int k = j; k < 6; k++)
                    rest -= calibration->product[i][column++] * output[j] * output[k];
            output[i] = rest / calibration->linear[i][i];
        }
    }
}

static struct tunnel_inputs a_reading(const struct tunnel_recipe *recipe)
{
    struct tunnel_inputs inputs = {.zero_fraction = zero_fraction,
                                   .total_pressure = NAN,
                                   .static_pressure = static_pressure,
                                   .total_temperature = total_temperature,
                                   .static_temperature = NAN,
                                   .relative_humidity = 0.4};
    double load[6], output[6] = {0};
    balance_readings(load);
    outputs_of(&recipe->calibration, load, output);
    for (int i = 0; i < 6; i++) {
        inputs.output[i] = output[i] + 0.7 * zero_before[i] + 0.3 * zero_after[i];
        inputs.zero_before[i] = zero_before[i];
        inputs.zero_after[i] = zero_after[i];
        inputs.tare[i] = tare[i];
    }
    inputs.total_minus_static = static_pressure * (pow(1.0 + 0.2 * mach * mach, 3.5) - 1.0);
    return inputs;
}

/* tau_two_thirds carries nine digits: 1e-9 of 0.01 in the ratio. */
static void check_free_air(const struct tunnel_result *result)
{
    static const enum coefficient order[6] = {COEFFICIENT_CD,  COEFFICIENT_CY,  COEFFICIENT_CL,
                                              COEFFICIENT_CRM, COEFFICIENT_CPM, COEFFICIENT_CYM};
    for (int i = 0; i < 6; i++)
        CHECK_RELATIVE(result->corrected[order[i]], free_air[i], 1e-10,
                       "identity: built backwards");
    CHECK_RELATIVE(result->corrected[COEFFICIENT_CLF], 3.05 / 2 - 0.21, 1e-10, "identity");
    CHECK_RELATIVE(result->corrected[COEFFICIENT_CLR], 3.05 / 2 + 0.21, 1e-10, "identity");
    CHECK_RELATIVE(result->derived.balance, 100 * (3.05 / 2 - 0.21) / 3.05, 1e-12, "identity");
    CHECK_RELATIVE(result->q_ratio, tunnel_q_ratio(), 1e-10, "identity");
}

static void forward_effects_are_undone(void)
{
    struct tunnel_recipe recipe = a_recipe();
    struct tunnel_inputs inputs = a_reading(&recipe);
    struct tunnel_result result;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    check_free_air(&result);
    CHECK(result.blockage_beyond_evidence == 0);
}

static void every_source_of_q_tells_the_same(void)
{
    struct tunnel_recipe recipe = a_recipe();
    struct tunnel_inputs inputs = a_reading(&recipe);
    struct tunnel_result result;
    double rise = inputs.total_minus_static, q = 0.7 * static_pressure * mach * mach;

    inputs.total_pressure = static_pressure + rise; /* p0 and p, no difference measured */
    inputs.total_minus_static = NAN;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    check_free_air(&result);
    inputs.total_minus_static = rise; /* p0 and p0 - p, no static */
    inputs.static_pressure = NAN;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    check_free_air(&result);
    inputs.static_pressure = static_pressure;
    recipe.q_source = Q_GIVEN;
    inputs.dynamic_pressure = q;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    check_free_air(&result);
    CHECK_RELATIVE(result.freestream.mach, mach, 1e-14, "identity");
    recipe.q_source = Q_FROM_CONTRACTION;
    recipe.contraction[0] = 2.0;
    recipe.contraction[1] = 1.01;
    inputs.contraction_drop = (q - 2.0) / 1.01;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    check_free_air(&result);
}

static void temperature_and_humidity(void)
{
    struct tunnel_recipe recipe = a_recipe();
    struct tunnel_inputs inputs = a_reading(&recipe);
    struct tunnel_result total, given;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &total) == OUTCOME_OK);
    inputs.total_temperature = NAN;
    inputs.static_temperature = total_temperature / (1.0 + 0.2 * mach * mach);
    CHECK(tunnel_point_reduce(&recipe, &inputs, &given) == OUTCOME_OK);
    CHECK_RELATIVE(given.freestream.density, total.freestream.density, 1e-14, "identity");
    recipe.dry_air = 1;
    inputs.relative_humidity = NAN; /* not looked at */
    CHECK(tunnel_point_reduce(&recipe, &inputs, &given) == OUTCOME_OK);
    CHECK(given.freestream.density > total.freestream.density);
    CHECK_RELATIVE(given.corrected[COEFFICIENT_CD], total.corrected[COEFFICIENT_CD], 1e-15,
                   "identity: q does not ask for the density");
}

/* Each step recomputed from the one before it, as the ledger shows them. */
static void every_step_follows_from_the_one_before(void)
{
    struct tunnel_recipe recipe = a_recipe();
    struct tunnel_inputs inputs = a_reading(&recipe);
    struct tunnel_result r;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &r) == OUTCOME_OK);
    for (int i = 0; i < 6; i++) {
        double zero = zero_before[i] + zero_fraction * (zero_after[i] - zero_before[i]);
        CHECK_NEAR(r.zero[i], inputs.output[i] - zero, 1e-15, "identity");
        CHECK_NEAR(r.tared[i], r.balance[i] - tare[i], 1e-15, "identity");
    }
    CHECK_NEAR(r.transferred[2], -r.tared[2], 0.0, "identity: balance z is down");
    for (int i = 0; i < COEFFICIENTS; i++) {
        double drag = i == COEFFICIENT_CD ? 0.0012 * 1.2 * 0.30 / 0.40 : 0.0;
        CHECK_NEAR(r.buoyancy[i], r.raw[i] - drag, 1e-15, "identity");
        CHECK_NEAR(r.blocked[i], r.buoyancy[i] / r.q_ratio, 1e-15, "identity");
        CHECK_NEAR(r.corrected[i], r.blocked[i], 0.0, "identity");
    }
    CHECK_NEAR(r.q_ratio, pow(1.0 + r.solid_blockage + r.wake_blockage, 2.0), 1e-15, "identity");
    CHECK_NEAR(r.wake_blockage, r.buoyancy[COEFFICIENT_CD] * 0.40 / (4 * 3.2 * 2.4), 1e-16,
               "identity");
}

static void corrections_can_be_left_off(void)
{
    struct tunnel_recipe recipe = a_recipe();
    struct tunnel_inputs inputs = a_reading(&recipe);
    struct tunnel_result result;
    recipe.buoyancy = 0;
    recipe.blockage = "none";
    recipe.volume = 0.0; /* not needed then */
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    for (int i = 0; i < COEFFICIENTS; i++)
        CHECK_NEAR(result.corrected[i], result.raw[i], 0.0, "identity");
    CHECK_NEAR(result.q_ratio, 1.0, 0.0, "definition");
    CHECK(result.solid_blockage == 0.0 && result.wake_blockage == 0.0);
}

static void coefficients_of_the_facility(void)
{
    struct tunnel_recipe recipe = a_recipe();
    struct tunnel_inputs inputs = {.facility_coefficient = {0.9, NAN, 3.0, 1.3, 1.7, NAN, 0.2, NAN},
                                   .total_pressure = NAN,
                                   .static_pressure = NAN,
                                   .total_minus_static = NAN};
    struct tunnel_result result;
    recipe.source = LOADS_AS_COEFFICIENTS;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK(isnan(result.freestream.mach) && isnan(result.balance[0]));
    CHECK_NEAR(result.raw[COEFFICIENT_CD], 0.9, 0.0, "identity");
    CHECK_NEAR(result.buoyancy[COEFFICIENT_CD], 0.9 - 0.00108, 1e-15, "worked by hand");
    CHECK_RELATIVE(result.corrected[COEFFICIENT_CLF], 1.3 / result.q_ratio, 1e-15, "identity");
    CHECK(result.q_ratio > 1.01 && isnan(result.corrected[COEFFICIENT_CY]));
    CHECK_RELATIVE(result.derived.balance, 100 * 1.3 / 3.0, 1e-14, "identity");

    inputs.static_pressure = static_pressure; /* pressures there: the freestream is shown too */
    inputs.total_minus_static = 1200.0;
    inputs.total_temperature = total_temperature;
    inputs.relative_humidity = 0.4;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK(result.freestream.speed > 40.0 && result.freestream.speed < 50.0);
    CHECK(result.wind == OUTCOME_OK);
    inputs.facility_coefficient[COEFFICIENT_CL] = NAN; /* decided by CLF and CLR */
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK_NEAR(result.raw[COEFFICIENT_CL], 3.0, 1e-15, "identity: CLF + CLR");
    inputs.facility_coefficient[COEFFICIENT_CLR] = NAN; /* by CLF and CPM */
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK_NEAR(result.raw[COEFFICIENT_CL], 3.0, 1e-15, "identity: 2 (CLF + CPM)");
    inputs.facility_coefficient[COEFFICIENT_CPM] = NAN; /* by nothing */
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_NOT_FINITE);
    inputs.facility_coefficient[COEFFICIENT_CL] = 3.0;
    inputs.facility_coefficient[COEFFICIENT_CY] = INFINITY;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_NOT_FINITE);
}

/* What is wrong with a wind that nobody needs is kept, and the coefficients stand. */
static void coefficients_of_the_facility_need_no_wind(void)
{
    struct tunnel_recipe recipe = a_recipe();
    struct tunnel_inputs inputs = {.facility_coefficient = {0.9, NAN, 3.0, 1.3, 1.7, NAN, 0.2, NAN},
                                   .total_pressure = NAN,
                                   .static_pressure = static_pressure,
                                   .total_minus_static = 1200.0,
                                   .total_temperature = total_temperature,
                                   .relative_humidity = 1.05};
    struct tunnel_result result;
    recipe.source = LOADS_AS_COEFFICIENTS;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK(result.wind == OUTCOME_AIR_RANGE);
    CHECK(isnan(result.freestream.density) && isnan(result.freestream.speed));
    CHECK(isfinite(result.freestream.mach)); /* the pressures alone decide it */
    CHECK_NEAR(result.raw[COEFFICIENT_CD], 0.9, 0.0, "identity");
    inputs.total_minus_static = -3.0;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_OK);
    CHECK(result.wind == OUTCOME_NO_WIND && isnan(result.freestream.mach));
}

/* The loads of a car at yaw, read by a balance that stays where it is: along the wind and across. */
static void a_balance_that_stays_is_turned(void)
{
    struct tunnel_recipe recipe = a_recipe();
    const double yaw = 0.052, c = cos(yaw), s = sin(yaw);
    struct tunnel_inputs inputs = a_reading(&recipe);
    struct tunnel_result follows, stays;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &follows) == OUTCOME_OK);
    recipe.stays_with_tunnel = 1;
    inputs.yaw = yaw;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &stays) == OUTCOME_OK);
    for (int i = 0; i < 6; i += 3) {
        double x = follows.transferred[i], y = follows.transferred[i + 1];
        CHECK_RELATIVE(stays.transferred[i], x * c + y * s, 1e-13, "rotation, worked by hand");
        CHECK_RELATIVE(stays.transferred[i + 1], y * c - x * s, 1e-13, "rotation, worked by hand");
        CHECK_NEAR(stays.transferred[i + 2], follows.transferred[i + 2], 0.0, "identity");
    }
    inputs.yaw = NAN;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &stays) == OUTCOME_NOT_FINITE);
    CHECK(isfinite(stays.tared[0]) && isnan(stays.transferred[0]));
    recipe.stays_with_tunnel = 0; /* not looked at */
    CHECK(tunnel_point_reduce(&recipe, &inputs, &follows) == OUTCOME_OK);
}

static void pressures_that_disagree_are_measured(void)
{
    struct tunnel_inputs inputs = {
        .total_pressure = 103000, .static_pressure = 100000, .total_minus_static = 1500};
    CHECK_NEAR(tunnel_pressure_disagreement(&inputs), 1.0, 1e-15, "identity: 3000 against 1500");
    inputs.total_minus_static = -1500;
    CHECK_NEAR(tunnel_pressure_disagreement(&inputs), 3.0, 1e-15, "identity: 4500 over 1500");
    inputs.total_minus_static = 0;
    CHECK(isnan(tunnel_pressure_disagreement(&inputs)));
    double *const each[] = {&inputs.total_pressure, &inputs.static_pressure,
                            &inputs.total_minus_static};
    for (int i = 0; i < 3; i++) {
        inputs = (struct tunnel_inputs){
            .total_pressure = 103000, .static_pressure = 100000, .total_minus_static = 1500};
        *each[i] = NAN;
        CHECK(isnan(tunnel_pressure_disagreement(&inputs)));
    }
}

static void expect(enum outcome want, const struct tunnel_recipe *recipe,
                   const struct tunnel_inputs *inputs)
{
    struct tunnel_result result;
    memset(&result, 0, sizeof result);
    CHECK(tunnel_point_reduce(recipe, inputs, &result) == want);
    CHECK(isnan(result.corrected[COEFFICIENT_CD]) && isnan(result.derived.balance));
}

static void one_refusal_per_outcome(void)
{
    const struct tunnel_recipe recipe = a_recipe();
    const struct tunnel_inputs inputs = a_reading(&recipe);
    struct tunnel_recipe bad = recipe;
    bad.blockage = "wishful thinking";
    expect(OUTCOME_UNKNOWN_FAMILY, &bad, &inputs);
    bad = recipe;
    bad.section_width = 0.35;
    expect(OUTCOME_BLOCKAGE_RANGE, &bad, &inputs);
    bad = recipe;
    bad.volume = 0.0;
    expect(OUTCOME_GEOMETRY, &bad, &inputs);
    bad = recipe;
    bad.axis_sign[1] = 0.0;
    expect(OUTCOME_GEOMETRY, &bad, &inputs);
    bad = recipe;
    bad.wheelbase = 0.0;
    expect(OUTCOME_GEOMETRY, &bad, &inputs);

    struct tunnel_inputs wrong = inputs;
    wrong.total_minus_static = 0.0;
    expect(OUTCOME_NO_WIND, &recipe, &wrong);
    wrong.total_minus_static = 40000.0;
    expect(OUTCOME_TOO_FAST, &recipe, &wrong);
    wrong = inputs;
    wrong.relative_humidity = 40.0;
    expect(OUTCOME_AIR_RANGE, &recipe, &wrong);
}

static void nan_in_each_input_is_refused(void)
{
    const struct tunnel_recipe recipe = a_recipe();
    struct tunnel_inputs bad = a_reading(&recipe);
    for (int i = 0; i < 6; i++) {
        double *const each[] = {&bad.output[i], &bad.zero_before[i], &bad.zero_after[i],
                                &bad.tare[i]};
        for (int k = 0; k < 4; k++) {
            bad = a_reading(&recipe);
            *each[k] = NAN;
            expect(OUTCOME_NOT_FINITE, &recipe, &bad);
        }
    }
    double *const scalars[] = {&bad.zero_fraction, &bad.static_pressure, &bad.total_minus_static,
                               &bad.total_temperature, &bad.relative_humidity};
    for (size_t k = 0; k < sizeof scalars / sizeof *scalars; k++) {
        bad = a_reading(&recipe);
        *scalars[k] = NAN;
        expect(OUTCOME_NOT_FINITE, &recipe, &bad);
    }
}

static void nan_in_each_number_of_the_recipe_is_refused(void)
{
    struct tunnel_recipe bad = a_recipe();
    double *const numbers[] = {&bad.calibration.linear[3][2],
                               &bad.origin[0],
                               &bad.axis_sign[2],
                               &bad.moment_sign[1],
                               &bad.reference_area,
                               &bad.wheelbase,
                               &bad.length,
                               &bad.volume,
                               &bad.section_width,
                               &bad.section_height,
                               &bad.pressure_gradient,
                               &bad.buoyancy_volume_factor,
                               &bad.blockage_shape};
    for (size_t k = 0; k < sizeof numbers / sizeof *numbers; k++) {
        bad = a_recipe();
        struct tunnel_inputs inputs = a_reading(&bad);
        *numbers[k] = NAN;
        expect(OUTCOME_NOT_FINITE, &bad, &inputs);
    }
}

static void steps_before_a_refusal_are_kept(void)
{
    struct tunnel_recipe recipe = a_recipe();
    struct tunnel_inputs inputs = a_reading(&recipe);
    struct tunnel_result result;
    recipe.blockage = "wishful thinking";
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_UNKNOWN_FAMILY);
    CHECK(isfinite(result.raw[COEFFICIENT_CD]) && isfinite(result.buoyancy[COEFFICIENT_CL]));
    CHECK(isnan(result.q_ratio) && isnan(result.blocked[COEFFICIENT_CD]));
    inputs.tare[2] = NAN;
    CHECK(tunnel_point_reduce(&recipe, &inputs, &result) == OUTCOME_NOT_FINITE);
    CHECK(isfinite(result.balance[2]) && isnan(result.tared[0]) && isnan(result.freestream.mach));
}

CU_TestInfo tunnel_point_tests[] = {
    {"a tunnel built backwards from free air is undone", forward_effects_are_undone},
    {"every source of q tells the same", every_source_of_q_tells_the_same},
    {"static or total temperature, damp or dry", temperature_and_humidity},
    {"every step follows from the one before", every_step_follows_from_the_one_before},
    {"corrections can be left off", corrections_can_be_left_off},
    {"coefficients reduced by the facility", coefficients_of_the_facility},
    {"coefficients of the facility need no wind", coefficients_of_the_facility_need_no_wind},
    {"a balance that stays is turned", a_balance_that_stays_is_turned},
    {"pressures that disagree are measured", pressures_that_disagree_are_measured},
    {"one refusal per outcome", one_refusal_per_outcome},
    {"NAN in each input is refused", nan_in_each_input_is_refused},
    {"NAN in each number of the recipe is refused", nan_in_each_number_of_the_recipe_is_refused},
    {"steps before a refusal are kept", steps_before_a_refusal_are_kept},
    CU_TEST_INFO_NULL};
