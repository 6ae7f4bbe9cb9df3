/* family_values.h - a run's mean values at every target and weighted over them; see family.h. */
#ifndef LAPWING_FAMILY_VALUES_H
#define LAPWING_FAMILY_VALUES_H

#include "reduce/family.h"

/* Fills value, added and time of one run from its used points in the current target reduction. */
enum status family_values_read(const struct night *night, struct family_run *run, int has_weighted,
                               struct fault *fault);

#endif
