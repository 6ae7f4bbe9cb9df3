/* rows.h - small helpers to read rows of the store into plain memory.
 *
 * Every stage opens a query with its texts bound, steps through the rows, and copies what it keeps.
 * Arrays grow by doubling through one function, so that no stage writes its own.                   */
#ifndef LAPWING_ROWS_H
#define LAPWING_ROWS_H

#include <stddef.h>

#include "schema/fault.h"
#include "schema/store.h"

/* Prepares sql and binds the n texts to its positions 1 .. n. On OK the caller owns *statement. */
enum status rows_open(struct store *store, const char *sql, const char *const *texts, size_t n,
                      struct statement **statement, struct fault *fault);

/* Copies a text column, "" for SQL NULL. On OK the caller owns *copy and ends it with free(). */
enum status rows_text(struct statement *statement, int column, char **copy, struct fault *fault);

/* Copies a text. On OK the caller owns *copy and ends it with free(). */
enum status text_copy(const char *text, char **copy, struct fault *fault);

/* Makes room for needed elements of the given size in *array (NULL at first, owned by the caller,
 * ended with free()). *array is unchanged when there is no memory. */
enum status array_reserve(void **array, size_t *capacity, size_t needed, size_t size,
                          struct fault *fault);

/* A zeroed array of n elements (one when n is 0, so that NULL always means failure). */
enum status array_make(void **array, size_t n, size_t size, struct fault *fault);

#endif
