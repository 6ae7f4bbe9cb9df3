/* tare_fit.h - the weight tare at an attitude: looked up, or a rigid weight and what it leaves.
 *
 * With weight_tare: fit the tare run's points are fitted by a rigid weight
 * (reduce/physics/weight_model.h), which gives the weight's part at any attitude. What the model leaves
 * at the points - wheels, links and hoses that carry weight as the ride heights change, a balance that
 * gives - is interpolated over the axes that tare_tolerance names, in units of their tolerance and
 * between the sweep's points only (reduce/physics/convex_weights.h). An axis on which the whole sweep
 * moves by less than its tolerance must be met within it. Outside the sweep the nearest point within
 * the tolerances serves, as in a lookup; farther out there is no tare.
 *
 * Pitch comes from the ride heights over the wheelbase where both are there, else from its own channel;
 * an angle that is not told is 0, but for a pitch that the balance follows.                          */
#ifndef LAPWING_TARE_FIT_H
#define LAPWING_TARE_FIT_H

#include "reduce/tare_choice.h"

enum tare_way { TARE_BY_POINT, TARE_BY_INTERPOLATION };

struct tare_found {
    enum tare_way way;
    const char *point;        /* with TARE_BY_POINT: its label */
    double load[6];           /* N, N m, balance axes */
    double model[6];          /* the rigid weight's part of load; NAN without a model */
    double cell[WHEEL_CELLS]; /* N */
};

/* Fits the points of a table that is read but for its model; part of tare_table_read(). Without a
 * point that has an attitude model.n is 0. The caller ends the model with tare_model_end(), also after
 * a failure. */
enum status tare_model_make(const struct night *night, const struct run_recipe *recipe,
                            struct tare_table *table, struct fault *fault);
void tare_model_end(struct tare_model *model);

/* The tare at an attitude, by the table's own way. OUTCOME_OUTSIDE: no point within tolerance, and none
 * between points; *worst_axis and *worst as tare_lookup() tells them. OUTCOME_NO_MEMORY. */
enum outcome tare_at(const struct tare_table *table, const double *tolerance,
                     const double attitude[ATTITUDE_COUNT], struct tare_found *found,
                     int *worst_axis, double *worst);

/* Takes the tare of a point over into the inputs. */
void tare_apply(const struct tare_found *found, struct tunnel_inputs *inputs);

#endif
