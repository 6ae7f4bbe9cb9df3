/* model.h - the state of tunnel, balance and car at every point of the demo night. */
#ifndef SAMPLE_RUNS_MODEL_H
#define SAMPLE_RUNS_MODEL_H

#include <stdint.h>

#include "sample_runs/calibration.h"
#include "sample_runs/car.h"
#include "sample_runs/random.h"

enum {
    FORCE_RATE = 50, /* Hz */
    TAP_RATE = 10,
    ZERO_ROWS = 100,
    TARE_RUN = -1,      /* number of the tare run and its pair of zeros */
    OFF_TARGET_RUN = 3, /* R04: its last attitude was missed by three quarters of a millimetre */
    ZERO_SHIFT_RUN = 8, /* R09: the balance drifts more than between other zeros */
    MISSING_SAMPLES_RUN = 4 /* R05: the thermometer drops out for six samples of a point */
};

struct model {
    uint64_t seed;
    int rows, tap_rows; /* of one point */
    double solid;       /* solid blockage */
    struct calibration calibration;
    double zero[RUNS + 1][2][6]; /* mV/V, before and after; the tare run's first */
};

struct model model_make(uint64_t seed, int rows, int tap_rows);

/* Zero of the balance at a time, linear between the two zeros of a run; mV/V. */
void model_zero(const struct model *model, int run, double time, double zero[6]);

/* Air and wind of the tunnel at a time. */
struct air {
    double static_pressure, total_temperature, humidity; /* Pa, K, 0..1 */
};
struct air model_air(double time);
double model_dynamic_pressure(const struct model *model, int run); /* Pa, set for a run */

/* Attitude that a point of a run really had, up to 0.2 mm from its target. */
struct attitude model_attained(const struct model *model, int run, int point);

/* Free-air coefficients of a point of a run: car, drift and refit; no sample noise. */
struct car_coefficients model_coefficients(const struct model *model, int run, int point);

/* Time of the middle of a point's force rows, s of the night; the tare run too. */
double model_point_time(const struct model *model, int run, int point);

#endif
