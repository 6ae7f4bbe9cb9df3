/* robust.c - see robust.h. */
#include "reduce/statistics/robust.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>

static const double normal_factor = 1.4826;

static size_t keep_finite(double *values, size_t n)
{
    size_t kept = 0;
    for (size_t i = 0; i < n; i++)
        if (isfinite(values[i]))
            values[kept++] = values[i];
    return kept;
}

struct robust robust_of(double *values, size_t n)
{
    const double none = (double)NAN;
    size_t kept = keep_finite(values, n);
    if (kept == 0)
        return (struct robust){none, none, none, none, 0};
    gsl_sort(values, 1, kept);
    struct robust robust = {.median = gsl_stats_median_from_sorted_data(values, 1, kept),
                            .minimum = values[0],
                            .maximum = values[kept - 1],
                            .n = kept};
    for (size_t i = 0; i < kept; i++)
        values[i] = fabs(values[i] - robust.median);
    gsl_sort(values, 1, kept);
    robust.scale = normal_factor * gsl_stats_median_from_sorted_data(values, 1, kept);
    return robust;
}
