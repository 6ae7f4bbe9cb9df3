/* header.h - the head of a log: names, units, and where they stand.
 *
 * One or two rows of names (two are joined with a blank), and a row of units when the map says so. A
 * unit may also stand in the name itself: "p [Pa]" or "p (Pa)".                                    */
#ifndef LAPWING_HEADER_H
#define LAPWING_HEADER_H

#include <stddef.h>

#include "ingest/problems.h"
#include "ingest/text_table.h"
#include "schema/campaign.h"
#include "schema/fault.h"

struct header_cell {
    char *name;         /* as in the file, trimmed, two rows joined */
    size_t bare;        /* length of the name without the unit in it */
    char *own_unit;     /* the unit inside the name; NULL when there is none */
    int is_named;       /* 1: the map's columns name it, so it is no misspelling of another name */
    int in_round;       /* 1: it stands in round brackets, where a remark may stand as well */
    char *row_unit;     /* of the unit row; NULL when there is none, never "" */
    size_t column;      /* in the file, characters from 1 */
    size_t unit_column; /* of the unit row's cell; 0 without a unit row */
};

struct header {
    char *file;       /* as the user knows it */
    size_t line;      /* of the first row of names; 0 when the map names the columns */
    size_t map_line;  /* in campaign.yaml, when the map names the columns; else 0 */
    size_t unit_line; /* of the unit row; 0 when there is none */
    struct header_cell *cells;
    size_t n;
};

/* Reads the head of a table that stands at its beginning; names are those of the map where it has
 * them. BAD_INPUT: no head, cut short, not cut
 * by the declared delimiter, or two columns of one name (both are named). On OK the caller owns *header, ends it with header_free(). */
enum status header_read(struct text_table *table, const struct channel_map *map,
                        struct header **header, struct fault *fault);
void header_free(struct header *header); /* NULL is fine */

/* Finds the column of this name: the whole text of the header cell, or else the name without the
 * unit in it. BAD_INPUT: none (the header's names are listed) or more than one. */
enum status header_find(const struct header *header, const char *name, size_t *index,
                        struct fault *fault);

/* 1 when a row of data is the row of names over again: two logs were put together. Cheap for a row
 * whose first cell is another. */
int header_is_repeated(const struct header *header, const struct table_row *row);

/* Sets the fault's place to a header cell; to its cell in the unit row. */
void header_place(const struct header *header, size_t index, struct fault *fault);
void header_place_unit(const struct header *header, size_t index, struct fault *fault);

#endif
