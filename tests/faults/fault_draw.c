/* fault_draw.c - see fault_draw.h.
 *
 * Factors: BIPM, The International System of Units, 9th ed. 2019; NIST Special Publication 811, 2008,
 * appendix B.8 (psi, psf, inch, mph, knot, conventional water and mercury).                        */
#include "tests/faults/fault_draw.h"

#include <stdio.h>
#include <string.h>

#include "tests/noise.h"

enum { KINDS = 7, TAPS = 120, FROZEN_TAP = 47, NOISY_TAP = 83 };

static const char *const kinds[KINDS][7] = {
    {"R1", "R2", "R3", "R4", "R5", "R6", NULL},
    {"p0-p", "pst", NULL},
    {"hF", "hR", NULL},
    {"yaw", NULL},
    {"T0", "RH", NULL},
    {"Vbelt", NULL},
    {NULL}, /* taps */
};

static const struct wrong_unit units[] = {
    {"R", "uV/V", 1e3, 0},
    {"R", "V/V", 1e-3, 0},
    {"h", "m", 1e-3, 0},
    {"h", "cm", 0.1, 0},
    {"h", "inch", 1 / 25.4, 0},
    {"p0-p", "kPa", 1e-3, 0},
    {"p0-p", "hPa", 1e-2, 0},
    {"p0-p", "psf", 1 / 47.88026, 0},
    {"p0-p", "psi", 1 / 6894.757, 0},
    {"p0-p", "mmH2O", 1 / 9.80665, 0},
    {"p0-p", "inH2O", 1 / 249.0889, 0},
    {"pst", "Pa", 1e2, 0},
    {"pst", "kPa", 0.1, 0},
    {"pst", "psi", 100 / 6894.757, 0},
    {"pst", "mmHg", 100 / 133.3224, 0},
    {"pst", "inHg", 100 / 3386.389, 0},
    {"T0", "K", 1, 273.15},
    {"T0", "degF", 1.8, 32},
    {"RH", "1", 1e-2, 0},
    {"yaw", "rad", 0.017453292519943295, 0},
    {"V", "km/h", 3.6, 0},
    {"V", "mph", 1 / 0.44704, 0},
    {"V", "kn", 3600.0 / 1852, 0},
    {"V", "ft/s", 1 / 0.3048, 0},
    {"T1", "kPa", 1e-3, 0}, /* a tap: T001 .. T120 */
    {"T1", "hPa", 1e-2, 0},
    {"T1", "psf", 1 / 47.88026, 0},
    {"T1", "psi", 1 / 6894.757, 0},
    {"T1", "mmH2O", 1 / 9.80665, 0},
    {"T1", "inH2O", 1 / 249.0889, 0},
};

double draw_between(double low, double high, uint64_t *state)
{
    return low + (high - low) * noise_uniform(state);
}

int draw_index(int n, uint64_t *state)
{
    return (int)(noise_uniform(state) * n);
}

static void draw_tap(char name[FAULT_NAME], uint64_t *state)
{
    int tap = FROZEN_TAP;
    while (tap == FROZEN_TAP || tap == NOISY_TAP)
        tap = 1 + draw_index(TAPS, state);
    (void)snprintf(name, FAULT_NAME, "T%03d", tap);
}

static void draw_of_kind(int kind, char name[FAULT_NAME], uint64_t *state)
{
    int n = 0;
    while (kinds[kind][n] != NULL)
        n++;
    if (n == 0)
        draw_tap(name, state);
    else
        (void)snprintf(name, FAULT_NAME, "%s", kinds[kind][draw_index(n, state)]);
}

void draw_channel(char name[FAULT_NAME], uint64_t *state)
{
    draw_of_kind(draw_index(KINDS, state), name, state);
}

void draw_windy_channel(char name[FAULT_NAME], uint64_t *state)
{
    static const char *const windy[] = {"R1", "R3", "R5", "p0-p", "Vbelt"};
    (void)snprintf(name, FAULT_NAME, "%s", windy[draw_index(5, state)]);
}

void draw_pair(char a[FAULT_NAME], char b[FAULT_NAME], uint64_t *state)
{
    static const int sorts[] = {0, 2, KINDS - 1, -1}; /* -1: any two of the force log */
    int sort = sorts[draw_index(4, state)];
    do {
        draw_of_kind(sort < 0 ? draw_index(KINDS - 1, state) : sort, a, state);
        draw_of_kind(sort < 0 ? draw_index(KINDS - 1, state) : sort, b, state);
    } while (strcmp(a, b) == 0);
}

int is_tap_name(const char *name)
{
    return name[0] == 'T' && strlen(name) == 4;
}

const struct wrong_unit *draw_unit(const char *name, uint64_t *state)
{
    const char *wanted = is_tap_name(name) ? "T1" : name;
    size_t fits[sizeof units / sizeof units[0]] = {0};
    int n = 0;
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
        if (strncmp(units[i].channels, wanted, strlen(units[i].channels)) == 0)
            fits[n++] = i;
    return n > 0 ? &units[fits[draw_index(n, state)]] : NULL;
}
