/* false_discovery.c - see false_discovery.h. */
#include "reduce/statistics/false_discovery.h"

#include <gsl/gsl_sort.h>
#include <math.h>
#include <stdlib.h>

/* Indices of the values that are numbers, in front; SIZE_MAX when one is no probability. */
static size_t collect(const double *p, size_t n, size_t *index, double *tested)
{
    size_t m = 0;

    for (size_t i = 0; i < n; i++) {
        if (isnan(p[i]))
            continue;
        if (!(p[i] >= 0 && p[i] <= 1))
            return n + 1;
        tested[m] = p[i];
        index[m++] = i;
    }
    return m;
}

enum outcome false_discovery_adjust(const double *p, size_t n, double *q)
{
    size_t *index = calloc(n + 1, sizeof *index), *order = calloc(n + 1, sizeof *order);
    double *tested = calloc(n + 1, sizeof *tested);
    enum outcome outcome = OUTCOME_NO_MEMORY;

    if (index != NULL && order != NULL && tested != NULL) {
        size_t m = collect(p, n, index, tested);
        double least = 1;
        outcome = m > n ? OUTCOME_NOT_FINITE : OUTCOME_OK;
        if (outcome == OUTCOME_OK && m > 0)
            gsl_sort_index(order, tested, 1, m);
        for (size_t i = 0; i < n && outcome == OUTCOME_OK; i++)
            q[i] = isnan(p[i]) ? (double)NAN : q[i];
        for (size_t rank = outcome == OUTCOME_OK ? m : 0; rank > 0; rank--) {
            size_t at = order[rank - 1];
            least = fmin(least, (double)m / (double)rank * tested[at]);
            q[index[at]] = least;
        }
    }
    free(tested);
    free(order);
    free(index);
    return outcome;
}
