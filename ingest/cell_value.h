/* cell_value.h - the text of a cell as a number, as missing, or as neither. */
#ifndef LAPWING_CELL_VALUE_H
#define LAPWING_CELL_VALUE_H

#include "ingest/cell_list.h"
#include "schema/campaign.h"

enum cell_outcome {
    CELL_NUMBER,
    CELL_MISSING,
    CELL_OUT_OF_RANGE, /* a number beyond what a double holds */
    CELL_WRONG
};

struct cell_reader {
    const struct channel_map *map;
    unsigned char begins_word[256]; /* 1: a missing word begins with this byte */
    int empty_is_missing;
};

struct cell_reader cell_reader_for(const struct channel_map *map);

/* *value is the number, NAN when it is none. A number is of the grammar of schema/number.h, or of that
 * with U+2212 for a minus, or with the D of Fortran for the E of the exponent: 1.0D+03. One of the
 * map's sentinels is missing. Source: ISO/IEC 1539-1:2018, 13.7.2.3.3, table 13.1 (the D form). */
enum cell_outcome cell_value(const struct cell_reader *reader, const struct table_cell *cell,
                             double *value);

/* 1 when the cell holds one of the map's words for "missing". */
int cell_is_missing(const struct cell_reader *reader, const struct table_cell *cell);

#endif
