/* run_store.h - what ingest writes to the season: sheets, runs, logs, channels, points, its flags.
 *
 * Nothing here begins or ends a transaction: the night does.                                       */
#ifndef LAPWING_RUN_STORE_H
#define LAPWING_RUN_STORE_H

#include <stdint.h>

#include "ingest/run_reader.h"
#include "ingest/season_sheets.h"
#include "schema/store.h"

/* The statements a night repeats, prepared once. */
struct run_store;

enum status run_store_open(struct store *store, struct run_store **writer, struct fault *fault);
void run_store_close(struct run_store *writer); /* NULL is fine; the store stays open */

/* Replaces configurations, taps and calibrations, and removes runs that are not in the sheet. */
enum status run_store_sheets(struct run_store *writer, const struct season_sheets *sheets,
                             struct fault *fault);

/* Brings the run's row up to date with the sheet, leaving what the logs said; touches nothing when it
 * is so already. sequence is the run's place in the sheet. */
enum status run_store_update(struct run_store *writer, const struct run_entry *run, size_t sequence,
                             struct fault *fault);

/* Replaces all that is kept of a run by what was read; key is its ingest key, and mtime_ns[i] what is
 * to be kept as the time of log i. A quarantined run keeps its row, its logs' digests and its flag. */
enum status run_store_replace(struct run_store *writer, const struct run_entry *run,
                              size_t sequence, const struct read_run *read, const char *key,
                              const int64_t *mtime_ns, struct fault *fault);

/* New modification time of a log whose bytes are the same. */
enum status run_store_touch(struct run_store *writer, const char *run, size_t log, int64_t mtime_ns,
                            struct fault *fault);

/* Brings up to date the flags that hang on more than one run's logs: logs that are in two runs, and
 * wind-on runs (by the sheet of now) whose logs tell no time. */
enum status run_store_late_flags(struct run_store *writer, struct fault *fault);

#endif
