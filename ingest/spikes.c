/* spikes.c - see spikes.h.
 *
 * Every sample of every channel passes here, so the windows are sorted eight at a time by a fixed
 * network of compare-exchanges, which has no branches to mispredict: neighbouring lanes are
 * neighbouring windows. Network: merge exchange, Knuth, The Art of Computer Programming vol. 3,
 * 5.2.2, algorithm M, for 11 keys, without the six exchanges that the median does not depend on;
 * a test checks it against plain sorting. Only the few samples beyond the limit of the whole record are
 * looked at one by one.                                                                            */
#include "ingest/spikes.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

enum {
    LANES = 8,
    HALF = SPIKE_WINDOW / 2,
    EDGE_HALF = 2, /* of the shortest window, at the ends of the record */
    SEGMENT = SPIKE_WINDOW + LANES - 1
};

static const double normal_mad = 1.4826;
static const double record_limit = 6;
static const double window_limit = 3.5;
static const double short_record = 20; /* samples */

static const struct {
    unsigned char low, high;
} network[] = {{0, 8}, {1, 9},  {2, 10}, {0, 4},  {1, 5}, {2, 6}, {3, 7},  {4, 8},
               {5, 9}, {6, 10}, {0, 2},  {1, 3},  {4, 6}, {5, 7}, {8, 10}, {2, 8},
               {3, 9}, {2, 4},  {3, 5},  {6, 8},  {7, 9}, {0, 1}, {2, 3},  {4, 5},
               {6, 7}, {8, 9},  {1, 8},  {3, 10}, {3, 6}, {5, 8}, {5, 6}};

struct windows {
    double key[SPIKE_WINDOW][LANES];
};

/* restrict lets the compiler keep the eight lanes in vectors. */
static void order(double *restrict low, double *restrict high)
{
    for (int lane = 0; lane < LANES; lane++) {
        double a = low[lane];
        double b = high[lane];
        low[lane] = a < b ? a : b;
        high[lane] = a > b ? a : b;
    }
}

/* |x - median| of the centres of the LANES windows that begin at segment[0], [1] ... */
static void residuals_of(const double segment[SEGMENT], double out[LANES])
{
    struct windows w;
    for (int k = 0; k < SPIKE_WINDOW; k++)
        /* cppcheck-suppress uninitvar; this is what fills it */
        memcpy(w.key[k], segment + k, sizeof w.key[k]);
    for (size_t i = 0; i < sizeof network / sizeof network[0]; i++)
        order(w.key[network[i].low], w.key[network[i].high]);
    for (int lane = 0; lane < LANES; lane++)
        out[lane] = fabs(segment[lane + HALF] - w.key[HALF][lane]);
}

static void sort_few(double *x, size_t n)
{
    for (size_t i = 1; i < n; i++) {
        double moved = x[i];
        size_t k = i;
        for (; k > 0 && x[k - 1] > moved; k--)
            x[k] = x[k - 1];
        x[k] = moved;
    }
}

/* The window of sample i: as far to the left as to the right, and five samples at the least. */
struct window {
    size_t first, length;
};

static struct window window_of(size_t i, size_t n)
{
    size_t to_end = n - 1 - i;
    size_t nearest = i < to_end ? i : to_end;
    size_t half = nearest > HALF ? HALF : nearest < EDGE_HALF ? EDGE_HALF : nearest;
    size_t first = i < half ? 0 : i - half;
    if (first + 2 * half >= n)
        first = n - 1 - 2 * half;
    return (struct window){first, 2 * half + 1};
}

/* |x - median| of the window of sample i, and in *spread their median over the window. */
static double window_residual(const double *samples, size_t n, size_t i, double *spread)
{
    double sorted[SPIKE_WINDOW];
    struct window w = window_of(i, n);
    memcpy(sorted, samples + w.first, w.length * sizeof *sorted);
    sort_few(sorted, w.length);
    double median = sorted[w.length / 2];
    for (size_t k = 0; k < w.length; k++)
        sorted[k] = fabs(sorted[k] - median);
    sort_few(sorted, w.length);
    *spread = sorted[w.length / 2];
    return fabs(samples[i] - median);
}

static void find_residuals(const double *samples, size_t n, double *residuals)
{
    double spread = 0;
    size_t windows = n - SPIKE_WINDOW + 1;
    for (size_t first = 0; first < windows; first += LANES) {
        double segment[SEGMENT];
        double out[LANES];
        size_t held = n - first < SEGMENT ? n - first : SEGMENT;
        memcpy(segment, samples + first, held * sizeof *segment);
        for (size_t k = held; k < SEGMENT; k++)
            segment[k] = segment[held - 1];
        size_t valid = windows - first < LANES ? windows - first : LANES;
        residuals_of(segment, out);
        memcpy(residuals + first + HALF, out, valid * sizeof *out);
    }
    for (size_t i = 0; i < HALF; i++) {
        residuals[i] = window_residual(samples, n, i, &spread);
        residuals[n - 1 - i] = window_residual(samples, n, n - 1 - i, &spread);
    }
}

int spike_stands_out(const double *samples, size_t n, size_t i)
{
    double spread = 0;
    double residual = window_residual(samples, n, i, &spread);
    return residual > window_limit * spread;
}

double spike_limit(size_t n)
{
    return record_limit * (1 + short_record / (double)n);
}

struct spikes spikes_find(const double *samples, size_t n, double resolution, double *room,
                          double *clean)
{
    struct spikes spikes = {.clean = n, .local_deviation = NAN};
    if (n < SPIKE_WINDOW) {
        for (size_t i = 0; i < n; i++)
            clean[i] = samples[i];
        return spikes;
    }
    find_residuals(samples, n, room);
    memcpy(clean, room, n * sizeof *clean);
    spikes.local_deviation = normal_mad * gsl_stats_select(clean, 1, n, (n - 1) / 2);
    if (spikes.local_deviation < resolution)
        spikes.local_deviation = resolution;
    double limit = spike_limit(n) * spikes.local_deviation;
    spikes.clean = 0;
    for (size_t i = 0; i < n; i++) {
        if (room[i] > limit && spike_stands_out(samples, n, i))
            continue;
        clean[spikes.clean++] = samples[i];
    }
    spikes.count = n - spikes.clean;
    return spikes;
}
