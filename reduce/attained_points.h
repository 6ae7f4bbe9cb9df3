/* attained_points.h - the reduced points of a configuration, as the target stage reads them back. */
#ifndef LAPWING_ATTAINED_POINTS_H
#define LAPWING_ATTAINED_POINTS_H

#include "reduce/groups.h"
#include "reduce/physics/coefficients.h"
#include "reduce/point_state.h"

/* A point's place in the list of values that are carried: the eight coefficients, then the balance. */
enum { CARRIED_BALANCE = COEFFICIENTS, CARRIED_VALUES };

struct attained_point {
    const struct run_row *run;
    int group; /* number of the run within its configuration */
    char *point;
    double attitude[ATTITUDE_COUNT];
    double value[CARRIED_VALUES]; /* corrected, at attained attitude; NAN where missing */
    enum point_state rules;       /* what the rules of the point stage alone say */
    enum decision decision;       /* on the point, or on its run */
};

struct attained_list {
    struct attained_point *points; /* runs in time order, points in the run's order */
    size_t n;
};

/* Reads all points of the group's runs that have a number: drag and downforce finite, not refused;
 * whether they take part is another question (reduce/point_state.h). On OK the caller ends *list with attained_end(). */
enum status attained_read(const struct night *night, const struct run_group *group,
                          struct attained_list *list, struct fault *fault);
/* Takes the points of a run out of the list. */
void attained_drop(struct attained_list *list, const struct run_row *run);
void attained_end(struct attained_list *list);

/* The points that a comparison on this basis takes. *part borrows the list's texts: on OK the caller
 * ends it with free(part->points), before the list. */
enum status attained_taking_part(const struct attained_list *list, enum basis basis,
                                 struct attained_list *part, struct fault *fault);

#endif
