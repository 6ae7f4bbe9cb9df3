/* faults.h - the classes of faults, and one of them put into a run of a demo night.
 *
 * A class says in its definition what is done; which channel, point, time and size is drawn. The factors
 * of units are the harness's own table.                                                            */
#ifndef LAPWING_TESTS_FAULTS_H
#define LAPWING_TESTS_FAULTS_H

#include <stdint.h>

#include "tests/faults/fault_season.h"

enum fault_class {
    FAULT_STUCK,
    FAULT_SPIKES,
    FAULT_CLIPPING,
    FAULT_LAG,
    FAULT_DRIFT,
    FAULT_SWAPPED,
    FAULT_UNIT,
    FAULT_CLASSES,
    FAULT_GUSTS = FAULT_CLASSES /* wind with gusts and nothing wrong */
};

enum { FAULT_NAME = 16, FAULT_FILES = 2 };

/* What was done; channels[1] is "" but for a swap. */
struct injection {
    enum fault_class fault;
    int run; /* from 0 */
    char channels[2][FAULT_NAME];
    char about[96];
    int is_held; /* clipping: 1 where a point has hardly any other value left */
    char files[FAULT_FILES][FAULT_PATH]; /* spoilt; the clean one stands beside it */
    int n_files;
};

const char *fault_name(enum fault_class fault);
const char *fault_definition(enum fault_class fault);

/* Spoils a run of the night. Channels of `taken` (n of them) are not drawn again. 0 on failure. */
int fault_inject(const struct fault_season *season, enum fault_class fault, int run,
                 const struct injection *taken, int n, uint64_t *state, struct injection *made);

/* Puts the clean logs back. */
int fault_undo(const struct injection *made);

#endif
