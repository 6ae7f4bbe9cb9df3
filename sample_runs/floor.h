/* floor.h - the pressure taps of the invented floor and the pressures there. */
#ifndef SAMPLE_RUNS_FLOOR_H
#define SAMPLE_RUNS_FLOOR_H

#include "sample_runs/night.h"

enum {
    TAPS = 120,
    FROZEN_TAP = 46, /* its tube is off: the same reading all night */
    NOISY_TAP = 82   /* a leak at the connector: ten times the noise of the others */
};

struct floor_tap {
    double x, y, z; /* m, car axes */
    double normal_x, normal_y, normal_z;
    double area; /* m2 of floor that the tap stands for */
    double tube; /* m */
};

/* Tap 0 .. TAPS - 1; printed names are T001 .. T120. */
struct floor_tap floor_tap(int tap);

/* Free-air pressure coefficient at a tap, without refit effect and noise. */
double floor_pressure(int tap, int configuration, const struct attitude *attitude);

/* Shape over the floor of what a refit changes, of order 1. */
double floor_refit_shape(int tap);

#endif
