/* injectors.c - see injectors.h. */
#include "tests/faults/injectors.h"

#include <math.h>
#include <stdlib.h>

#include "tests/noise.h"

static double mean_of(const double *x, size_t n)
{
    double sum = 0;
    double present = 0;
    for (size_t i = 0; i < n; i++) {
        sum += isnan(x[i]) ? 0 : x[i];
        present += !isnan(x[i]);
    }
    return sum / present;
}

static double deviation_of(const double *x, size_t n, double mean)
{
    double sum = 0;
    double present = 0;
    for (size_t i = 0; i < n; i++) {
        sum += isnan(x[i]) ? 0 : (x[i] - mean) * (x[i] - mean);
        present += !isnan(x[i]);
    }
    return sqrt(sum / (present - 1));
}

void inject_stuck(double *x, size_t n, size_t from, size_t length)
{
    for (size_t i = from; i < n && i < from + length; i++)
        x[i] = x[from];
}

void inject_spikes(double *x, size_t n, size_t count, double deviations, uint64_t *state)
{
    double mean = mean_of(x, n);
    double reach = deviations * deviation_of(x, n, mean);
    for (size_t i = 0; i < count; i++) {
        size_t at = (size_t)(noise_uniform(state) * (double)n);
        x[at] = mean + (noise_uniform(state) < 0.5 ? reach : -reach);
    }
}

static int ascending(const void *a, const void *b)
{
    double x = *(const double *)a;
    double y = *(const double *)b;
    return (x > y) - (x < y);
}

size_t inject_clipping(double *x, size_t n, double share, int at_upper_end)
{
    size_t cut = 0;
    size_t present = 0;
    size_t beyond = (size_t)ceil(share * (double)n);
    double *sorted = malloc(n * sizeof *sorted);
    if (sorted == NULL)
        return 0;
    for (size_t i = 0; i < n; i++)
        if (!isnan(x[i]))
            sorted[present++] = x[i];
    qsort(sorted, present, sizeof *sorted, ascending);
    double level = (double)NAN;
    if (beyond > 0 && beyond < present)
        level = at_upper_end ? sorted[present - beyond] : sorted[beyond - 1];
    free(sorted);
    for (size_t i = 0; i < n; i++) {
        if (!(at_upper_end ? x[i] >= level : x[i] <= level))
            continue;
        x[i] = level;
        cut++;
    }
    return cut;
}

static void reverse(double *x, size_t n)
{
    for (size_t i = 0; i < n / 2; i++) {
        double moved = x[i];
        x[i] = x[n - 1 - i];
        x[n - 1 - i] = moved;
    }
}

void inject_delay(double *x, size_t n, size_t rows)
{
    rows %= n;
    reverse(x, n);
    reverse(x, rows);
    reverse(x + rows, n - rows);
}

void inject_first_order(double *x, size_t n, double rows)
{
    double y = mean_of(x, n);
    double share = 1 - exp(-1 / rows);
    for (size_t i = 0; i < n; i++) {
        if (isnan(x[i]))
            continue;
        y += share * (x[i] - y);
        x[i] = y;
    }
}

void inject_unit(double *x, size_t n, double factor, double offset)
{
    for (size_t i = 0; i < n; i++)
        x[i] = factor * x[i] + offset;
}
