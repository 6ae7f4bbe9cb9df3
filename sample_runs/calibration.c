/* calibration.c - numbers of an invented balance, rounded so that they are the same everywhere. */
#include "sample_runs/calibration.h"

#include <math.h>
#include <string.h>

static const double sensitivity[6] = {1000.0, 600.0, 2600.0, 520.0, 980.0, 540.0};

/* A number between -1 and 1 for each term, without pattern that a reader would see. */
static double scatter(int a, int b)
{
    return sin(12.9898 * (a + 1) + 78.233 * (b + 1) + 0.5 * a * b);
}

static double rounded(double value)
{
    return floor(value * 100.0 + 0.5) / 100.0;
}

/* Gauss-Jordan without pivoting, which uses work up: the diagonal of the calibration dominates by construction. */
static void invert(double work[6][6], double inverse[6][6])
{
    for (int i = 0; i < 6; i++)
        for (int j = 0; j < 6; j++)
            inverse[i][j] = i == j ? 1.0 : 0.0;
    for (int pivot = 0; pivot < 6; pivot++) {
        double scale = 1.0 / work[pivot][pivot];
        for (int j = 0; j < 6; j++) {
            work[pivot][j] *= scale;
            inverse[pivot][j] *= scale;
        }
        for (int i = 0; i < 6; i++) {
            double factor = i == pivot ? 0.0 : work[i][pivot];
            for (int j = 0; j < 6; j++) {
                work[i][j] -= factor * work[pivot][j];
                inverse[i][j] -= factor * inverse[pivot][j];
            }
        }
    }
}

struct calibration calibration_make(void)
{
    struct calibration c;
    double work[6][6];

    for (int i = 0; i < 6; i++) {
        for (int j = 0; j < 6; j++)
            c.linear[i][j] =
                i == j ? sensitivity[i] : rounded(0.012 * sensitivity[i] * scatter(i, j));
        for (int p = 0; p < CALIBRATION_PRODUCTS; p++)
            c.product[i][p] = rounded(0.002 * sensitivity[i] * scatter(i, 6 + p));
    }
    memcpy(work, c.linear, sizeof work);
    invert(work, c.inverse);
    return c;
}

static void product_loads(const struct calibration *c, const double r[6], double load[6])
{
    for (int i = 0; i < 6; i++) {
        const double *term = c->product[i];
        load[i] = 0.0;
        for (int j = 0; j < 6; j++)
            for (int k = j; k < 6; k++)
                load[i] += *term++ * r[j] * r[k];
    }
}

void calibration_outputs(const struct calibration *calibration, const double load[6],
                         double output[6])
{
    double curved[6] = {0};

    for (int step = 0; step < 8; step++) {
        for (int i = 0; i < 6; i++) {
            output[i] = 0.0;
            for (int j = 0; j < 6; j++)
                output[i] += calibration->inverse[i][j] * (load[j] - curved[j]);
        }
        product_loads(calibration, output, curved);
    }
}
