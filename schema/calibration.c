/* calibration.c - is the matrix of a calibration one at all; see calibration.h. */
#include "schema/calibration.h"

#include <math.h>
#include <string.h>

/* Rows are loads in the direct form, outputs in the iterative one. */
static void copy_linear(const struct calibration *calibration, double a[LOAD_COUNT][LOAD_COUNT])
{
    for (size_t i = 0; i < LOAD_COUNT; i++)
        memcpy(a[i],
               calibration->form == CALIBRATION_DIRECT ? calibration->linear[i]
                                                       : calibration->output[i],
               sizeof a[i]);
}

static double largest_of(double a[LOAD_COUNT][LOAD_COUNT], size_t k, int is_row)
{
    double largest = 0;
    for (size_t i = 0; i < LOAD_COUNT; i++)
        largest = fmax(largest, fabs(is_row ? a[k][i] : a[i][k]));
    return largest;
}

/* Divides rows, then columns, by their largest element; one of zeros stays as it is. */
static void equilibrate(double a[LOAD_COUNT][LOAD_COUNT])
{
    for (int is_row = 1; is_row >= 0; is_row--) {
        for (size_t k = 0; k < LOAD_COUNT; k++) {
            double largest = largest_of(a, k, is_row);
            for (size_t i = 0; i < LOAD_COUNT && largest > 0; i++)
                *(is_row ? &a[k][i] : &a[i][k]) /= largest;
        }
    }
}

static void swap(double *a, double *b)
{
    double kept = *a;
    *a = *b;
    *b = kept;
}

/* Brings the largest element of the rest from (k, k) on to (k, k); gives its size. */
static double bring_pivot(double a[LOAD_COUNT][LOAD_COUNT], size_t k)
{
    size_t row = k;
    size_t column = k;
    for (size_t i = k; i < LOAD_COUNT; i++)
        for (size_t j = k; j < LOAD_COUNT; j++)
            if (fabs(a[i][j]) > fabs(a[row][column])) {
                row = i;
                column = j;
            }
    for (size_t j = 0; j < LOAD_COUNT; j++)
        swap(&a[k][j], &a[row][j]);
    for (size_t i = 0; i < LOAD_COUNT; i++)
        swap(&a[i][k], &a[i][column]);
    return fabs(a[k][k]);
}

int calibration_is_singular(const struct calibration *calibration)
{
    static const double smallest_pivot = 1e-9;
    double a[LOAD_COUNT][LOAD_COUNT];
    copy_linear(calibration, a);
    equilibrate(a);
    for (size_t k = 0; k < LOAD_COUNT; k++) {
        if (!(bring_pivot(a, k) > smallest_pivot))
            return 1;
        for (size_t i = k + 1; i < LOAD_COUNT; i++) {
            double factor = a[i][k] / a[k][k];
            for (size_t j = k; j < LOAD_COUNT; j++)
                a[i][j] -= factor * a[k][j];
        }
    }
    return 0;
}

/* 1 when each output (a column of the direct form, a row of the iterative one) answers most to the load of
 * its own number, loads in shares of unit. */
static int is_dominant(double a[LOAD_COUNT][LOAD_COUNT], const double unit[LOAD_COUNT],
                       int is_direct, int is_turned)
{
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        for (size_t j = 0; j < LOAD_COUNT; j++) {
            double off = fabs(is_turned ? a[j][i] : a[i][j]) / unit[i];
            double own = is_direct ? fabs(a[j][j]) / unit[j] : fabs(a[i][i]) / unit[i];
            if (i != j && off > own)
                return 0;
        }
    }
    return 1;
}

int calibration_is_transposed(const struct calibration *calibration, const double rated[LOAD_COUNT])
{
    double a[LOAD_COUNT][LOAD_COUNT], unit[LOAD_COUNT];
    int is_direct = calibration->form == CALIBRATION_DIRECT;
    copy_linear(calibration, a);
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        unit[i] = is_direct ? rated[i] : 1;
        if (!(unit[i] > 0))
            return 0;
    }
    return !is_dominant(a, unit, is_direct, 0) && is_dominant(a, unit, is_direct, 1);
}
