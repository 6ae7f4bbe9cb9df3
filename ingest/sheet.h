/* sheet.h - a small table the user keeps by hand (run sheet, configurations, taps, calibration),
 * whole in memory, its columns found by name and in the order the caller asks for.                 */
#ifndef LAPWING_SHEET_H
#define LAPWING_SHEET_H

#include <stddef.h>

#include "ingest/problems.h"
#include "schema/digest.h"
#include "schema/fault.h"

struct sheet_column {
    const char *name;
    int required;
};

struct sheet_row {
    size_t line;
    char **cells;    /* one a sheet column, in its order; "" when the file has no such column */
    size_t *columns; /* where each cell begins, in characters from 1; 0 when there is none */
};

struct sheet {
    char *name; /* of the file, as the user knows it */
    size_t n_columns;
    size_t header_line;
    int *present; /* n_columns: 1 when the file has the column */
    struct sheet_row *rows;
    size_t n_rows;
    char digest[DIGEST_TEXT]; /* SHA-256 of the file's bytes */
};

/* Reads path. Wrong rows and unknown, doubled or missing columns are added to problems; what can be
 * read is in *sheet all the same. Gives OK, or NO_MEMORY and the like; NOT_FOUND and BAD_INPUT of
 * the file itself go to problems too (then *sheet has no rows). On OK the caller owns *sheet and
 * ends it with sheet_free(). */
enum status sheet_read(const char *path, const char *name, const struct sheet_column *columns,
                       size_t n_columns, struct problems *problems, struct sheet **sheet,
                       struct fault *fault);
void sheet_free(struct sheet *sheet); /* NULL is fine */

/* Adds a problem at a cell: format as printf. */
void sheet_problem(const struct sheet *sheet, const struct sheet_row *row, size_t column,
                   struct problems *problems, const char *format, ...)
    __attribute__((format(printf, 5, 6)));

/* Reads a cell as a number with decimal point; a problem and 0 when it is none. */
int sheet_number(const struct sheet *sheet, const struct sheet_row *row, size_t column,
                 struct problems *problems, double *value);

/* A problem when the name in a cell holds a control character (schema/utf8.h): names are printed in
 * tables and typed in commands. what: "run". */
void sheet_check_name(const struct sheet *sheet, const struct sheet_row *row, size_t column,
                      const char *what, struct problems *problems);

#endif
