/* target_stall.h - a carry that a stall of the floor or a wing stands in the way of.
 *
 * Near a stall the downforce turns over, or falls off a cliff, within a fraction of a millimetre. A
 * carry along a slope there is refused: the point keeps its attained value. Looked at are the downforce
 * and its axles' shares, along ride heights and pitch; about yaw, roll and steer the downforce is as
 * good as even, so that a slope which changes sign at 0 is no stall there.                          */
#ifndef LAPWING_TARGET_STALL_H
#define LAPWING_TARGET_STALL_H

#include "reduce/target_carry.h"

enum stall_kind {
    STALL_NONE,
    STALL_CURVED, /* the curve's part of the carry is above a third of the slope's */
    STALL_TURNED, /* and the slope changes sign on the way */
    STALL_BROKEN  /* the value steps among the points of the fit */
};

struct carry_stall {
    enum stall_kind kind;
    int value;     /* the coefficient it shows in */
    int axis;      /* the coordinate along which */
    double linear; /* the slope's part of the carry; of a break its height */
    double change; /* the curve's part; of a break what it makes of the carry */
    double limit;  /* that |change| is beyond */
    double place;  /* of a break: on the axis, minus the target */
};

/* The first stall in the way of the point, downforce before its shares: a break whose part in the carry is
 * more than half of matters, or a bend (reduce/statistics/local_bend.h). matters: the smallest
 * worthwhile delta of the downforce coefficient, > 0. The point can be carried: target_carry() is OK. */
struct carry_stall target_carry_stall(const struct target_fits *fits,
                                      const struct attained_point *point,
                                      const struct attitude_match *match, double matters);

/* The worthwhile delta of the metric on CL, or the smallest one of any coefficient where none is. */
double target_stall_matters(const struct campaign *campaign);

/* Why, as a sentence without its end. */
void target_stall_say(const struct carry_stall *stall, const char *target, char *out, size_t size);

#endif
