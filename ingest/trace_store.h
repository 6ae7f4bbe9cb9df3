/* trace_store.h - the tables trace, trace_bin, trace_mark and spectrum. They go with their point. */
#ifndef LAPWING_TRACE_STORE_H
#define LAPWING_TRACE_STORE_H

#include "ingest/log_record.h"
#include "schema/store.h"

enum { TRACE_STATEMENTS = 4 };

struct trace_store {
    struct statement *statements[TRACE_STATEMENTS];
};

/* On OK the caller ends it with trace_store_end(), before the store is closed; a zeroed one is fine. */
enum status trace_store_begin(struct store *store, struct trace_store *writer, struct fault *fault);
void trace_store_end(struct trace_store *writer);

/* Stores the traces of a run whose channels and points are stored; none of it may be there yet. */
enum status trace_store_put(const struct trace_store *writer, const char *run,
                            const struct log_record *record, struct fault *fault);

#endif
