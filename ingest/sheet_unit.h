/* sheet_unit.h - what the row of units below a sheet's header makes of a column. */
#ifndef LAPWING_SHEET_UNIT_H
#define LAPWING_SHEET_UNIT_H

#include "ingest/sheet.h"
#include "schema/units.h"

/* Factor from the unit in the sheet's first row to si_unit; 0 where the sheet lacks the column, and
 * where there is no usable unit, which becomes a problem. name: of the column. Errors: NO_MEMORY and
 * the like. */
enum status sheet_unit_factor(const struct sheet *sheet, size_t column, const char *name,
                              const char *si_unit, struct units *units, struct problems *problems,
                              double *factor, struct fault *fault);

#endif
