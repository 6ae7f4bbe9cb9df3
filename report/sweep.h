/* sweep.h - the longest series of targets that differ in one axis only.
 *
 * Such a series is what an engineer reads as a sweep. Found, not declared: targets are taken as they
 * stand in the campaign.                                                                           */
#ifndef LAPWING_REPORT_SWEEP_H
#define LAPWING_REPORT_SWEEP_H

#include <stddef.h>

enum {
    SWEEP_AXES = 6,
    SWEEP_TARGETS_MAX = 64
};

struct sweep_target {
    const char *name;
    double coordinate[SWEEP_AXES]; /* m or rad, NAN where not named; order of schema/campaign.h */
};

struct sweep {
    size_t axis;
    size_t member[SWEEP_TARGETS_MAX]; /* indices of targets, in increasing coordinate */
    size_t n;                         /* 0: no two targets differ in one axis only */
};

/* The longest series over front ride height; when that has fewer than three targets, the first axis
 * with three, else the longest of any. Of equals the earliest target wins. Two coordinates are the
 * same within 1e-6 (a micrometre, a microradian), or when both are missing. */
struct sweep sweep_find(const struct sweep_target *targets, size_t n);

/* "front ride height" and so on, "mm" or "deg", and what turns SI into that unit. */
const char *sweep_axis_name(size_t axis);
const char *sweep_axis_unit(size_t axis);
double sweep_axis_factor(size_t axis);

#endif
