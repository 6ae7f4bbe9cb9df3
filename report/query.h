/* query.h - reading the store for pages: rows to a callback, single values, texts that last.
 *
 * Texts that a statement gives are gone with its next step; what a page keeps is copied into a pool
 * that is freed in one go when the page is done.                                                   */
#ifndef LAPWING_REPORT_QUERY_H
#define LAPWING_REPORT_QUERY_H

#include <stddef.h>

#include "schema/fault.h"
#include "schema/store.h"

/* Called for each row; anything but OK stops the reading and is passed on. */
typedef enum status query_row(struct statement *row, void *context, struct fault *fault);

/* Runs sql with the texts (ended by NULL; NULL itself for none) bound to ?1, ?2 ... and hands each
 * row to take. */
enum status query_each(struct store *store, const char *sql, const char *const *texts,
                       query_row *take, void *context, struct fault *fault);

/* The first column of the first row; *value is NAN, or "" in *text, when there is none. */
enum status query_real(struct store *store, const char *sql, const char *const *texts,
                       double *value, struct fault *fault);

struct text_pool {
    char **items;
    size_t n, capacity;
};
/* A copy that lives as long as the pool; "" for NULL. On NO_MEMORY *copy is "". */
enum status text_pool_keep(struct text_pool *pool, const char *text, const char **copy,
                           struct fault *fault);
void text_pool_free(struct text_pool *pool);

enum status query_text(struct store *store, const char *sql, const char *const *texts,
                       struct text_pool *pool, const char **text, struct fault *fault);

/* Room for one more element of size bytes in *items (NULL at first, ended with free()), zeroed.
 * Gives NULL when there is no memory, with the fault filled; else the new element, *n one more. */
void *query_append(void **items, size_t *n, size_t *capacity, size_t size, struct fault *fault);

#endif
