/* fault_draw.h - which channel, which pair, which wrong unit: drawn for one injection. */
#ifndef LAPWING_TESTS_FAULT_DRAW_H
#define LAPWING_TESTS_FAULT_DRAW_H

#include "tests/faults/faults.h"

double draw_between(double low, double high, uint64_t *state);
int draw_index(int n, uint64_t *state); /* 0 .. n - 1 */

/* A channel: its kind first (balance outputs, pressures, ride heights, yaw, temperature and humidity,
 * belt, taps), all alike, then one of that kind. Taps that the demo itself spoils are left out. */
void draw_channel(char name[FAULT_NAME], uint64_t *state);

/* One that moves with the wind: three of the outputs, p0 - p, the belt. */
void draw_windy_channel(char name[FAULT_NAME], uint64_t *state);

/* Two channels of one log: outputs, heights, taps, or any two of the force log. */
void draw_pair(char a[FAULT_NAME], char b[FAULT_NAME], uint64_t *state);

int is_tap_name(const char *name);

/* A unit that a column may be in by mistake: number = factor * right one + offset. */
struct wrong_unit {
    const char *channels; /* first letters of their names */
    const char *unit;
    double factor, offset;
};
const struct wrong_unit *draw_unit(const char *name, uint64_t *state);

#endif
