/* fault_log.h - a log in memory, cell by cell, so that single columns can be spoilt and written again.
 *
 * What is not touched is written as it was read, byte by byte.                                     */
#ifndef LAPWING_TESTS_FAULT_LOG_H
#define LAPWING_TESTS_FAULT_LOG_H

#include <stddef.h>

/* The rows of one point: they follow each other. */
struct fault_point {
    size_t first, rows;
};

struct fault_log {
    char *text;  /* of the file; cells point into it */
    char **head; /* its first lines */
    size_t n_head;
    char delimiter;
    size_t columns, rows;
    char **cells;     /* rows x columns */
    double **numbers; /* of each column: NULL as long as nobody asked for it */
    int *decimals;    /* a column of numbers is written with; -1: nine digits */
    size_t *order;    /* which column's cells stand under a name */
    struct fault_point *points;
    size_t n_points;
    double step; /* s between rows of a point */
};

/* Reads path: n_head lines of names and units, then rows whose first cell is a time in s and whose second
 * names the point. 0 when it cannot. The caller ends *log with fault_log_end(). */
int fault_log_read(const char *path, char delimiter, size_t n_head, struct fault_log *log);
int fault_log_write(const struct fault_log *log, const char *path);
void fault_log_end(struct fault_log *log);

/* The column of a name, of which only what stands before a blank counts; log->columns: there is none. */
size_t fault_log_find(const struct fault_log *log, const char *name);

/* The numbers of a column, to be changed in place; a cell that is no number is NAN and is written as it
 * was. NULL without memory. They belong to the log. */
double *fault_log_numbers(struct fault_log *log, size_t column);

#endif
