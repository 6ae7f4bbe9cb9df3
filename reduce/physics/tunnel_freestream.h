/* tunnel_freestream.h - the freestream of one tunnel point, from whichever pressures it measured. */
#ifndef LAPWING_TUNNEL_FREESTREAM_H
#define LAPWING_TUNNEL_FREESTREAM_H

#include "reduce/physics/tunnel_point.h"

/* Fills *freestream in the order pressures -> M and q -> temperature -> density -> speed; what comes
 * after the first outcome that is not OK stays NAN.
 *
 * Pressures: total and static: p0 - p as measured, else p0 minus p; p as measured, else p0 minus
 * (p0 - p). Contraction or given: q first, then M from q = 0.7 p M^2. Temperature: static from total
 * by M, or static as given when total is NAN. Humidity is 0 when declared absent, else needed.
 *
 * A declared constant density (recipe->density above 0; water, or air of an old report) takes the place
 * of the air's state: p0 - p = q and Cp0 = 1 (Bernoulli), or q = rho V^2/2 from the speed, no Mach
 * number, no temperature or humidity needed; density and viscosity are the declared ones, and the
 * Reynolds number is NAN where no viscosity is declared. Q_FROM_SPEED needs it: OUTCOME_NOT_FINITE
 * without. Source: definition of dynamic pressure; Bernoulli's equation of constant density.
 *
 * Outcomes: OUTCOME_NOT_FINITE when a needed input is missing; OUTCOME_NO_WIND; OUTCOME_TOO_FAST;
 * OUTCOME_AIR_RANGE; OUTCOME_GEOMETRY when the wheelbase, length of the Reynolds number, is not
 * positive. */
enum outcome tunnel_freestream(const struct tunnel_recipe *recipe,
                               const struct tunnel_inputs *inputs,
                               struct tunnel_freestream *freestream);

/* How far total minus static pressure is from the measured difference, as a signed share of that
 * difference: ((p0 - p) - rise)/|rise|. NAN unless all three are given and the difference is not 0. */
double tunnel_pressure_disagreement(const struct tunnel_inputs *inputs);

#endif
