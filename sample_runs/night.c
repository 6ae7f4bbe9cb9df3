/* night.c - the plan of the demo night, as tables.
 *
 * Order of the night: A B A C A D A A C A B A D A. The baseline A is returned to before and after
 * each change; the A A in the middle is one mounting measured twice.                               */
#include "sample_runs/night.h"

#include <stdio.h>

static const double pi = 3.14159265358979323846;

/* Seconds: a run with its two zeros takes 26 minutes, its points follow each other every 45 s. */
enum { CYCLE = 1560, FIRST_ZERO = 1800, RUN_AFTER_ZERO = 120, ZERO_AFTER_RUN = 1140 };
enum { TARE_START = 180, FIRST_POINT = 20, POINT_EVERY = 45 };

static const struct night_target targets[TARGETS] = {
    {"F8 R24", 8, 24, 0, 0.0},       {"F8 R30", 8, 30, 0, 0.0},
    {"F8 R36", 8, 36, 0, 0.0},       {"F10 R24", 10, 24, 0, 0.0},
    {"F10 R30", 10, 30, 0, 0.10},    {"F10 R36", 10, 36, 0, 0.0},
    {"F12 R24", 12, 24, 0, 0.10},    {"F12 R30", 12, 30, 0, 0.20},
    {"F12 R36", 12, 36, 0, 0.0},     {"F14 R24", 14, 24, 0, 0.10},
    {"F14 R36", 14, 36, 0, 0.10},    {"F14 R30", 14, 30, 0, 0.20},
    {"F14 R30 Y3", 14, 30, 3, 0.10}, {"F14 R30 Y-3", 14, 30, -3, 0.0},
    {"F14 R30 Y6", 14, 30, 6, 0.0},  {"F16 R24", 16, 24, 0, 0.0},
    {"F16 R30", 16, 30, 0, 0.10},    {"F16 R36", 16, 36, 0, 0.0},
    {"F18 R24", 18, 24, 0, 0.0},     {"F18 R30", 18, 30, 0, 0.0},
    {"F18 R36", 18, 36, 0, 0.0},     {"F20 R24", 20, 24, 0, 0.0},
    {"F20 R30", 20, 30, 0, 0.0},     {"F20 R36", 20, 36, 0, 0.0},
};

static const char *const configurations[CONFIGURATIONS] = {"base", "floor-edge", "mirror-stay",
                                                           "front-flap"};

static const struct {
    const char *name;
    int configuration, mounting;
} runs[RUNS] = {
    {"R01", 0, 0}, {"R02", 1, 1},  {"R03", 0, 2},  {"R04", 2, 3},  {"R05", 0, 4},
    {"R06", 3, 5}, {"R07", 0, 6},  {"R08", 0, 6},  {"R09", 2, 7},  {"R10", 0, 8},
    {"R11", 1, 9}, {"R12", 0, 10}, {"R13", 3, 11}, {"R14", 0, 12},
};

const struct night_target *night_target(int target)
{
    return &targets[target];
}

struct attitude night_target_attitude(int target)
{
    const struct night_target *t = &targets[target];
    struct attitude attitude = {t->front_mm * 1e-3, t->rear_mm * 1e-3, t->yaw_deg * pi / 180.0};
    return attitude;
}

const char *night_configuration(int configuration)
{
    return configurations[configuration];
}

struct night_run night_run(int run)
{
    struct night_run r = {runs[run].name, runs[run].configuration, runs[run].mounting,
                          FIRST_ZERO + RUN_AFTER_ZERO + (double)CYCLE * run};
    return r;
}

double night_tare_start(void)
{
    return TARE_START;
}

double night_zero_start(int pair, int after)
{
    double run_start = pair < 0 ? TARE_START : night_run(pair).start;
    if (after)
        return run_start + ZERO_AFTER_RUN;
    return pair < 0 ? 0.0 : run_start - RUN_AFTER_ZERO;
}

double night_length(void)
{
    return night_zero_start(RUNS - 1, 1);
}

double night_point_start(int point)
{
    return FIRST_POINT + (double)POINT_EVERY * point;
}

void night_time_text(double seconds, char *out, size_t size)
{
    int clock = 19 * 3600 + (int)seconds;
    int day = 11 + clock / 86400;
    clock %= 86400;
    (void)snprintf(out, size, "2026-02-%02dT%02d:%02d:%02d+01:00", day, clock / 3600,
                   clock / 60 % 60, clock % 60);
}
