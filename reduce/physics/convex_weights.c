/* convex_weights.c - see convex_weights.h. */
#include "reduce/physics/convex_weights.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/physics/finite.h"

enum { TURNS_A_COLUMN = 200 };

static const double nothing = 1e-12; /* coordinates and costs are scaled to 1 */
static const double outside = 1e-9;

/* The simplex method's tableau: a row a condition, then the row of costs and that of what is missing. */
struct tableau {
    double *cell;
    size_t rows, columns; /* conditions; places and one helper a condition; the last column is b */
    size_t places;
    size_t basis[CONVEX_AXES_MAX + 1];
};

static double *cell_at(const struct tableau *tableau, size_t row, size_t column)
{
    return &tableau->cell[row * (tableau->columns + 1) + column];
}

static double largest_distance(const double *place, size_t n, size_t axes, const double *at)
{
    double largest = 0;
    for (size_t i = 0; i < n * axes; i++)
        largest = fmax(largest, fabs(place[i] - at[i % axes]));
    return largest;
}

static void fill(struct tableau *tableau, const double *place, size_t axes, const double *at)
{
    size_t n = tableau->places;
    double size = axes == 0 ? 0 : largest_distance(place, n, axes, at);
    double scale = size > 0 ? size : 1;
    size_t cost = tableau->rows, missing = cost + 1;
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < axes; k++) {
            double apart = (place[i * axes + k] - at[k]) / scale;
            *cell_at(tableau, k, i) = apart;
            *cell_at(tableau, cost, i) += apart * apart / (double)axes;
            *cell_at(tableau, missing, i) -= apart;
        }
        *cell_at(tableau, axes, i) = 1;
        *cell_at(tableau, missing, i) -= 1;
    }
    for (size_t k = 0; k < tableau->rows; k++) {
        *cell_at(tableau, k, n + k) = 1;
        tableau->basis[k] = n + k;
    }
    *cell_at(tableau, axes, tableau->columns) = 1;
    *cell_at(tableau, missing, tableau->columns) = -1;
}

static void pivot(struct tableau *tableau, size_t row, size_t column)
{
    double by = *cell_at(tableau, row, column);
    for (size_t j = 0; j <= tableau->columns; j++)
        *cell_at(tableau, row, j) /= by;
    for (size_t i = 0; i < tableau->rows + 2; i++) {
        double times = *cell_at(tableau, i, column);
        if (i == row || times == 0)
            continue;
        for (size_t j = 0; j <= tableau->columns; j++)
            *cell_at(tableau, i, j) -= times * *cell_at(tableau, row, j);
        *cell_at(tableau, i, column) = 0;
    }
    tableau->basis[row] = column;
}

/* Bland's rule: of the rows that bind first, the one whose basis has the lowest index. */
static int leaving_row(const struct tableau *tableau, size_t column, size_t *row)
{
    double least = (double)INFINITY;
    int found = 0;
    for (size_t i = 0; i < tableau->rows; i++) {
        double by = *cell_at(tableau, i, column);
        if (by <= nothing)
            continue;
        double ratio = *cell_at(tableau, i, tableau->columns) / by;
        if (ratio > least + nothing ||
            (ratio > least - nothing && tableau->basis[i] > tableau->basis[*row]))
            continue;
        least = fmin(least, ratio);
        *row = i;
        found = 1;
    }
    return found;
}

/* Lowers the sum in one of the two last rows as far as it goes; helpers never enter. */
static enum outcome lower(struct tableau *tableau, size_t objective)
{
    for (size_t turn = 0; turn < TURNS_A_COLUMN * tableau->columns; turn++) {
        size_t column = 0, row = 0;
        while (column < tableau->places && *cell_at(tableau, objective, column) >= -nothing)
            column++;
        if (column == tableau->places)
            return OUTCOME_OK;
        if (!leaving_row(tableau, column, &row))
            return OUTCOME_SINGULAR;
        pivot(tableau, row, column);
    }
    return OUTCOME_SINGULAR;
}

/* A helper that is left at 0 is exchanged for a place; where none can be, its condition says nothing. */
static void drive_out_helpers(struct tableau *tableau)
{
    for (size_t i = 0; i < tableau->rows; i++)
        for (size_t j = 0; tableau->basis[i] >= tableau->places && j < tableau->places; j++)
            if (fabs(*cell_at(tableau, i, j)) > outside)
                pivot(tableau, i, j);
}

static enum outcome minimise(struct tableau *tableau, double *weight)
{
    size_t missing = tableau->rows + 1;
    enum outcome outcome = lower(tableau, missing);
    if (outcome != OUTCOME_OK)
        return outcome;
    if (-*cell_at(tableau, missing, tableau->columns) > outside)
        return OUTCOME_OUTSIDE;
    drive_out_helpers(tableau);
    outcome = lower(tableau, tableau->rows);
    if (outcome != OUTCOME_OK)
        return outcome;
    memset(weight, 0, tableau->places * sizeof *weight);
    for (size_t i = 0; i < tableau->rows; i++)
        if (tableau->basis[i] < tableau->places)
            weight[tableau->basis[i]] = fmax(0, *cell_at(tableau, i, tableau->columns));
    return OUTCOME_OK;
}

enum outcome convex_weights(const double *place, size_t n, size_t axes, const double *at,
                            double *weight)
{
    if (n == 0)
        return OUTCOME_TOO_FEW;
    if (axes > CONVEX_AXES_MAX)
        return OUTCOME_GEOMETRY;
    if (!all_finite(place, n * axes) || !all_finite(at, axes))
        return OUTCOME_NOT_FINITE;
    struct tableau tableau = {.rows = axes + 1, .columns = n + axes + 1, .places = n};
    tableau.cell = calloc((tableau.rows + 2) * (tableau.columns + 1), sizeof *tableau.cell);
    if (tableau.cell == NULL)
        return OUTCOME_NO_MEMORY;
    fill(&tableau, place, axes, at);
    enum outcome outcome = minimise(&tableau, weight);
    free(tableau.cell);
    return outcome;
}
