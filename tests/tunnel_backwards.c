/* tunnel_backwards.c - see tunnel_backwards.h. */
#include "tests/tunnel_backwards.h"

#include <math.h>

const struct backwards backwards = {.free_air = {0.91, 0.034, 3.05, 0.012, 0.21, -0.008},
                                    .mach = 0.137,
                                    .static_pressure = 99420.0,
                                    .total_temperature = 301.4,
                                    .tare = {3.1, -0.4, -21.0, 0.7, 5.2, -0.3},
                                    .zero_before = {0.010, -0.020, 0.004, 0.001, -0.003, 0.007},
                                    .zero_after = {0.013, -0.021, 0.002, 0.004, -0.005, 0.006},
                                    .zero_fraction = 0.3};

struct tunnel_recipe backward_recipe(void)
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

/* Tunnel factor of the duplex section 3.2 x 4.8, by exact lattice sums computed independently. */
static const double tau_two_thirds = 0.879175759;

/* The wake term knows the measured drag, which holds the blockage: iterate. */
double backward_q_ratio(void)
{
    double solid = 0.95 * tau_two_thirds * 0.60 / pow(3.2 * 4.8, 1.5), ratio = 1.0;
    for (int i = 0; i < 60; i++)
        ratio = pow(1.0 + solid + backwards.free_air[0] * ratio * 0.40 / (4.0 * 3.2 * 2.4), 2.0);
    return ratio;
}

static void car_loads(const struct backward_walls *walls, double load[6])
{
    double q = 0.7 * backwards.static_pressure * backwards.mach * backwards.mach,
           ratio = walls->q_ratio;
    double force = q * 0.40, moment = force * 1.45;
    load[0] = (backwards.free_air[0] * ratio + walls->drag) * force;
    load[1] = backwards.free_air[1] * ratio * force;
    load[2] = -(backwards.free_air[2] * ratio + walls->downforce) * force;
    load[3] = backwards.free_air[3] * ratio * moment;
    /* CLF = CL/2 - CPM: what is added to the front beyond half of the downforce turns the nose down */
    load[4] = (backwards.free_air[4] * ratio + walls->downforce / 2 - walls->front) * moment;
    load[5] = backwards.free_air[5] * ratio * moment;
}

/* To the balance centre, M_P = M_O - r x F, to its senses, and the weight on top. */
static void balance_readings(const struct backward_walls *walls, double load[6])
{
    static const double sense[6] = {1, -1, -1, 1, -1, -1};
    const double x = 0.03, y = -0.01, z = -0.35;
    double car[6];
    car_loads(walls, car);
    car[3] -= y * car[2] - z * car[1];
    car[4] -= z * car[0] - x * car[2];
    car[5] -= x * car[1] - y * car[0];
    for (int i = 0; i < 6; i++)
        load[i] = sense[i] * car[i] + backwards.tare[i];
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

struct tunnel_inputs backward_reading(const struct tunnel_recipe *recipe)
{
    const struct backward_walls walls = {.q_ratio = backward_q_ratio(),
                                         .drag = 0.0012 * 1.2 * 0.30 / 0.40};
    return backward_reading_between(recipe, &walls);
}

struct tunnel_inputs backward_reading_between(const struct tunnel_recipe *recipe,
                                              const struct backward_walls *walls)
{
    struct tunnel_inputs inputs = {.zero_fraction = backwards.zero_fraction,
                                   .total_pressure = NAN,
                                   .static_pressure = backwards.static_pressure,
                                   .total_temperature = backwards.total_temperature,
                                   .static_temperature = NAN,
                                   .relative_humidity = 0.4,
                                   .base_pressure = NAN,
                                   .base_cp = NAN};
    double load[6], output[6] = {0};
    balance_readings(walls, load);
    outputs_of(&recipe->calibration, load, output);
    for (int i = 0; i < 6; i++) {
        inputs.output[i] =
            output[i] + 0.7 * backwards.zero_before[i] + 0.3 * backwards.zero_after[i];
        inputs.zero_before[i] = backwards.zero_before[i];
        inputs.zero_after[i] = backwards.zero_after[i];
        inputs.tare[i] = backwards.tare[i];
    }
    inputs.total_minus_static =
        backwards.static_pressure * (pow(1.0 + 0.2 * backwards.mach * backwards.mach, 3.5) - 1.0);
    return inputs;
}
