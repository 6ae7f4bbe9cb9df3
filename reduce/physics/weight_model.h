/* weight_model.h - the weight of a rigid car on a balance: fitted from a wind-off sweep, and predicted.
 *
 * A balance that follows an angle of the car tilts with it, so that gravity turns in its axes; an angle
 * that it does not follow moves the centre of gravity over it. With g the unit vector along gravity in
 * balance axes, W the weight, r the centre of gravity in the car's own axes from the car's origin (the
 * ground at mid-wheelbase), Q the turn from car to balance axes and o the balance's reference point in
 * car axes,
 *
 *   F = F_c + W g,     M = M_c + (Q r - o) x W g
 *
 * The constants hold what the zero was taken with: only differences of a sweep tell anything. So the
 * fit has two stages, each by least squares with its constants free:
 *
 *   (a) F_i - mean F = W (g_i - mean g)                                    -> W
 *   (b) the same of M_i + o x W g_i = M_c + (Q_i m) x g_i,  m = W r        -> m, and r = m/W
 *
 * Senses: axes parallel to x aft, y right, z up; pitch positive nose down, roll right side down, yaw
 * with the air from the right. All followed and level in roll, g = (-sin pitch, 0, -cos pitch).
 *
 * What a sweep does not tell: W where the balance never tilts; of r whatever the turns leave alone. A
 * balance that follows the pitch turns g by d along x and only by d^2/2 along z, so that the height z
 * and the side y of the centre of gravity come at first order in d and its x at second; a balance that
 * stays level under a yawing car tells x and y and never z.
 *
 * Source: statics of a rigid body; two separate fits as in "A new global regression analysis method for
 * the prediction of wind tunnel model weight corrections" (N. Ulbrich et al., AIAA, 2014; authors and
 * year from memory). Least squares by singular values: Lawson, Hanson, Solving Least Squares Problems,
 * 1974, chapter 4 (from memory).                                                                     */
#ifndef LAPWING_WEIGHT_MODEL_H
#define LAPWING_WEIGHT_MODEL_H

#include <stddef.h>

#include "reduce/physics/outcome.h"

/* The angles that a balance turns with; a set of them is the sum. */
enum weight_follows { FOLLOWS_PITCH = 1, FOLLOWS_ROLL = 2, FOLLOWS_YAW = 4 };

struct weight_attitude {
    double pitch, roll, yaw; /* rad */
};

struct weight_setup {
    unsigned follows;      /* of enum weight_follows */
    double origin[3];      /* m, o: balance reference point in car axes */
    double scales_weight;  /* N, from scales; 0 when not given. Taken where the sweep tells no W */
    double position_limit; /* m: a coordinate of r is told when its standard uncertainty is below */
};

struct weight_sample {
    struct weight_attitude attitude;
    double load
        [6]; /* N, N m: about the balance's reference point, axes parallel to the car's senses */
};

struct weight_fit {
    size_t n;
    double weight, weight_u; /* N, W; NAN where the sweep does not tell it */
    double weight_used;      /* N: W, else that of the scales, else 0 */
    double moment[3];        /* N m, m = W r as fitted; 0 along directions that no turn reaches */
    double position[3];      /* m, r; NAN in a coordinate that the sweep does not tell */
    double position_u[3];    /* m; INFINITY where no turn reaches it, NAN where it can't be told */
    double tilt;             /* rms change of g over the sweep, 1: what stage (a) rests on */
    double condition;   /* of stage (b): largest over smallest singular value; INFINITY: a direction
                              * of r is not reached at all */
    double constant[6]; /* F_c and M_c */
    double rms[6];      /* N, N m: root mean square of the residuals */
    struct weight_attitude least, most; /* rad: range of the sweep */
};

/* Unit vector along gravity in balance axes. */
void weight_direction(unsigned follows, const struct weight_attitude *attitude,
                      double direction[3]);

/* Fits n samples. A turn below 1e-6 (root mean square over the sweep) tells nothing: it is less than
 * any inclinometer resolves. W is told when that is so and its standard uncertainty, from the scatter
 * of the forces about the fit, is below 5 % of it; r as position_limit says; both limits are common
 * practice, no source. The uncertainty of r leaves that of W out, which scales it as a whole.
 * OUTCOME_TOO_FEW: fewer than two samples; OUTCOME_NOT_FINITE: an attitude, load or setup is not
 * finite; OUTCOME_NO_MEMORY. *fit is written on OUTCOME_OK only. */
enum outcome weight_fit_make(const struct weight_setup *setup, const struct weight_sample *sample,
                             size_t n, struct weight_fit *fit);

/* Loads that the model predicts at an attitude, constants included, in the sample's axes.
 * OUTCOME_NOT_FINITE for an attitude that is not; then load is not written. */
enum outcome weight_loads(const struct weight_setup *setup, const struct weight_fit *fit,
                          const struct weight_attitude *attitude, double load[6]);

#endif
