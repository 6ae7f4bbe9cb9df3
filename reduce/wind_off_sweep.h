/* wind_off_sweep.h - the wind-off readings of a run at several attitudes, as loads.
 *
 * The points of its weight tare; where none is taken off, those of its zero run, minus the reading that
 * serves as zero. They show what the zero depends on.                                               */
#ifndef LAPWING_WIND_OFF_SWEEP_H
#define LAPWING_WIND_OFF_SWEEP_H

#include "reduce/load_probe.h"

struct sweep_point {
    const char *point; /* belongs to the work */
    double attitude[ATTITUDE_COUNT];
    double load[6]; /* N, N m, balance axes; NAN when it has none */
};

struct wind_off_sweep {
    const struct run_row *run; /* NULL: there is none */
    int is_taken_off;          /* 1: of the weight tare, which is taken off at each attitude */
    struct sweep_point *points;
    size_t n;
};

/* On OK the caller ends *sweep with wind_off_sweep_end(). */
enum status wind_off_sweep_make(const struct run_work *work, struct wind_off_sweep *sweep,
                                struct fault *fault);
void wind_off_sweep_end(struct wind_off_sweep *sweep);

/* Two points of one attitude but for their yaw, and what turns one into the other. */
struct yaw_change {
    const struct sweep_point *from, *to; /* NULL: the sweep has no such pair */
    double load[6];                      /* N, N m: car axes, ground at mid-wheelbase */
    double coefficient[QUANTITY_COUNT];  /* at the wind of the probe's point */
    enum quantity largest;               /* coefficient that changes most */
};

/* The pair whose coefficients differ most. Attitudes are the same within the facility's tare_tolerance,
 * on an axis without one within the tolerance of the targets. */
enum status wind_off_sweep_yaw(const struct run_work *work, const struct load_probe *probe,
                               const struct wind_off_sweep *sweep, struct yaw_change *change,
                               struct fault *fault);

#endif
