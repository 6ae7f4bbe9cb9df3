/* boundary_made.h - from the measurements that a facility declares to the constants of its corrections.
 *
 * The series of a slotted section, the sweep of the vortex drag, the pair of gradients, the reference body
 * and the speed sweep are fitted here, once a recipe, by reduce/physics.                           */
#ifndef LAPWING_BOUNDARY_MADE_H
#define LAPWING_BOUNDARY_MADE_H

#include "reduce/physics/flow_angularity.h"
#include "reduce/physics/gradient_method.h"
#include "reduce/physics/slotted.h"
#include "reduce/physics/tunnel_point.h"
#include "schema/campaign.h"

struct boundary_made {
    struct blockage_constants constants;
    struct line_fit vortex;        /* of the sweep; degrees_of_freedom 0 when K was declared */
    struct slotted_factor slotted; /* of the series; degrees_of_freedom 0 when k was declared */
    struct gradient_sensitivity sensitivity[CARRIED];
    double gradient_part[CARRIED]; /* at the facility's own gradient */
    int gradient_beyond;
    struct flow_turn turn;         /* of the reference body */
    struct yaw_offset body_offset; /* where its side force is zero */
    double yaw_turn; /* rad, air from right positive, added to the yaw; 0 unless it is confirmed */
    struct reynolds_choice reynolds;
};

/* Makes all that the facility declares. On any other outcome than OUTCOME_OK *what names the block that
 * failed, as written in the campaign. */
enum outcome boundary_make(const struct facility *facility, struct boundary_made *made,
                           const char **what);

#endif
