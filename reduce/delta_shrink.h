/* delta_shrink.h - the headline deltas of a family beside what is left of them by how large deltas are. */
#ifndef LAPWING_DELTA_SHRINK_H
#define LAPWING_DELTA_SHRINK_H

#include "reduce/delta_reading.h"
#include "reduce/season_knowledge.h"

/* Fills shrunk and shrunk_uncertainty of readings[1] .. [n_configurations - 1] from the past deltas and
 * tonight's own (statistics/shrinkage.h). They stay NAN where there are fewer than three together, and
 * for a delta without an uncertainty. */
enum status delta_shrink(const struct season_measure *past, size_t n_configurations,
                         struct delta_reading *readings, struct fault *fault);

#endif
