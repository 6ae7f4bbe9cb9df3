/* support_table.h - what a support, or its interference, adds to the coefficients, from a table.
 *
 * Rows are interpolated over the axes that the table names (reduce/physics/convex_weights.h), each in
 * units of its own range; outside the table the nearest row within tare_tolerance on every one of its
 * axes serves, and beyond there is no answer. Loads of a table are brought to coefficients by the
 * dynamic pressure that they were measured at; what a table does not name it leaves as it is.        */
#ifndef LAPWING_SUPPORT_TABLE_H
#define LAPWING_SUPPORT_TABLE_H

#include "reduce/key_text.h"
#include "reduce/physics/coefficients.h"
#include "reduce/physics/outcome.h"
#include "schema/campaign.h"
#include "schema/store.h"

struct support_table {
    int is_declared;
    size_t n;      /* rows */
    size_t n_axes; /* that it names */
    int axis[ATTITUDE_COUNT];
    double range[ATTITUDE_COUNT];  /* of axis[k]; 1 where it has none */
    double *place;                 /* n rows of n_axes coordinates, over their range */
    double (*value)[COEFFICIENTS]; /* CLF and CLR follow from CL and CPM */
    double *weight;                /* n; scratch */
};

/* Reads a facility's table. On OK the caller ends *table with support_table_end(). */
enum status support_table_read(struct store *store, const struct facility *facility,
                               enum table_kind kind, const struct car *car,
                               struct support_table *table, struct fault *fault);
void support_table_end(struct support_table *table);

/* Coefficients at an attitude; zeros where no table is declared. OUTCOME_OUTSIDE: *worst_axis is the
 * axis that is farthest outside, in ranges, -1 for an empty table; OUTCOME_NO_MEMORY. */
enum outcome support_table_at(const struct support_table *table, const double *tolerance,
                              const double attitude[ATTITUDE_COUNT],
                              double coefficient[COEFFICIENTS], int *worst_axis);

/* Adds every number of a facility's tables to a key. */
enum status support_tables_key(struct store *store, const char *facility, struct key_text *key,
                               struct fault *fault);

#endif
