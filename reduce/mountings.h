/* mountings.h - which runs are the same mounting of a configuration, and which are repeats.
 *
 * Runs of one configuration with no other configuration's wind-on run between them were made on one
 * mounting: the car was not touched, so they are not independent repeats. When another configuration
 * came in between, parts were taken off and refitted. A mounting label in the run sheet overrides
 * both: equal labels are one mounting wherever they stand, a new label is a new one. An unlabelled run
 * right after a run of its own configuration belongs to that run's mounting.                        */
#ifndef LAPWING_MOUNTINGS_H
#define LAPWING_MOUNTINGS_H

#include <stddef.h>

#include "reduce/night.h"

/* Numbers the mountings of each configuration from 1 in time. Given: the n wind-on runs of an entry in
 * time order, quarantined ones included, since they too were mounted. mounting: n. */
void mountings_number(const struct run_row *const *runs, size_t n, size_t *mounting);

#endif
