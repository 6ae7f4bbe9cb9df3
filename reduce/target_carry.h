/* target_carry.h - carrying a point the last fraction of a millimetre to its target.
 *
 * About a target, each of the eight coefficients and the balance has a local fit through the
 * configuration's own points (reduce/statistics/local_fit.h). With the fit's change from the target
 * to the attained attitude, d = slope . x + squares,
 *
 *   C(target) = C(attained) - d
 *
 * CLF and CLR are carried and CL = CLF + CLR, CPM = (CLR - CLF)/2 formed from them wherever they are
 * so at the attained attitude, so that the axles still add up. Coefficients of a facility that do not
 * add up (rounded, or of another convention) and those without axles are carried themselves: the step
 * to the target must not replace what the facility measured. A coordinate within its tolerance is not
 * carried, so that one which never varies need not have a slope.                                   */
#ifndef LAPWING_TARGET_CARRY_H
#define LAPWING_TARGET_CARRY_H

#include "reduce/attained_points.h"
#include "reduce/attitude_match.h"
#include "reduce/physics/outcome.h"
#include "reduce/statistics/local_break.h"
#include "reduce/statistics/local_fit.h"

/* The values that show a stall: downforce and its axles' shares. */
enum { STALL_VALUES = 3 };

/* The fits about one target. */
struct target_fits {
    const struct target *target;
    int axis[LOCAL_AXES_MAX];         /* coordinates of the fit */
    double tolerance[LOCAL_AXES_MAX]; /* of those coordinates: not carried when within */
    size_t axes;
    enum outcome outcome[CARRIED_VALUES];
    struct local_gradient gradient[CARRIED_VALUES];
    int is_missing[CARRIED_VALUES]; /* 1: the configuration has no such value at all */
    struct local_break
        broken[STALL_VALUES]; /* of those values, the plainest of any axis that may stall */
};

/* Fits all values about a target from the points within reach. NO_MEMORY only; what the statistics
 * refuse is in outcome[]. */
enum status target_fits_make(const struct attained_list *list, const struct attitudes *attitudes,
                             const struct target *target, struct target_fits *fits,
                             struct fault *fault);

struct carried_value {
    double coefficient[COEFFICIENTS];   /* at the target */
    double uncertainty[CARRIED_VALUES]; /* added by the step */
    double degrees_of_freedom;          /* of those, the least of the fits'; NAN when not carried */
};

/* Carries a point by its offsets. The first outcome that is not OK refuses the whole point. */
enum outcome target_carry(const struct target_fits *fits, const struct attained_point *point,
                          const struct attitude_match *match, struct carried_value *carried);

/* Which of the carried values stall value i is, 0 .. STALL_VALUES - 1; whether a coordinate may stall it. */
int target_stall_value(int i);
int target_axis_may_stall(int axis);

/* The point's offset on each axis of the fits, 0 where it is within tolerance: what is carried. */
void target_carry_steps(const struct target_fits *fits, const struct attitude_match *match,
                        double step[LOCAL_AXES_MAX]);

/* Where a carry would leave the points its fits rest on. */
struct carry_beyond {
    int axis;     /* coordinate; -1: none, the target lies among the points */
    double share; /* by which the target lies outside, in spans of the points */
};

/* Looks on the coordinates that the point is carried along. A target outside by a tenth of the span
 * or less is as good as inside: that is the edge of a map, where no point lies beyond. */
struct carry_beyond target_carry_beyond(const struct target_fits *fits,
                                        const struct attained_point *point,
                                        const struct attitude_match *match);

#endif
