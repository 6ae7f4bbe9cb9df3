/* fault_gusts.c - see fault_gusts.h. */
#include "tests/faults/fault_gusts.h"

#include <math.h>

#include "tests/faults/fault_draw.h"

static const double pi = 3.14159265358979323846;
static const double width = 0.6; /* s */

/* Channels that move with the wind, and by how much of its relative change of q. */
static const struct {
    const char *name;
    double share;
} windy[] = {{"R1", 1}, {"R3", 1}, {"R5", 1}, {"p0-p", 1}, {"Vbelt", 0.5}};

enum { WINDY = sizeof windy / sizeof windy[0] };

static double gust_at(double time, double start, double size)
{
    double phase = (time - start) / width;
    return phase > 0 && phase < 1 ? size * 0.5 * (1 - cos(2 * pi * phase)) : 0;
}

static void add_gust(const struct fault_log *log, const struct fault_point *point,
                     double *const columns[WINDY], uint64_t *state)
{
    double start = draw_between(0.2, 1.4, state);
    double size = draw_between(0.02, 0.04, state) * (draw_index(2, state) ? 1 : -1);
    for (size_t i = 0; i < point->rows; i++) {
        double gust = gust_at((double)i * log->step, start, size);
        for (int c = 0; c < WINDY; c++)
            columns[c][point->first + i] *= 1 + windy[c].share * gust;
    }
}

int gusts_add(struct fault_log *log, uint64_t *state)
{
    double *columns[WINDY];
    for (int c = 0; c < WINDY; c++) {
        size_t column = fault_log_find(log, windy[c].name);
        columns[c] = column < log->columns ? fault_log_numbers(log, column) : NULL;
        if (columns[c] == NULL)
            return 0;
    }
    for (size_t i = 0; i < log->n_points; i++)
        add_gust(log, &log->points[i], columns, state);
    return 1;
}
