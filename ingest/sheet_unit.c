/* sheet_unit.c - see sheet_unit.h. */
#include "ingest/sheet_unit.h"

enum status sheet_unit_factor(const struct sheet *sheet, size_t column, const char *name,
                              const char *si_unit, struct units *units, struct problems *problems,
                              double *factor, struct fault *fault)
{
    const struct sheet_row *row = &sheet->rows[0];
    struct unit_conversion conversion = {0, 0};
    *factor = 0;
    if (!sheet->present[column])
        return OK;
    enum status status = units_conversion(units, row->cells[column], si_unit, &conversion, fault);
    if (status == BAD_INPUT)
        sheet_problem(sheet, row, column, problems,
                      "column '%s' has no usable unit in the unit row: %.300s", name,
                      fault != NULL ? fault->text : "");
    else if (status != OK)
        return status;
    *factor = conversion.factor;
    return OK;
}
