/* point_rows.h - the rows of one point in the store: its result and every step of its ledger. */
#ifndef LAPWING_POINT_ROWS_H
#define LAPWING_POINT_ROWS_H

#include "reduce/reduced_point.h"
#include "schema/quantity.h"

struct point_writer {
    struct statement *result, *ledger;
    int64_t reduction;
};

/* On OK the caller ends *writer with point_writer_end(). */
enum status point_writer_open(struct store *store, int64_t reduction, struct point_writer *writer,
                              struct fault *fault);
void point_writer_end(struct point_writer *writer); /* an empty one is fine */

enum status point_result_write(struct point_writer *writer, const struct run_work *work,
                               const struct reduced_point *made, struct fault *fault);

/* The steps that happened, in order: zero, balance, weight model, weight tare, belt tare, transfer, cells,
 * freestream, raw, support tare, interference, buoyancy, blockage, flow angularity, Reynolds, corrected,
 * full size. A step that the recipe leaves out has no rows, and so have the steps after the
 * one that refused. */
enum status point_ledger_write(struct point_writer *writer, const struct run_work *work,
                               const struct reduced_point *made, struct fault *fault);

/* All twelve quantities of a point from the eight corrected coefficients; ratios are NAN where they
 * are not defined. */
void quantities_from_coefficients(const double coefficient[COEFFICIENTS], double area,
                                  double quantity[QUANTITY_COUNT]);

#endif
