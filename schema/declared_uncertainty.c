/* declared_uncertainty.c - see declared_uncertainty.h. */
#include "schema/declared_uncertainty.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *declared_reach_word(enum declared_reach reach)
{
    static const char *const words[] = {"point", "run", "entry", "always"};
    return words[reach];
}

const char *declared_shape_word(enum declared_shape shape)
{
    static const char *const words[] = {"normal", "rectangular", "triangular", "arcsine"};
    return words[shape];
}

static size_t find(const struct facility_uncertainties *list, const char *source)
{
    size_t i = 0;
    while (i < list->n &&
           (list->items[i].source == NULL || strcmp(list->items[i].source, source) != 0))
        i++;
    return i;
}

/* Of n errors if and only if elimination finds no negative pivot; rounding may leave one of 1e-12. */
static int is_possible(const double *correlation, size_t n)
{
    double left[DECLARED_UNCERTAINTIES_MAX * DECLARED_UNCERTAINTIES_MAX];
    memcpy(left, correlation, n * n * sizeof *left);
    for (size_t k = 0; k < n; k++) {
        double pivot = left[k * n + k];
        if (pivot < -1e-12)
            return 0;
        for (size_t i = k + 1; i < n; i++) {
            double share = left[i * n + k];
            if (pivot <= 1e-12 && fabs(share) > 1e-9)
                return 0;
            for (size_t j = k + 1; pivot > 1e-12 && j < n; j++)
                left[i * n + j] -= share * left[k * n + j] / pivot;
        }
    }
    return 1;
}

int declared_correlations(const struct facility_uncertainties *list, double *correlation)
{
    size_t n = list->n;
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++)
            correlation[i * n + j] = i == j;
    for (size_t i = 0; i < n; i++) {
        const struct declared_uncertainty *item = &list->items[i];
        size_t j = item->correlated_with == NULL ? n : find(list, item->correlated_with);
        if (j < n && j != i)
            correlation[i * n + j] = correlation[j * n + i] = item->correlation;
    }
    return is_possible(correlation, n);
}

void facility_uncertainties_end(struct facility_uncertainties *list)
{
    for (size_t i = 0; i < list->n; i++) {
        free(list->items[i].source);
        free(list->items[i].output_unit);
        free(list->items[i].correlated_with);
        free(list->items[i].evidence);
    }
    free(list->items);
    free(list->facility);
}
