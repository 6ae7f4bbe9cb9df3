/* budget_rows.h - writing and reading what a point's value is uncertain by.
 *
 * A blob keeps the signed contributions of the sources that do anything at a point, eleven numbers each: its
 * place, the freedom of its standard uncertainty (0: infinite), and what it does to CD CY CL CLF CLR balance L/D
 * CDA CLA.                                                                                          */
#ifndef LAPWING_BUDGET_ROWS_H
#define LAPWING_BUDGET_ROWS_H

#include "reduce/point_budget.h"

struct budget_writer {
    struct statement *uncertainty, *budget, *source;
    int64_t reduction;
};

enum status budget_writer_open(struct store *store, int64_t reduction, struct budget_writer *writer,
                               struct fault *fault);
void budget_writer_end(struct budget_writer *writer); /* an empty one is fine */

/* The sources by name, once a reduction. */
enum status budget_write_sources(struct budget_writer *writer, const struct budget_list *list,
                                 struct fault *fault);

/* A point's row a quantity, and its contributions. */
enum status budget_write_point(struct budget_writer *writer, const char *run, const char *point,
                               const struct budget_list *list, const struct point_budget *budget,
                               struct fault *fault);

/* Contributions of a blob into the places of *budget, whose other members are left alone. BAD_INPUT: it is no
 * such blob. */
enum status budget_blob_read(const void *bytes, size_t size, struct point_budget *budget,
                             struct fault *fault);

#endif
