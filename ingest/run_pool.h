/* run_pool.h - threads that read runs ahead of the one thread that stores them.
 *
 * Runs are taken in order and handed out in order, whatever thread is done first; no thread reads
 * more than twice the number of threads ahead of the writer, so memory does not grow with the night. */
#ifndef LAPWING_RUN_POOL_H
#define LAPWING_RUN_POOL_H

#include <stddef.h>

#include "ingest/run_reader.h"

struct run_pool;

struct run_pool_work {
    const char *folder;
    const struct season_sheets *sheets;
    const size_t *runs; /* indices into the run sheet, in order */
    size_t n;
    int threads; /* at least 1 */
};

/* Starts the threads; work must outlive the pool. On OK the caller owns *pool, run_pool_end(). */
enum status run_pool_start(const struct run_pool_work *work, struct run_pool **pool,
                           struct fault *fault);

/* Waits for runs[index]; indices are asked for in order, each once. On OK the caller owns *read. */
enum status run_pool_take(struct run_pool *pool, size_t index, struct read_run **read,
                          struct fault *fault);

/* Stops the threads after the run each of them is at, and frees what was not taken. NULL is fine. */
void run_pool_end(struct run_pool *pool);

#endif
