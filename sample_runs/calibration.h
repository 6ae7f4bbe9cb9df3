/* calibration.h - the balance "underfloor": its second-order calibration, and that run backwards. */
#ifndef SAMPLE_RUNS_CALIBRATION_H
#define SAMPLE_RUNS_CALIBRATION_H

enum { CALIBRATION_PRODUCTS = 21 };

/* load_i = sum_j linear[i][j] R_j + sum_(j <= k) product[i][..] R_j R_k, R in mV/V less their zero;
 * loads in N and N m. Products in the order (1,1) (1,2) .. (1,6) (2,2) .. (6,6). */
struct calibration {
    double linear[6][6];
    double product[6][CALIBRATION_PRODUCTS];
    double inverse[6][6]; /* of linear */
};

struct calibration calibration_make(void);

/* Outputs whose loads are these, by repeated substitution of the products. */
void calibration_outputs(const struct calibration *calibration, const double load[6],
                         double output[6]);

#endif
