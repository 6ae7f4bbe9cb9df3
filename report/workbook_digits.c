/* workbook_digits.c - which column tells how uncertain another is; see workbook.h. */
#include <string.h>

#include "report/workbook.h"

static const struct {
    const char *column, *by;
} pairs[] = {
    {"delta", "half_width"},
    {"delta", "one_mounting_sd"},
    {"half_width", "half_width"},
    {"lower", "half_width"},
    {"upper", "half_width"},
    {"standard_uncertainty", "standard_uncertainty"},
    {"beside_delta", "beside_standard_uncertainty"},
    {"beside_standard_uncertainty", "beside_standard_uncertainty"},
    {"shrunk", "shrunk_standard_uncertainty"},
    {"shrunk_standard_uncertainty", "shrunk_standard_uncertainty"},
    {"value", "one_mounting_sd"},
    {"baseline_here", "one_mounting_sd"},
    {"one_mounting_sd", "one_mounting_sd"},
    {"u_configuration", "u_configuration"},
    {"u_baseline", "u_baseline"},
    {"u_delta", "u_delta"},
    {"standard_configuration", "standard_configuration"},
    {"standard_delta", "standard_delta"},
};

static int column_of(const struct csv_table *table, const char *name, size_t length,
                     const char *ending)
{
    for (size_t i = 0; i < table->n; i++) {
        const char *column = table->columns[i].name;
        if (table->columns[i].kind == CSV_NUMBER && strncmp(column, name, length) == 0 &&
            strcmp(column + length, ending) == 0)
            return (int)i;
    }
    return -1;
}

int workbook_uncertainty(const struct csv_table *table, size_t i)
{
    static const char at_target[] = "target_";
    const char *name = table->columns[i].name;
    size_t length = strlen(name);

    if (length > 2 && strcmp(name + length - 2, "_u") == 0)
        return (int)i;
    for (size_t k = 0; k < sizeof pairs / sizeof pairs[0]; k++) {
        int by = strcmp(pairs[k].column, name) == 0
                     ? column_of(table, pairs[k].by, strlen(pairs[k].by), "")
                     : -1;
        if (by >= 0)
            return by;
    }
    if (strncmp(name, at_target, strlen(at_target)) == 0) {
        name += strlen(at_target);
        length -= strlen(at_target);
    }
    return column_of(table, name, length, "_u");
}
