/* uncertain_point.h - the whole way of one point to its values at the target, as a function of all its inputs
 * that can be uncertain.
 *
 * The same reduction that made the point's number, then the step to the target by the configuration's own
 * slopes: an error of a ride height does nothing to the loads and all the more to what they are taken
 * for. An input's value is what a relative uncertainty is a share of: for a load of the balance its
 * aerodynamic part, for the blockage 1.                                                            */
#ifndef LAPWING_UNCERTAIN_POINT_H
#define LAPWING_UNCERTAIN_POINT_H

#include "reduce/reduced_point.h"
#include "reduce/statistics/uncertainty.h"
#include "reduce/target_carry.h"
#include "schema/quantity.h"
#include "schema/uncertain_input.h"

enum { UNCERTAIN_OUTPUTS = 9 };

/* CD CY CL CLF CLR balance L/D CDA CLA */
extern const enum quantity uncertain_outputs[UNCERTAIN_OUTPUTS];
/* Place of a quantity among them; UNCERTAIN_OUTPUTS for one that is none of them. */
size_t uncertain_output(enum quantity quantity);

struct uncertain_point {
    const struct tunnel_recipe *recipe;
    const struct tunnel_inputs *inputs;
    double nominal[UNCERTAIN_INPUTS];
    int is_there[UNCERTAIN_INPUTS];  /* 0: the point does not rest on it, or not told how */
    const struct target_fits *fits;  /* NULL: no target */
    int has_slope[ATTITUDE_COUNT];   /* 1: an error of the coordinate is felt in the step */
    size_t fit_axis[ATTITUDE_COUNT]; /* then its place in the fits */
    double step[LOCAL_AXES_MAX];     /* that the point is carried */
    double value[UNCERTAIN_OUTPUTS]; /* 0 where missing */
    int is_missing[UNCERTAIN_OUTPUTS];
};

/* Makes the function of a reduced point. attitude: attained, NAN where not logged; match and fits of its
 * target, NULL and NULL without one; is_carried: its value stands at the target. The first three must
 * outlive *made. Outcomes: those of tunnel_point_reduce() and local_gradient_carry(). */
enum outcome uncertain_point_make(const struct tunnel_recipe *recipe,
                                  const struct tunnel_inputs *inputs,
                                  const double attitude[ATTITUDE_COUNT],
                                  const struct target_fits *fits,
                                  const struct attitude_match *match, int is_carried,
                                  struct uncertain_point *made);

/* The function, for uncertainty.h; context: the struct. */
int uncertain_point_find(const double *inputs, double *outputs, const void *context);

#endif
