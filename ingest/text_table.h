/* text_table.h - the strict reader: a delimited text file as rows of cells, each with its place.
 *
 * Nothing is repaired and nothing is guessed: a row with another number of cells than the header, a
 * byte that is not UTF-8, a quote that does not end, are refused with file:line:column. Accepted on
 * purpose: a byte-order mark, LF or CR LF (or CR throughout the file), blank lines anywhere (they count
 * as lines), quoted cells within one line, a first line sep=; that agrees with the delimiter, a Ctrl-Z
 * after the last row, and a last row without line feed when its cells are complete.
 *
 * A file may be made of blocks, each below a line that begins with a mark: only the rows of the named
 * one are given. Its title is the first quoted text of the line, or else what follows the mark, without
 * blanks, commas, colons and equals signs before it.
 *
 * Memory is flat in the file's length. Order of use: text_table_open(), text_table_next() until *got
 * is 0, text_table_close().                                                                        */
#ifndef LAPWING_TEXT_TABLE_H
#define LAPWING_TEXT_TABLE_H

#include <stddef.h>

#include "ingest/byte_source.h"
#include "ingest/cell_list.h"
#include "schema/fault.h"

struct table_format {
    const char *name; /* the file as the user knows it, for messages; copied */
    char delimiter;   /* ',' ';' '\t' ' ' (runs of blanks), or 0: found from the header row */
    unsigned
        preamble_rows; /* physical lines before the header row, skipped unread, but for sep=; */
    const char *map;   /* the log's channel map, for messages; copied; NULL: it is a sheet */
    int trailing_cells_ignored; /* 1: empty cells beyond the header's are dropped */
    size_t columns;             /* of a file without a header row; 0: the first row tells */
    const char *comment; /* lines that begin so, after blanks, are passed over; NULL: none; kept */
    const char *blocks;  /* a line that begins so is the title of a block; NULL: no blocks; kept */
    const char *block;   /* title of the one to be read; NULL: the only one; kept */
};

struct table_row {
    size_t line;                    /* physical line, from 1 */
    int terminated;                 /* 0: the file ends right after it, without a line feed */
    const struct table_cell *cells; /* valid until the next call */
    size_t n;
};

struct text_table;

/* On OK the caller owns *table and ends it with text_table_close(); the source must outlive it. */
enum status text_table_open(struct byte_source source, const struct table_format *format,
                            struct text_table **table, struct fault *fault);

/* The first row is the header's first; every later one has as many cells. *got is 0 at the end.
 * BAD_INPUT: the row is refused, fault says where and why; the next call goes on with the row after
 * it, unless nothing can be read any more (then *got is 0). */
enum status text_table_next(struct text_table *table, struct table_row *row, int *got,
                            struct fault *fault);

/* Column, in characters from 1, where cell `index` of the last row begins. */
size_t text_table_column(const struct text_table *table, size_t index);

/* Sets the fault's place to file:line:column of a cell of the last row. */
void text_table_place(const struct text_table *table, size_t index, struct fault *fault);

const char *text_table_name(const struct text_table *table);
char text_table_delimiter(const struct text_table *table); /* 0 before the header row */
void text_table_close(struct text_table *table);           /* NULL is fine */

#endif
