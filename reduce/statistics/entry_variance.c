/* entry_variance.c - see entry_variance.h. */
#include "reduce/statistics/entry_variance.h"

#include <math.h>
#include <stdlib.h>

/* A pivot below this share of its diagonal is rounding: the last entry of those that hang together. */
static const double PIVOT_SHARE = 1e-9;

/* Normal equations of the entries with the configurations taken out. */
struct entry_equations {
    size_t n;
    double *matrix; /* n x n */
    double *right, *diagonal;
    double *count, *sum; /* of a configuration: mountings, and mountings times mean */
};

static void equations_free(struct entry_equations *equations)
{
    free(equations->matrix);
    free(equations->right);
    free(equations->diagonal);
    free(equations->count);
    free(equations->sum);
}

static enum outcome equations_make(size_t n_configurations, size_t n_entries,
                                   struct entry_equations *equations)
{
    *equations = (struct entry_equations){
        .n = n_entries,
        .matrix = calloc(n_entries * n_entries + 1, sizeof(double)),
        .right = calloc(n_entries + 1, sizeof(double)),
        .diagonal = calloc(n_entries + 1, sizeof(double)),
        .count = calloc(n_configurations + 1, sizeof(double)),
        .sum = calloc(n_configurations + 1, sizeof(double)),
    };
    if (equations->matrix != NULL && equations->right != NULL && equations->diagonal != NULL &&
        equations->count != NULL && equations->sum != NULL)
        return OUTCOME_OK;
    equations_free(equations);
    return OUTCOME_NO_MEMORY;
}

/* Means are taken from the first, so that digits are kept. Gives the trace, K. */
static double equations_fill(const struct entry_cell *cells, size_t n,
                             struct entry_equations *equations)
{
    double trace = 0;

    for (size_t i = 0; i < n; i++) {
        equations->count[cells[i].configuration] += cells[i].mountings;
        equations->sum[cells[i].configuration] +=
            cells[i].mountings * (cells[i].mean - cells[0].mean);
    }
    for (size_t i = 0; i < n; i++) {
        size_t c = cells[i].configuration;
        double *row = equations->matrix + cells[i].entry * equations->n;
        double off = cells[i].mean - cells[0].mean - equations->sum[c] / equations->count[c];
        row[cells[i].entry] += cells[i].mountings;
        equations->right[cells[i].entry] += cells[i].mountings * off;
        for (size_t j = 0; j < n; j++)
            if (cells[j].configuration == c)
                row[cells[j].entry] -=
                    cells[i].mountings * cells[j].mountings / equations->count[c];
    }
    for (size_t e = 0; e < equations->n; e++) {
        equations->diagonal[e] = equations->matrix[e * equations->n + e];
        trace += equations->diagonal[e];
    }
    return trace;
}

static void eliminate(struct entry_equations *equations, size_t pivot)
{
    size_t n = equations->n;
    const double *from = equations->matrix + pivot * n;

    for (size_t i = pivot + 1; i < n; i++) {
        double *row = equations->matrix + i * n;
        double factor = row[pivot] / from[pivot];
        for (size_t j = pivot; j < n; j++)
            row[j] -= factor * from[j];
        equations->right[i] -= factor * equations->right[pivot];
    }
}

/* b' A^- b of the symmetric A, positive where it is not 0, and its rank. */
static double reduced_squares(struct entry_equations *equations, double *rank)
{
    double squares = 0;

    *rank = 0;
    for (size_t e = 0; e < equations->n; e++) {
        double pivot = equations->matrix[e * equations->n + e];
        if (!(pivot > PIVOT_SHARE * (equations->diagonal[e] + 1)))
            continue;
        squares += equations->right[e] * equations->right[e] / pivot;
        *rank += 1;
        eliminate(equations, e);
    }
    return squares;
}

enum outcome entry_variance(const struct entry_cell *cells, size_t n, size_t n_configurations,
                            size_t n_entries, struct variance_estimate refitted,
                            struct variance_estimate *single)
{
    struct entry_equations equations;
    double rank = 0;

    *single = (struct variance_estimate){(double)NAN, 0};
    for (size_t i = 0; i < n; i++)
        if (!isfinite(cells[i].mean) || !(cells[i].mountings >= 1))
            return OUTCOME_NOT_FINITE;
    if (n < 2)
        return OUTCOME_OK;
    enum outcome outcome = equations_make(n_configurations, n_entries, &equations);
    if (outcome != OUTCOME_OK)
        return outcome;
    double trace = equations_fill(cells, n, &equations);
    double squares = reduced_squares(&equations, &rank);
    equations_free(&equations);
    if (rank > 0)
        *single = variance_single((struct variance_estimate){squares / trace, rank}, refitted,
                                  fmax(trace / rank, 1));
    return OUTCOME_OK;
}
