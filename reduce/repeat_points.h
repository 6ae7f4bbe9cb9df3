/* repeat_points.h - the used points of a family in the order they were taken, and what lay between. */
#ifndef LAPWING_REPEAT_POINTS_H
#define LAPWING_REPEAT_POINTS_H

#include <stddef.h>

#include "reduce/family.h"

struct repeat_point {
    size_t run;    /* index in the family */
    size_t target; /* index in the campaign's attitudes */
    size_t visit;  /* equal for points of a run that follow each other at one target and wind */
    size_t group;  /* equal for points of one mounting at one wind */
    double value[QUANTITY_COUNT]; /* at the target; NAN where there is none */
};

/* One mounting at one dynamic pressure. */
struct repeat_group {
    size_t configuration, mounting;
    double dynamic_pressure; /* Pa, of its first point */
};

struct repeat_points {
    struct repeat_point *points; /* by run, then in the run's order */
    size_t n, capacity;
    struct repeat_group *groups;
    size_t n_groups, group_capacity;
    size_t *run_group; /* of each run of the family: that of its mean wind; SIZE_MAX: no point */
};

/* Reads the points that the comparison as it stands uses; those of runs whose values the family has
 * forgotten are none. A point of another attitude, one off every target, and one at another wind end a visit;
 * one at the same target that is not used does not. Winds are one within 2 % of dynamic pressure, common
 * practice, no source. On OK the caller ends *points with repeat_points_end(). */
enum status repeat_points_read(const struct night *night, const struct family *family,
                               struct repeat_points *points, struct fault *fault);
void repeat_points_end(struct repeat_points *points); /* an empty one is fine */

#endif
