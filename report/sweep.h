/* sweep.h - a series of targets that differ in one axis only.
 *
 * Such a series is what an engineer reads as a sweep. Found, not declared: targets are taken as they
 * stand in the campaign. All other axes are held, and a reader must be told where.                 */
#ifndef LAPWING_REPORT_SWEEP_H
#define LAPWING_REPORT_SWEEP_H

#include <stddef.h>

enum { SWEEP_AXES = 6, SWEEP_LEAST = 3, SWEEP_TARGETS_MAX = 64 };

struct sweep_target {
    const char *name;
    double coordinate[SWEEP_AXES]; /* m or rad, NAN where not named; order of schema/campaign.h */
};

struct sweep {
    size_t axis;
    size_t member[SWEEP_TARGETS_MAX]; /* indices of targets, in increasing coordinate */
    size_t n;                         /* 0: no series is long enough */
};

/* The series through the target with index through, along the first axis on which it has at least
 * SWEEP_LEAST targets. Without one (and when through is n or more) the longest series over front ride
 * height; when that is shorter, the first axis with a series long enough. Of equals the earliest
 * target wins. Two coordinates are the same within 1e-6 (a micrometre, a microradian), or when both
 * are missing. */
struct sweep sweep_find(const struct sweep_target *targets, size_t n, size_t through);

/* "rear ride height 30 mm, yaw 0 deg": the axes that the targets name and the sweep holds. "" when it
 * names no other. */
struct sweep_text {
    char text[200];
};
struct sweep_text sweep_held(const struct sweep *sweep, const struct sweep_target *targets);

/* "yaw, deg, air from the right +": name, unit and sense of an axis. */
struct sweep_text sweep_axis_label(size_t axis);

/* "front ride height" and so on, and what turns SI into its unit. */
const char *sweep_axis_name(size_t axis);
double sweep_axis_factor(size_t axis);

#endif
