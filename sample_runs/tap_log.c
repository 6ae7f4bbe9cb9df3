/* tap_log.c - floor pressures, relative to the static reference: semicolons, units in the names. */
#include <math.h>
#include <stdio.h>

#include "sample_runs/floor.h"
#include "sample_runs/logs.h"
#include "sample_runs/text_file.h"
#include "sample_runs/tunnel.h"

enum { FIRST_TAP_REFIT = 1000 }; /* index of the taps' own streams of refit effects */

static void write_header(struct text_file *text)
{
    char name[32];

    text_string(text, "Time [s];Point");
    for (int tap = 0; tap < TAPS; tap++) {
        (void)snprintf(name, sizeof name, ";T%03d [Pa]", tap + 1);
        text_string(text, name);
    }
    text_string(text, "\n");
}

/* Pressure coefficients that the taps of a point scatter about, between the walls. */
static void tap_means(const struct model *model, int run, int point, double cp[TAPS])
{
    struct night_run r = night_run(run);
    int index = FIRST_TAP_REFIT + r.mounting;
    struct random_stream refit = random_open(model->seed, RANDOM_REFIT, index);
    double amplitude = 0.006 * random_normal(&refit), q_ratio = 1.0;
    struct attitude attitude = model_attained(model, run, point);
    struct car_coefficients c = model_coefficients(model, run, point);
    struct air air = model_air(model_point_time(model, run, point));
    double q = model_dynamic_pressure(model, run);
    double mach = tunnel_mach(q, air.static_pressure);
    double stagnation = tunnel_total_minus_static(mach, air.static_pressure) / q;

    (void)tunnel_confined(&c, model->solid, &q_ratio);
    for (int tap = 0; tap < TAPS; tap++) {
        double free_air =
            floor_pressure(tap, r.configuration, &attitude) + amplitude * floor_refit_shape(tap);
        cp[tap] = tunnel_confined_pressure(free_air, q_ratio, stagnation);
    }
}

static void write_row(struct text_file *text, const double cp[TAPS], double q,
                      struct random_stream *stream)
{
    for (int tap = 0; tap < TAPS; tap++) {
        double noise = (tap == NOISY_TAP ? 0.15 : 0.015) * random_normal(stream);
        text_string(text, ";");
        if (tap == FROZEN_TAP)
            text_string(text, "-412.6");
        else
            text_fixed(text, q * (cp[tap] + noise), 1);
    }
    text_string(text, "\n");
}

int logs_write_taps(const struct model *model, const char *folder, int run)
{
    struct random_stream stream = random_open(model->seed, RANDOM_TAP_SAMPLES, run);
    double q = model_dynamic_pressure(model, run), cp[TAPS];
    struct text_file text;
    char name[64];

    logs_name(name, sizeof name, run, "taps");
    if (!text_open(&text, folder, name))
        return 0;
    write_header(&text);
    for (int k = 0; k < TARGETS; k++) {
        tap_means(model, run, k, cp);
        for (int i = 0; i < model->tap_rows; i++) {
            text_fixed(&text, night_point_start(k) + (double)i / TAP_RATE, 2);
            text_string(&text, ";");
            text_whole(&text, k + 1);
            write_row(&text, cp, q, &stream);
        }
    }
    return text_close(&text);
}
