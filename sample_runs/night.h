/* night.h - the plan of the demo night: attitudes, configurations, runs and their times.
 *
 * Everything here is invented: the car "Curlew C4", the tunnel "saltmarsh", the entry "2026-02".
 * Times are seconds since 19:00 local time of 11 February 2026.                                    */
#ifndef SAMPLE_RUNS_NIGHT_H
#define SAMPLE_RUNS_NIGHT_H

#include <stddef.h>

enum {
    TARGETS = 24,
    CONFIGURATIONS = 4,
    RUNS = 14,
    REFERENCE_TARGET = 11, /* where zeros are taken: front 14 mm, rear 30 mm, no yaw */
    MAP_TARGET = 4         /* where the tap pressures are drawn: front 10 mm, rear 30 mm */
};

struct night_target {
    const char *name;
    double front_mm, rear_mm, yaw_deg;
    double weight; /* in the weighted average; eight of them make 1 */
};

struct night_run {
    const char *name;
    int configuration; /* 0 is the baseline */
    int mounting;      /* equal numbers: the car was not touched in between */
    double start;      /* s */
};

struct attitude {
    double front, rear; /* m, ride heights */
    double yaw;         /* rad, air from the car's right positive */
};

const struct night_target *night_target(int target);
struct attitude night_target_attitude(int target);
const char *night_configuration(int configuration);
struct night_run night_run(int run);

/* The tare run and the pairs of zeros: pair -1 belongs to the tare run, 0 .. RUNS - 1 to the runs. */
double night_tare_start(void);
double night_zero_start(int pair, int after);
double night_length(void); /* s, to the last zero */

/* Seconds into a run at which the rows of its point begin (points 0 .. TARGETS - 1). */
double night_point_start(int point);

/* "2026-02-11T20:05:00+01:00" */
void night_time_text(double seconds, char *out, size_t size);

#endif
