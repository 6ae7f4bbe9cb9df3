/* cell_list.h - the cells of one row, and the two ways to cut a line into them.
 *
 * Plain lines are cut in place. A line with a quote in it goes to libcsv, alone, so that the line
 * number stays exact.                                                                              */
#ifndef LAPWING_CELL_LIST_H
#define LAPWING_CELL_LIST_H

#include <stddef.h>

#include "schema/fault.h"

struct table_cell {
    const char *text; /* not ended by a NUL */
    size_t length;    /* trimmed of blanks and tabs at both ends */
};

struct cell_list {
    struct table_cell *cells;
    size_t n;
    size_t capacity;
};

void cell_list_free(struct cell_list *list);

enum cut_outcome {
    CUT_OK,
    CUT_SPECIAL,     /* a byte that a plain line cannot have: quote, NUL, CR or not ASCII */
    CUT_STRAY_QUOTE, /* a quote inside a cell that does not begin with one, or text after one */
    CUT_OPEN_QUOTE,  /* the line ends inside a quoted cell */
    CUT_NO_MEMORY
};

/* Cuts a line at every delimiter. With ascii_only, bytes above 0x7F end it with CUT_SPECIAL too;
 * quotes, NUL and CR always do. Delimiter ' ' means runs of blanks and tabs. */
enum cut_outcome cell_list_cut_plain(struct cell_list *list, const char *line, size_t length,
                                     char delimiter, int ascii_only);

/* The same for a line with quotes, delimiter not ' '. *scratch (its size in *scratch_size) holds the
 * unquoted text, grows as needed and is the caller's to free. On CUT_STRAY_QUOTE and CUT_OPEN_QUOTE
 * *stop is the offset where libcsv stopped. */
enum cut_outcome cell_list_cut_quoted(struct cell_list *list, const char *line, size_t length,
                                      char delimiter, char **scratch, size_t *scratch_size,
                                      size_t *stop);

/* Offset in the line of the first byte of cell number `index` (from 0), quotes respected. */
size_t cell_offset(const char *line, size_t length, char delimiter, size_t index);

/* Delimiters of this kind outside quotes. */
size_t count_delimiters(const char *line, size_t length, char delimiter);

#endif
