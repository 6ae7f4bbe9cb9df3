/* stated_points.h - the points of an entry whose log states an uncertainty, and where they were taken.
 *
 * A quantity is a role, or a column with the role other. A place is what two points have to share: the
 * channels of repeats: match:, and the attitude as far as the campaign has tolerances for it. Points that
 * are left out of comparisons (failed, refused, excluded) are not read.                             */
#ifndef LAPWING_STATED_POINTS_H
#define LAPWING_STATED_POINTS_H

#include "reduce/night.h"

/* One coordinate of a place. */
struct stated_axis {
    const char *channel; /* role or column; of the campaign, or a constant text */
    double tolerance;
    int is_required; /* 1: a point without it is like no other; 0: both without it are alike */
};

struct stated_point {
    const struct run_row *run;
    char *point;
    size_t place; /* where its coordinates begin */
};

struct stated_value {
    size_t point;
    double mean, stated; /* expanded, 95 % */
};

struct stated_quantity {
    char *name, *unit;
    struct stated_value *values; /* in the order of the points */
    size_t n, capacity;
};

struct stated_points {
    struct stated_axis *axes;
    size_t n_axes;
    struct stated_point *points; /* by start of their runs, then in the order of the log */
    size_t n_points, points_capacity;
    double *places; /* n_axes a point; NAN where the log has no such channel */
    size_t places_capacity;
    struct stated_quantity *quantities; /* in the order met */
    size_t n_quantities, quantities_capacity;
};

/* Coverage of an expanded uncertainty, by the channel map's own word. */
extern const double stated_coverage;

/* Reads the n usable runs of one entry. On OK the caller ends *points with stated_points_end(). */
enum status stated_points_read(const struct night *night, const struct run_row *const *runs,
                               size_t n, struct stated_points *points, struct fault *fault);
void stated_points_end(struct stated_points *points);

#endif
