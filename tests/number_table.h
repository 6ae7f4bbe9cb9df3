/* number_table.h - a CSV table of numbers kept beside a test, whole in memory. */
#ifndef LAPWING_TEST_NUMBER_TABLE_H
#define LAPWING_TEST_NUMBER_TABLE_H

#include <stddef.h>

struct number_table {
    size_t rows, columns;
    double *cell; /* rows x columns; NAN for a cell that is no number */
    char **name;  /* columns, of the first line that is no comment */
};

/* Reads path, from the top of the tree; lines that begin with # are comments. 0 when it can't be read, which
 * is a failed check too. End it with number_table_free() either way. */
int number_table_read(const char *path, struct number_table *table);
void number_table_free(struct number_table *table);

#endif
