/* record_store.h - the tables channel and point: what coefficients are made of. */
#ifndef LAPWING_RECORD_STORE_H
#define LAPWING_RECORD_STORE_H

#include <stddef.h>

#include "ingest/run_merge.h"
#include "schema/store.h"

enum { RECORD_STATEMENTS = 4 };

/* Prepared statements that put and drop rows, and room for the statistics of a point. */
struct record_store {
    struct statement *statements[RECORD_STATEMENTS];
    unsigned char *blob;
    size_t blob_size;
};

/* On OK the caller ends it with record_store_end(), before the store is closed; a zeroed one is fine. */
enum status record_store_begin(struct store *store, struct record_store *records,
                               struct fault *fault);
void record_store_end(struct record_store *records);

enum status record_store_drop(struct record_store *records, const char *run, struct fault *fault);

/* Stores the channels and points of a run, of which there are none yet; merged->record must be there. */
enum status record_store_put(struct record_store *records, const char *run,
                             const struct merged_run *merged, struct fault *fault);

#endif
