/* inputs.h - from a point's mean values, its zeros and its tare to the inputs of the reduction. */
#ifndef LAPWING_INPUTS_H
#define LAPWING_INPUTS_H

#include "reduce/physics/tunnel_point.h"
#include "reduce/recipe.h"
#include "reduce/run_data.h"
#include "reduce/zero_choice.h"

/* Fills *inputs for a point: loads, cells, pressures and temperatures by role, NAN where not logged, the
 * zeros at both ends with the point's share between them, the yaw (0 in a run that doesn't log it),
 * no tare (0), and neither base nor walls (boundary_taps.h). A zero that does not hold an output gives
 * NAN there, which the physics refuses. */
void inputs_fill(const struct run_recipe *recipe, const struct run_data *data,
                 const struct point_row *point, const struct zeros *zeros,
                 struct tunnel_inputs *inputs);

#endif
