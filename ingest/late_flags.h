/* late_flags.h - flags of ingest that hang on more than one run: known when all runs are stored. */
#ifndef LAPWING_LATE_FLAGS_H
#define LAPWING_LATE_FLAGS_H

#include "schema/store.h"

/* Brings up to date: logs that are in two runs, runs that last beyond the beginning of another one,
 * wind-on runs (by the sheet of now) whose logs tell no time, decisions on quarantined runs. */
enum status late_flags_renew(struct store *store, struct fault *fault);

#endif
