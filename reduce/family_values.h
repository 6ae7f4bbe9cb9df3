/* family_values.h - a run's mean values at every target and weighted over them; see family.h. */
#ifndef LAPWING_FAMILY_VALUES_H
#define LAPWING_FAMILY_VALUES_H

#include "reduce/family.h"

/* Which points a run's values are of. */
struct points_taken {
    enum basis basis;
    int without_flagged; /* 1: none that a rule flagged; on BASIS_STANDS only */
};

/* Fills value, added and time of one run from the points that the basis uses, in the current target
 * reduction of its configuration. Where nothing of the configuration differs on that basis, its values
 * as they stand are those of every basis. */
enum status family_values_read(const struct night *night, struct family_run *run, int has_weighted,
                               struct points_taken taken, struct fault *fault);

/* 1 in *differs when the run's configuration has values of its own on this basis. */
enum status family_basis_differs(const struct night *night, const struct run_row *run,
                                 enum basis basis, int *differs, struct fault *fault);

#endif
