/* model.c - drift of zeros and air, attained attitudes, and the coefficients of each point. */
#include "sample_runs/model.h"

#include <math.h>

#include "sample_runs/tunnel.h"

static double zero_time(int run, int after)
{
    return night_zero_start(run, after) + 0.5 * (ZERO_ROWS - 1) / FORCE_RATE;
}

/* The zeros wander by some 1e-4 mV/V between readings: 0.05 N in drag, 0.13 N in downforce. */
static void make_zeros(struct model *model)
{
    struct random_stream stream = random_open(model->seed, RANDOM_ZERO, 0);
    double zero[6];

    for (int i = 0; i < 6; i++)
        zero[i] = random_uniform(&stream, -0.05, 0.05);
    for (int k = 0; k < 2 * (RUNS + 1); k++) {
        int run = k / 2 - 1, after = k % 2;
        for (int i = 0; i < 6; i++)
            zero[i] += 5e-5 * random_normal(&stream);
        if (run == ZERO_SHIFT_RUN && after)
            zero[2] -= 0.0021; /* about 5.5 N of downforce */
        for (int i = 0; i < 6; i++)
            model->zero[k / 2][after][i] = zero[i];
    }
}

struct model model_make(uint64_t seed, int rows, int tap_rows)
{
    struct model model = {.seed = seed, .rows = rows, .tap_rows = tap_rows};

    model.solid = tunnel_solid_blockage();
    model.calibration = calibration_make();
    make_zeros(&model);
    return model;
}

void model_zero(const struct model *model, int run, double time, double zero[6])
{
    double before = zero_time(run, 0), after = zero_time(run, 1);
    double share = (time - before) / (after - before);

    for (int i = 0; i < 6; i++) {
        const double *first = model->zero[run + 1][0], *second = model->zero[run + 1][1];
        zero[i] = first[i] + share * (second[i] - first[i]);
    }
}

struct air model_air(double time)
{
    double share = time / night_length();
    struct air air = {100870.0 + 60.0 * sin(4.0 * share), 294.2 + 1.8 * share, 0.47 - 0.03 * share};
    return air;
}

double model_dynamic_pressure(const struct model *model, int run)
{
    struct random_stream stream = random_open(model->seed, RANDOM_AIR, run + 1);
    return 1500.0 * (1.0 + 0.0015 * random_normal(&stream));
}

struct attitude model_attained(const struct model *model, int run, int point)
{
    int index = (run + 1) * TARGETS + point;
    struct random_stream stream = random_open(model->seed, RANDOM_ATTAINED, index);
    struct attitude attitude = night_target_attitude(point);

    attitude.front += random_uniform(&stream, -0.2e-3, 0.2e-3);
    attitude.rear += random_uniform(&stream, -0.2e-3, 0.2e-3);
    attitude.yaw += random_uniform(&stream, -7e-5, 7e-5); /* 0.004 deg */
    if (run == OFF_TARGET_RUN && point == TARGETS - 1)
        attitude.front = night_target_attitude(point).front + 0.75e-3;
    return attitude;
}

double model_point_time(const struct model *model, int run, int point)
{
    double start = run == TARE_RUN ? night_tare_start() : night_run(run).start;
    return start + night_point_start(point) + 0.5 * (model->rows - 1) / FORCE_RATE;
}

struct car_coefficients model_coefficients(const struct model *model, int run, int point)
{
    struct night_run r = night_run(run);
    struct attitude attitude = model_attained(model, run, point);
    struct car_coefficients c = car_free_air(r.configuration, &attitude);
    struct car_coefficients refit = car_refit(model->seed, r.mounting);
    struct car_coefficients drift = car_drift(model_point_time(model, run, point) / night_length());

    c.drag += refit.drag + drift.drag;
    c.side += refit.side;
    c.front += refit.front + drift.front;
    c.rear += refit.rear + drift.rear;
    c.roll += refit.roll;
    c.yaw += refit.yaw;
    return c;
}
