/* fault_spoil.h - what each class of faults does to the log of a run. */
#ifndef LAPWING_TESTS_FAULT_SPOIL_H
#define LAPWING_TESTS_FAULT_SPOIL_H

#include "tests/faults/fault_log.h"
#include "tests/faults/faults.h"

/* One injection being made. */
struct injecting {
    const struct fault_season *season;
    uint64_t *state;
    struct fault_log *log;
    struct injection *made;
};

/* Spoils work->log, which the caller writes, in the channels that were drawn, and says in work->made->about
 * what was done. 0 on failure. */
typedef int spoil(struct injecting *work);

spoil spoil_stuck, spoil_spikes, spoil_clipping, spoil_swapped, spoil_unit, spoil_gusts;

/* A first-order lag, which is before the logger; or, where work->made->about says "delay", a delay, which
 * shows only where the wind moves: so it gets gusts. */
spoil spoil_lag;

/* Writes the log of the zero after the run too. */
spoil spoil_drift;

/* Reads a clean log, to be spoilt at its place; the clean one is kept beside it. 0 on failure. */
int fault_take_log(struct injection *made, const char *path, const char *kind,
                   struct fault_log *log);

#endif
