/* target_rows.h - the rows of a target pass in the store. */
#ifndef LAPWING_TARGET_ROWS_H
#define LAPWING_TARGET_ROWS_H

#include <stdint.h>

#include "reduce/target_pass.h"
#include "schema/store.h"

/* Writes a pass into target_result (BASIS_STANDS) or target_other (any other basis): one row a point
 * that belongs to a target. area: reference area, m2. */
enum status target_rows_write(struct store *store, int64_t reduction, enum basis basis, double area,
                              const struct target_pass *pass, struct fault *fault);

#endif
