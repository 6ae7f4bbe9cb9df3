/* statistic_store.h - the table channel_statistic: what no coefficient is made of, in the open.
 *
 * Statistics of all channels travel as blobs, which no SQLite tool can read. A run of kind record_only,
 * and a channel with the role other, end there: nothing but these rows shows them. Of a run whose log
 * states uncertainties all channels but taps are here, with what is stated.                         */
#ifndef LAPWING_STATISTIC_STORE_H
#define LAPWING_STATISTIC_STORE_H

#include "ingest/log_record.h"
#include "ingest/run_sheet.h"
#include "schema/store.h"

struct statistic_store {
    struct statement *drop, *put;
};

/* On OK the caller ends it with statistic_store_end(), before the store is closed. */
enum status statistic_store_begin(struct store *store, struct statistic_store *writer,
                                  struct fault *fault);
void statistic_store_end(struct statistic_store *writer);

/* Takes out the rows of a run. */
enum status statistic_store_drop(const struct statistic_store *writer, const char *run,
                                 struct fault *fault);

/* Writes those of a run that was read; its row in the table run must be there. */
enum status statistic_store_put(const struct statistic_store *writer, const struct run_entry *run,
                                const struct log_record *record, struct fault *fault);

#endif
