/* spikes.c - see spikes.h.
 *
 * Every sample of every channel passes here, so the windows are sorted eight at a time by a fixed
 * network of compare-exchanges, which has no branches to mispredict: neighbouring lanes are
 * neighbouring windows. Network: merge exchange, Knuth, The Art of Computer Programming vol. 3,
 * 5.2.2, algorithm M, for 11 keys; checked over all 2048 zero-one inputs by a test.                */
#include "ingest/spikes.h"

#include <math.h>
#include <string.h>

enum { LANES = 8, HALF = SPIKE_WINDOW / 2, SEGMENT = SPIKE_WINDOW + LANES - 1 };

static const double limit_factor = 4 * 1.4826;

static const struct {
    unsigned char low, high;
} network[] = {{0, 8}, {1, 9},  {2, 10}, {0, 4}, {1, 5},  {2, 6}, {3, 7}, {4, 8},  {5, 9}, {6, 10},
               {0, 2}, {1, 3},  {4, 6},  {5, 7}, {8, 10}, {2, 8}, {3, 9}, {2, 4},  {3, 5}, {6, 8},
               {7, 9}, {0, 1},  {2, 3},  {4, 5}, {6, 7},  {8, 9}, {1, 8}, {3, 10}, {1, 4}, {3, 6},
               {5, 8}, {7, 10}, {1, 2},  {3, 4}, {5, 6},  {7, 8}, {9, 10}};

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

static void sort_windows(struct windows *w, const double segment[SEGMENT])
{
    for (int k = 0; k < SPIKE_WINDOW; k++)
        memcpy(w->key[k], segment + k, sizeof w->key[k]);
    for (size_t i = 0; i < sizeof network / sizeof network[0]; i++)
        order(w->key[network[i].low], w->key[network[i].high]);
}

/* Of sorted keys the six nearest to the median are i below it and 5 - i above it for some i, so
 * MAD = min over i of max(median - key[5-i], key[10-i] - median). */
static void deviations(const struct windows *w, double mad[LANES])
{
    const double *median = w->key[HALF];
    for (int lane = 0; lane < LANES; lane++)
        mad[lane] = HUGE_VAL;
    for (int i = 0; i <= HALF; i++) {
        for (int lane = 0; lane < LANES; lane++) {
            double below = median[lane] - w->key[HALF - i][lane];
            double above = w->key[2 * HALF - i][lane] - median[lane];
            double wider = below > above ? below : above;
            mad[lane] = wider < mad[lane] ? wider : mad[lane];
        }
    }
}

static int stands_out(double sample, double median, double mad)
{
    return mad > 0 && fabs(sample - median) > limit_factor * mad;
}

/* Counts the centres of `valid` windows that begin at segment[0], [1] ...; edge tells which samples
 * beyond the centres are judged by the first (-1) or the last window (1). */
static size_t count_segment(const double segment[SEGMENT], int valid, int at_begin, int at_end)
{
    struct windows w;
    double mad[LANES];
    size_t n = 0;

    sort_windows(&w, segment);
    deviations(&w, mad);
    for (int lane = 0; lane < valid; lane++)
        n += (size_t)stands_out(segment[lane + HALF], w.key[HALF][lane], mad[lane]);
    for (int k = 0; at_begin && k < HALF; k++)
        n += (size_t)stands_out(segment[k], w.key[HALF][0], mad[0]);
    int last = valid - 1;
    for (int k = 1; at_end && k <= HALF; k++)
        n += (size_t)stands_out(segment[last + HALF + k], w.key[HALF][last], mad[last]);
    return n;
}

size_t spikes_count(const double *samples, size_t n)
{
    size_t count = 0;
    if (n < SPIKE_WINDOW)
        return 0;
    size_t windows = n - SPIKE_WINDOW + 1;
    for (size_t first = 0; first < windows; first += LANES) {
        double segment[SEGMENT];
        size_t held = n - first < SEGMENT ? n - first : SEGMENT;
        memcpy(segment, samples + first, held * sizeof *segment);
        for (size_t k = held; k < SEGMENT; k++)
            segment[k] = segment[held - 1];
        size_t valid = windows - first < LANES ? windows - first : LANES;
        count += count_segment(segment, (int)valid, first == 0, first + valid == windows);
    }
    return count;
}
