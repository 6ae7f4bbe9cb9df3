/* fault_drift.c - see fault_drift.h. The times of the zeros are those of sample_runs/night.c. */
#include "tests/faults/fault_drift.h"

#include <gsl/gsl_linalg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FROM_ZERO_BEFORE = 120, BETWEEN_ZEROS = 1260 }; /* s */

static int read_linear(const char *path, double linear[DRIFT_OUTPUTS * DRIFT_OUTPUTS])
{
    char line[1024];
    FILE *file = fopen(path, "r");
    int rows = 0;
    if (file == NULL)
        return 0;
    while (rows <= DRIFT_OUTPUTS && fgets(line, sizeof line, file) != NULL) {
        char *at = strchr(line, ',');
        at = at != NULL ? strchr(at + 1, ',') : NULL;
        for (int k = 0; rows > 0 && at != NULL && k < DRIFT_OUTPUTS; k++)
            linear[(rows - 1) * DRIFT_OUTPUTS + k] = strtod(at + 1, &at);
        rows++;
    }
    return fclose(file) == 0 && rows == DRIFT_OUTPUTS + 1;
}

int drift_outputs(const struct fault_season *season, int load, double size,
                  double outputs[DRIFT_OUTPUTS])
{
    char path[FAULT_PATH];
    double linear[DRIFT_OUTPUTS * DRIFT_OUTPUTS];
    double loads[DRIFT_OUTPUTS] = {0};
    int sign = 0;
    (void)snprintf(path, sizeof path, "%s/balance/underfloor.csv", season->folder);
    if (!read_linear(path, linear))
        return 0;
    loads[load] = size;
    gsl_matrix_view matrix = gsl_matrix_view_array(linear, DRIFT_OUTPUTS, DRIFT_OUTPUTS);
    gsl_vector_view given = gsl_vector_view_array(loads, DRIFT_OUTPUTS);
    gsl_vector_view found = gsl_vector_view_array(outputs, DRIFT_OUTPUTS);
    gsl_permutation *order = gsl_permutation_alloc(DRIFT_OUTPUTS);
    int good = order != NULL && gsl_linalg_LU_decomp(&matrix.matrix, order, &sign) == 0 &&
               gsl_linalg_LU_solve(&matrix.matrix, order, &given.vector, &found.vector) == 0;
    gsl_permutation_free(order);
    return good;
}

static double *output_of(struct fault_log *log, int output)
{
    char name[8];
    (void)snprintf(name, sizeof name, "R%d", output + 1);
    size_t column = fault_log_find(log, name);
    return column < log->columns ? fault_log_numbers(log, column) : NULL;
}

static double mean_of(const double *x, size_t n)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += x[i];
    return sum / (double)n;
}

int drift_zero(const struct fault_log *before, struct fault_log *after,
               const double wanted[DRIFT_OUTPUTS], double added[DRIFT_OUTPUTS])
{
    struct fault_log copy = *before; /* its numbers are asked for, its text is not changed */
    for (int i = 0; i < DRIFT_OUTPUTS; i++) {
        const double *first = output_of(&copy, i);
        double *second = output_of(after, i);
        if (first == NULL || second == NULL)
            return 0;
        added[i] = mean_of(first, before->rows) + wanted[i] - mean_of(second, after->rows);
        for (size_t k = 0; k < after->rows; k++)
            second[k] += added[i];
    }
    return 1;
}

int drift_run(struct fault_log *forces, const double added[DRIFT_OUTPUTS])
{
    for (int i = 0; i < DRIFT_OUTPUTS; i++) {
        double *x = output_of(forces, i);
        const double *time = fault_log_numbers(forces, 0);
        if (x == NULL || time == NULL)
            return 0;
        for (size_t k = 0; k < forces->rows; k++)
            x[k] += added[i] * (FROM_ZERO_BEFORE + time[k]) / BETWEEN_ZEROS;
    }
    return 1;
}
