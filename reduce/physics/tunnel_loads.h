/* tunnel_loads.h - the load steps of a tunnel point: zero, balance, tares of weight and belt, transfer,
 * cells.
 *
 * A facility may measure fewer than six loads: drag alone, or drag, lift and pitch. A load that is not
 * measured (recipe->not_measured) is NAN in every step, and so is every load at the car's origin that
 * it would enter: by the lever arms to the origin, or by the turn through the yaw. What it does not
 * enter stands; nothing is taken as 0 in its place.                                                */
#ifndef LAPWING_TUNNEL_LOADS_H
#define LAPWING_TUNNEL_LOADS_H

#include "reduce/physics/tunnel_point.h"

/* Each writes one member of *result: zero, balance, tared, belt_tared, transferred; the last one cell and with_cells.
 * Outcomes: OUTCOME_NOT_FINITE
 * when a measured reading, its zero, its tare or a needed yaw is not finite, or when no force at the
 * origin is known; those of balance_loads(), axes_to_car(), axes_transfer() and wheel_cells_add(). */
enum outcome tunnel_take_off_zero(const struct tunnel_recipe *recipe,
                                  const struct tunnel_inputs *inputs, struct tunnel_result *result);
enum outcome tunnel_make_loads(const struct tunnel_recipe *recipe,
                               const struct tunnel_inputs *inputs, struct tunnel_result *result);
enum outcome tunnel_take_off_tare(const struct tunnel_recipe *recipe,
                                  const struct tunnel_inputs *inputs, struct tunnel_result *result);
enum outcome tunnel_take_off_belt(const struct tunnel_recipe *recipe,
                                  const struct tunnel_inputs *inputs, struct tunnel_result *result);
enum outcome tunnel_transfer(const struct tunnel_recipe *recipe, const struct tunnel_inputs *inputs,
                             struct tunnel_result *result);
enum outcome tunnel_add_cells(const struct tunnel_recipe *recipe,
                              const struct tunnel_inputs *inputs, struct tunnel_result *result);

/* Loads, balance axes, of a point over its zero through the calibration: balance_loads_between(). */
enum outcome tunnel_balance_loads(const struct balance_calibration *calibration,
                                  const struct tunnel_inputs *inputs, double load[6]);

/* Bit i set: load i at the car's origin is not known at this yaw, rad. The transfer is linear, so a
 * load that is not measured enters exactly where its unit load gives something. */
unsigned tunnel_loads_unknown(const struct tunnel_recipe *recipe, double yaw);

#endif
