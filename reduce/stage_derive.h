/* stage_derive.h - the stage after the comparison: what follows from the deltas of one family.
 *
 * delta CL over delta CD with Fieller's interval, deltas at equal balance, packages against their parts.
 * All rest on the comparison's own deltas, and on what they have in common (measured_deltas.h). */
#ifndef LAPWING_STAGE_DERIVE_H
#define LAPWING_STAGE_DERIVE_H

#include "reduce/groups.h"

/* group: a family. *fresh is 0 when the stored rows still hold. */
enum status stage_derive(const struct night *night, const struct run_group *group, int *fresh,
                         struct fault *fault);

#endif
