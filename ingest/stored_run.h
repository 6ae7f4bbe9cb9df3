/* stored_run.h - does the season already hold what a run's logs say? */
#ifndef LAPWING_STORED_RUN_H
#define LAPWING_STORED_RUN_H

#include <stdint.h>

#include "ingest/reading_key.h"
#include "ingest/season_sheets.h"
#include "schema/store.h"

/* A file changed within this time of being read may change again within the grain of the file
 * system's clock and keep its stamp; such a stamp is not trusted. */
#define STAMP_GRAIN_NS INT64_C(2000000000)

/* The modification time to keep for a file read at now_ns (0: not known): 0, which never matches, when
 * its stamp cannot be trusted later. */
int64_t stamp_to_keep(int64_t mtime_ns, int64_t now_ns);

struct stored_run {
    int is_current; /* 1: nothing that the statistics depend on has changed */
    int is_quarantined;
    size_t n_logs;    /* that are stored: those of the sheet but for files that are missing */
    int64_t *touched; /* one a log: modification time to store, -1 when it is right as it is */
};

/* Compares a run of the sheet with the store: same logs and maps, same key, same bytes. A file whose
 * size and time are the stored ones is not opened; one with another time is hashed, not parsed; one
 * that was missing and still is, is as it was.
 * The caller ends *stored with stored_run_end(). */
enum status stored_run_compare(struct store *store, const char *folder,
                               const struct season_sheets *sheets, const struct run_entry *run,
                               const char (*map_digests)[DIGEST_TEXT], int64_t now_ns,
                               struct stored_run *stored, struct fault *fault);
void stored_run_end(struct stored_run *stored);

#endif
