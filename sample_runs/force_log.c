/* force_log.c - balance, air and attitude of the points of a run with wind on. */
#include <ctype.h>
#include <stdio.h>

#include "sample_runs/force_row.h"
#include "sample_runs/logs.h"
#include "sample_runs/tunnel.h"

enum { MISSING_POINT = 6, MISSING_FROM = 10, MISSING_ROWS = 6 };

/* Everything of a point that its samples scatter about. */
struct point {
    struct car_coefficients coefficients;
    struct attitude attitude;
    struct air air;
    double dynamic_pressure;
    double weight[6];
    double start; /* s since the run began */
};

struct scatter {
    struct random_walker drag, front, rear, wind;
};

void logs_name(char *out, size_t size, int run, const char *kind)
{
    char name[8];
    size_t i = 0;

    for (const char *c = run == TARE_RUN ? "T00" : night_run(run).name; *c != '\0'; c++)
        name[i++] = (char)tolower((unsigned char)*c);
    name[i] = '\0';
    (void)snprintf(out, size, "logs/%s_%s.csv", name, kind);
}

static struct point point_make(const struct model *model, int run, int k)
{
    struct point p;

    p.coefficients = model_coefficients(model, run, k);
    p.attitude = model_attained(model, run, k);
    p.air = model_air(model_point_time(model, run, k));
    p.dynamic_pressure = model_dynamic_pressure(model, run);
    tunnel_weight_change(&p.attitude, p.weight);
    p.start = night_point_start(k);
    return p;
}

static struct scatter scatter_make(struct random_stream *stream)
{
    struct car_noise noise = car_noise();
    struct scatter s = {
        random_walker_open(stream, noise.sample_phi, noise.sample_drag),
        random_walker_open(stream, noise.sample_phi, noise.sample_axle),
        random_walker_open(stream, noise.sample_phi, noise.sample_axle),
        random_walker_open(stream, 0.8, 0.0006),
    };
    return s;
}

/* Outputs of the balance under coefficients and wind of one instant. */
static void sense(const struct model *model, const struct car_coefficients *coefficients,
                  const struct point *p, double dynamic_pressure, double output[6])
{
    double q_ratio = 1.0, at_origin[6], load[6];
    struct car_coefficients confined = tunnel_confined(coefficients, model->solid, &q_ratio);

    tunnel_loads(&confined, dynamic_pressure, at_origin);
    tunnel_to_balance(at_origin, load);
    for (int i = 0; i < 6; i++)
        load[i] += p->weight[i];
    calibration_outputs(&model->calibration, load, output);
}

static struct force_row row_make(const struct model *model, int run, const struct point *p,
                                 struct scatter *scatter, struct random_stream *stream, int k)
{
    struct force_row row = {.air = p->air, .attitude = p->attitude};
    struct car_coefficients c = p->coefficients;
    double zero[6];

    c.drag += random_walker_next(&scatter->drag, stream);
    c.front += random_walker_next(&scatter->front, stream);
    c.rear += random_walker_next(&scatter->rear, stream);
    double q = p->dynamic_pressure * (1.0 + random_walker_next(&scatter->wind, stream));
    row.time = p->start + (double)k / FORCE_RATE;
    sense(model, &c, p, q, row.output);
    model_zero(model, run, night_run(run).start + row.time, zero);
    for (int i = 0; i < 6; i++)
        row.output[i] += zero[i] + 2e-5 * random_normal(stream);
    double mach = tunnel_mach(q, p->air.static_pressure);
    row.total_minus_static = tunnel_total_minus_static(mach, p->air.static_pressure);
    row.belt_speed =
        tunnel_speed(mach, p->air.total_temperature, p->air.static_pressure, p->air.humidity, q) +
        0.02 * random_normal(stream);
    row.air.static_pressure += 2.0 * random_normal(stream);
    row.air.total_temperature += 0.02 * random_normal(stream);
    row.air.humidity += 0.002 * random_normal(stream);
    row.attitude.front += 1e-5 * random_normal(stream);
    row.attitude.rear += 1e-5 * random_normal(stream);
    row.attitude.yaw += 2e-5 * random_normal(stream);
    return row;
}

int logs_write_forces(const struct model *model, const char *folder, int run)
{
    struct random_stream stream = random_open(model->seed, RANDOM_FORCE_SAMPLES, run);
    struct text_file text;
    char name[64];

    logs_name(name, sizeof name, run, "forces");
    if (!text_open(&text, folder, name))
        return 0;
    force_row_header(&text);
    for (int k = 0; k < TARGETS; k++) {
        struct point p = point_make(model, run, k);
        struct scatter scatter = scatter_make(&stream);
        for (int i = 0; i < model->rows; i++) {
            struct force_row row = row_make(model, run, &p, &scatter, &stream, i);
            row.point = k;
            row.no_temperature = run == MISSING_SAMPLES_RUN && k == MISSING_POINT &&
                                 i >= MISSING_FROM && i < MISSING_FROM + MISSING_ROWS;
            force_row_write(&text, &row);
        }
    }
    return text_close(&text);
}
