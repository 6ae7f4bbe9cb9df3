/* blind_columns.c - see blind_columns.h. */
#include "reduce/statistics/blind_columns.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/physics/finite.h"

struct basis {
    size_t n, p;
    double *unit;   /* p x n: what is left of each seeing column, at unit length */
    double *column; /* n: the column in hand */
};

static double length_of(const double *column, size_t n)
{
    double length = 0;
    for (size_t i = 0; i < n; i++)
        length = hypot(length, column[i]);
    return length;
}

static double product(const double *a, const double *b, size_t n)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += a[i] * b[i];
    return sum;
}

/* Twice is enough. */
static void project_out(const struct basis *basis, size_t j, const int *is_blind)
{
    for (int pass = 0; pass < 2; pass++) {
        for (size_t k = 0; k < j; k++) {
            const double *unit = basis->unit + k * basis->n;
            if (is_blind[k])
                continue;
            double along = product(unit, basis->column, basis->n);
            for (size_t i = 0; i < basis->n; i++)
                basis->column[i] -= along * unit[i];
        }
    }
}

/* The seeing column before j with the largest cosine to it. */
static size_t find_twin(const double *x, const struct basis *basis, size_t j, const int *is_blind)
{
    size_t twin = basis->p;
    double largest = 0;
    for (size_t k = 0; k < j; k++) {
        double along = 0, square = 0;
        for (size_t i = 0; i < basis->n && !is_blind[k]; i++) {
            along += x[i * basis->p + k] * x[i * basis->p + j];
            square += x[i * basis->p + k] * x[i * basis->p + k];
        }
        double cosine = square > 0 ? fabs(along) / sqrt(square) : 0;
        if (!(cosine > largest))
            continue;
        largest = cosine;
        twin = k;
    }
    return twin;
}

static void take_column(const double *x, const struct basis *basis, size_t j, double share,
                        int *is_blind, size_t *twin)
{
    for (size_t i = 0; i < basis->n; i++)
        basis->column[i] = x[i * basis->p + j];
    double whole = length_of(basis->column, basis->n);
    twin[j] = basis->p;
    project_out(basis, j, is_blind);
    double left = length_of(basis->column, basis->n);
    is_blind[j] = !(left > share * whole);
    if (is_blind[j] && whole > 0)
        twin[j] = find_twin(x, basis, j, is_blind);
    for (size_t i = 0; i < basis->n && !is_blind[j]; i++)
        basis->unit[j * basis->n + i] = basis->column[i] / left;
}

enum outcome blind_columns(const double *x, size_t n, size_t p, double share, int *is_blind,
                           size_t *twin)
{
    struct basis basis = {.n = n, .p = p};
    enum outcome outcome = OUTCOME_OK;
    if (!all_finite(x, n * p))
        return OUTCOME_NOT_FINITE;
    basis.unit = calloc(n * p + 1, sizeof *basis.unit);
    basis.column = calloc(n + 1, sizeof *basis.column);
    if (basis.unit == NULL || basis.column == NULL)
        outcome = OUTCOME_NO_MEMORY;
    for (size_t j = 0; j < p && outcome == OUTCOME_OK; j++)
        take_column(x, &basis, j, share, is_blind, twin);
    free(basis.unit);
    free(basis.column);
    return outcome;
}
