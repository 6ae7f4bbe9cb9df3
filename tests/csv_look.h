/* csv_look.h - a CSV text read back by libcsv, which shares no code with the writer. */
#ifndef LAPWING_TEST_CSV_LOOK_H
#define LAPWING_TEST_CSV_LOOK_H

#include <stddef.h>

struct csv_look {
    char **cells; /* row by row */
    size_t n, capacity, columns, rows;
    int failed; /* 1: no memory, or rows of different lengths */
};

/* Reads text with the separator; ended with csv_look_end(), whatever comes. */
void csv_look_read(const char *text, char separator, struct csv_look *look);
void csv_look_end(struct csv_look *look);

/* A cell, from 0; "" outside the table. Rows 0 and 1 are names and units. */
const char *csv_look_cell(const struct csv_look *look, size_t row, size_t column);

/* The column with that name; look->columns when there is none. */
size_t csv_look_column(const struct csv_look *look, const char *name);

#endif
