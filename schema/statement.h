/* statement.h - one prepared SQL statement, so that no other room needs SQLite's header.
 *
 * Bind by position from 1, step, read columns from 0. Every call is checked; a failure fills the
 * fault with SQLite's own sentence and the statement's text. Texts and blobs given by the readers
 * belong to the statement and are valid until its next step, reset or free.                        */
#ifndef LAPWING_STATEMENT_H
#define LAPWING_STATEMENT_H

#include <stddef.h>
#include <stdint.h>

#include "schema/fault.h"

struct store;
struct statement;

/* On OK the caller owns *statement and ends it with statement_free(). */
enum status statement_prepare(struct store *store, const char *sql, struct statement **statement,
                              struct fault *fault);
void statement_free(struct statement *statement); /* NULL is fine */

enum status statement_bind_text(struct statement *statement, int position, const char *text,
                                struct fault *fault); /* NULL binds SQL NULL; text is copied */
enum status statement_bind_integer(struct statement *statement, int position, int64_t value,
                                   struct fault *fault);
/* A NAN binds SQL NULL; infinities are BAD_INPUT. */
enum status statement_bind_real(struct statement *statement, int position, double value,
                                struct fault *fault);
enum status statement_bind_blob(struct statement *statement, int position, const void *bytes,
                                size_t size, struct fault *fault);

/* For reading: *row is 1 while there is a row. */
enum status statement_step(struct statement *statement, int *row, struct fault *fault);
/* For writing: runs to the end, then resets and clears the bindings, ready for the next row. */
enum status statement_run(struct statement *statement, struct fault *fault);
enum status statement_reset(struct statement *statement, struct fault *fault);

const char *statement_text(struct statement *statement, int column); /* NULL for SQL NULL */
double statement_real(struct statement *statement, int column);      /* NAN for SQL NULL */
int64_t statement_integer(struct statement *statement, int column);  /* 0 for SQL NULL */
int statement_is_null(struct statement *statement, int column);
const void *statement_blob(struct statement *statement, int column, size_t *size);

#endif
