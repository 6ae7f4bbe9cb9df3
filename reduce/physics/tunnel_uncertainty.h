/* tunnel_uncertainty.h - what the scatter of the measured means does to the corrected coefficients.
 *
 *   u^2(y) = J C J^T,   J_i = [y(x_i + h_i) - y(x_i - h_i)] / (2 h_i),   h_i = sqrt(C_ii)
 *
 * C is the covariance of the means, with everything that moves together kept together: loads and q of
 * the same gust partly cancel. Random within the point only; calibration and repeatability are not in.
 * Source: JCGM 100:2008 (GUM), equation 13 and 5.1.3 note 2 (central differences, one standard
 * uncertainty wide; numbers from memory).                                                          */
#ifndef LAPWING_TUNNEL_UNCERTAINTY_H
#define LAPWING_TUNNEL_UNCERTAINTY_H

#include <stddef.h>

#include "reduce/physics/outcome.h"
#include "reduce/physics/tunnel_point.h"

/* The inputs that can be varied. OUTPUT_1 + i is output[i], COEFFICIENT_1 + i facility_coefficient[i]. */
enum tunnel_varied {
    VARIED_OUTPUT_1,
    VARIED_OUTPUT_2,
    VARIED_OUTPUT_3,
    VARIED_OUTPUT_4,
    VARIED_OUTPUT_5,
    VARIED_OUTPUT_6,
    VARIED_COEFFICIENT_1,
    VARIED_COEFFICIENT_2,
    VARIED_COEFFICIENT_3,
    VARIED_COEFFICIENT_4,
    VARIED_COEFFICIENT_5,
    VARIED_COEFFICIENT_6,
    VARIED_COEFFICIENT_7,
    VARIED_COEFFICIENT_8,
    VARIED_TOTAL_PRESSURE,
    VARIED_STATIC_PRESSURE,
    VARIED_TOTAL_MINUS_STATIC,
    VARIED_DROP,
    VARIED_DYNAMIC_PRESSURE,
    VARIED_SPEED,
    VARIED_TOTAL_TEMPERATURE,
    VARIED_STATIC_TEMPERATURE,
    VARIED_HUMIDITY,
    VARIED_CELL_1, /* CELL_1 + i is cell[i] */
    VARIED_CELL_2,
    VARIED_CELL_3,
    VARIED_CELL_4,
    VARIED_CELL_5,
    VARIED_CELL_6,
    VARIED_CELL_7,
    VARIED_CELL_8,
    VARIED_CELL_9,
    VARIED_CELL_10,
    VARIED_COUNT
};

struct tunnel_uncertainty {
    double coefficient[COEFFICIENTS]; /* standard uncertainties of the corrected ones */
    double balance;                   /* %; NAN where the balance is */
    double lift_to_drag;              /* NAN where L/D is */
};

/* Standard uncertainties of the point from the n x n covariance (row-major, SI squared) of the means
 * named in varied[n], each at most once. An input whose variance is 0 is taken as exact. At a limit of
 * the physics (humidity 1) the difference is taken to the side that has a number. A facility
 * coefficient that is NAN gives NAN for itself alone.
 * Outcomes: those of tunnel_point_reduce() at the means; OUTCOME_NOT_FINITE when the covariance is not
 * finite; OUTCOME_SINGULAR when it is no covariance (a negative variance, also of a result);
 * OUTCOME_TOO_FEW when n exceeds VARIED_COUNT. *uncertainty is written on OUTCOME_OK only. */
enum outcome tunnel_uncertainty(const struct tunnel_recipe *recipe,
                                const struct tunnel_inputs *inputs,
                                const enum tunnel_varied *varied, size_t n,
                                const double *covariance, struct tunnel_uncertainty *uncertainty);

#endif
