/* exclusion_points.h - the points of a family that only one of two comparisons uses, and who decided. */
#ifndef LAPWING_EXCLUSION_POINTS_H
#define LAPWING_EXCLUSION_POINTS_H

#include "reduce/family.h"

struct exclusion_point {
    size_t run;    /* index in the family */
    size_t target; /* index in the campaign's attitudes */
    char *point;
    char *reason;                        /* of target_result: "excluded", "off-target" ... */
    const struct decision_row *decision; /* NULL: rules alone; belongs to the night */
};

struct exclusion_points {
    struct exclusion_point *points; /* runs in time order, points in the run's order */
    size_t n;
};

/* Reads what differs in use between the comparison that stands and that on another basis. On OK the
 * caller ends *points with exclusion_points_end(). */
enum status exclusion_points_read(const struct night *night, const struct family *family,
                                  enum basis basis, struct exclusion_points *points,
                                  struct fault *fault);
void exclusion_points_end(struct exclusion_points *points);

/* 1 when a point bears on a measure: it is at that target, or, of "weighted", at one with a weight. */
int exclusion_point_bears(const struct exclusion_point *point, const struct attitudes *attitudes,
                          size_t measure);

#endif
