/* package_parts.h - the column parts of configurations.csv: which configurations are others together.
 *
 * "floor-edge;mirror-stay" in the row of a package makes its delta comparable with the sum of theirs. */
#ifndef LAPWING_PACKAGE_PARTS_H
#define LAPWING_PACKAGE_PARTS_H

#include "ingest/configuration_sheet.h"

/* Reads the cells of the column into parts of each configuration, once the tree of parents is known.
 * Problems: a name that is no configuration, the package itself, one named twice, one of another family,
 * the baseline (which changes nothing), fewer than two, and packages that hold each other. Then the
 * configuration has no parts. OK, or NO_MEMORY. */
enum status package_parts_read(struct configuration_sheet *sheet, size_t column,
                               struct problems *problems, struct fault *fault);
void package_parts_free(struct configuration_sheet *sheet);

#endif
