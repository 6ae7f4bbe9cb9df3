/* delta_shrink.c - see delta_shrink.h. */
#include "reduce/delta_shrink.h"

#include <math.h>
#include <stdlib.h>

#include "reduce/rows.h"
#include "reduce/statistics/shrinkage.h"

static int has_uncertainty(const struct delta_reading *reading)
{
    return isfinite(reading->delta) && reading->standard_uncertainty > 0;
}

enum status delta_shrink(const struct season_measure *past, size_t n_configurations,
                         struct delta_reading *readings, struct fault *fault)
{
    void *array = NULL;
    double between = (double)NAN;
    size_t n = past->n;
    enum status status =
        array_make(&array, 2 * (past->n + n_configurations), sizeof(double), fault);
    if (status != OK)
        return status;
    double *deltas = array;
    double *uncertainties = deltas + past->n + n_configurations;
    for (size_t i = 0; i < past->n; i++) {
        deltas[i] = past->deltas[i];
        uncertainties[i] = past->uncertainties[i];
    }
    for (size_t i = 1; i < n_configurations; i++) {
        if (!has_uncertainty(&readings[i]))
            continue;
        deltas[n] = readings[i].delta;
        uncertainties[n++] = readings[i].standard_uncertainty;
    }
    enum outcome outcome = shrinkage_between(deltas, uncertainties, n, &between);
    free(array);
    for (size_t i = 1; outcome == OUTCOME_OK && i < n_configurations; i++) {
        if (!has_uncertainty(&readings[i]))
            continue;
        struct shrunk shrunk =
            shrinkage_apply(readings[i].delta, readings[i].standard_uncertainty, between);
        readings[i].shrunk = shrunk.value;
        readings[i].shrunk_uncertainty = shrunk.standard_error;
    }
    return OK;
}
