/* car.h - the invented aerodynamics of the Curlew C4: free-air coefficients and tap pressures.
 *
 * Coefficients refer to q, the reference area and, for moments, the wheelbase; axes x aft, y right,
 * z up, which pitch with the car and its balance. CL, CLF and CLR are downforce, CPM is right-handed
 * about y (nose up positive), so that CLF = CL/2 - CPM and CLR = CL/2 + CPM.                        */
#ifndef SAMPLE_RUNS_CAR_H
#define SAMPLE_RUNS_CAR_H

#include <stdint.h>

#include "sample_runs/night.h"

/* The independent coefficients of the model; the rest follows from them. */
struct car_coefficients {
    double drag, side, front, rear, roll, yaw; /* CD CY CLF CLR CRM CYM */
};

/* What a person reads off: CL, balance in percent, L/D. */
struct car_quantities {
    double cd, cl, clf, clr, balance, lift_to_drag;
};

double car_reference_area(void); /* m2 */
double car_wheelbase(void);      /* m */
double car_volume(void);         /* m3 */
double car_length(void);         /* m */
double car_weight(void);         /* N, on the balance */
/* Nose-down pitch, rad, from the ride heights. */
double car_pitch(const struct attitude *attitude);

/* Free-air coefficients without refit effect, drift or noise. */
struct car_coefficients car_free_air(int configuration, const struct attitude *attitude);
struct car_quantities car_read(double drag, double front, double rear);

/* Slow drift of the car's and tunnel's state over the night, added to the coefficients: linear, and
 * a small smooth part. share: 0 at the first zero, 1 at the last. */
struct car_coefficients car_drift(double share);

/* The effect of one refit, the same at every attitude of a mounting. */
struct car_coefficients car_refit(uint64_t seed, int mounting);

/* Standard deviations behind one mounting. total is in CL, shift moves downforce between the axles. */
struct car_noise {
    double refit_drag, refit_total, refit_shift;
    double sample_drag, sample_axle; /* of one sample; drag, and each axle */
    double sample_phi;               /* autocorrelation between neighbouring samples */
};
struct car_noise car_noise(void);

#endif
