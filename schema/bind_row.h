/* bind_row.h - several values of one kind into the places of a statement that follow each other. */
#ifndef LAPWING_BIND_ROW_H
#define LAPWING_BIND_ROW_H

#include <stddef.h>
#include <stdint.h>

#include "schema/statement.h"

/* Bind n values from a position (1 is the first) on. A text that is NULL binds SQL NULL, and so does a real
 * that is not finite. */
enum status bind_texts(struct statement *statement, int position, const char *const *texts,
                       size_t n, struct fault *fault);
enum status bind_integers(struct statement *statement, int position, const int64_t *values,
                          size_t n, struct fault *fault);
enum status bind_reals(struct statement *statement, int position, const double *values, size_t n,
                       struct fault *fault);

#endif
