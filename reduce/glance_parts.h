/* glance_parts.h - the parts that fill a glance, each one function in a file of its own.
 *
 * They run in this order, inside the glance's transaction, after the run was reduced and brought to
 * its targets; each reads the store and what the parts before it filled.                           */
#ifndef LAPWING_GLANCE_PARTS_H
#define LAPWING_GLANCE_PARTS_H

#include "reduce/groups.h"
#include "reduce/point_checks.h"
#include "reduce/reduced_point.h"
#include "schema/glance.h"

struct glance_work {
    struct run_work run;           /* of the run that is looked at */
    const struct run_group *group; /* runs of its configuration in its entry, itself among them */
    struct glance *glance;
    struct drift_watch drift;
    int zero_to_come; /* 1: the run sheet names a zero after the run that was not recorded yet */
};

/* Whose run it is, metrics (the main one first) and targets. */
enum status glance_about(struct glance_work *work, struct fault *fault);

/* Points: attitude, wind, values with their uncertainty, halves, target; the zeros and their drift. */
enum status glance_points(struct glance_work *work, struct fault *fault);

/* The same main metric in earlier runs of the configuration. */
enum status glance_earlier(struct glance_work *work, struct fault *fault);

/* Flags of the run, and the state of each point and target that follows. */
enum status glance_flags(struct glance_work *work, struct fault *fault);

/* Rows and marks of the record strip. */
enum status glance_strip(struct glance_work *work, struct fault *fault);

/* Both halves of a point as if each were a point of its own; NAN where a half is not known. */
void glance_halves(const struct run_work *work, const struct reduced_point *made,
                   enum quantity quantity, double half[2]);

#endif
