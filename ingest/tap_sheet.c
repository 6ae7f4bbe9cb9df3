/* tap_sheet.c - see tap_sheet.h. */
#include "ingest/tap_sheet.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/sheet_unit.h"

enum { NAME, COLUMN, X, Y, Z, NORMAL_X, NORMAL_Y, NORMAL_Z, AREA, SURFACE, TUBE_LENGTH, COLUMNS };

static const struct sheet_column columns[COLUMNS] = {
    {"tap", 1},  {"column", 1},   {"x", 1},          {"y", 1},
    {"z", 1},    {"normal_x", 1}, {"normal_y", 1},   {"normal_z", 1},
    {"area", 0}, {"surface", 1},  {"tube_length", 0}};

/* SI unit of each column; NULL for text. */
static const char *const si_units[COLUMNS] = {NULL, NULL, "m",  "m",  "m", "1",
                                              "1",  "1",  "m2", NULL, "m"};

void tap_sheet_free(struct tap_sheet *sheet)
{
    if (sheet == NULL)
        return;
    free(sheet->taps);
    sheet_free(sheet->sheet);
    free(sheet);
}

static enum status read_units(const struct sheet *sheet, struct units *units,
                              double factor[COLUMNS], struct problems *problems,
                              struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; i < COLUMNS && status == OK; i++) {
        factor[i] = 0;
        if (si_units[i] != NULL)
            status = sheet_unit_factor(sheet, i, columns[i].name, si_units[i], units, problems,
                                       &factor[i], fault);
    }
    return status;
}

static double read_length(const struct sheet *sheet, const struct sheet_row *row, size_t column,
                          const double factor[COLUMNS], struct problems *problems)
{
    double value = 0;
    (void)sheet_number(sheet, row, column, problems, &value);
    return value * factor[column];
}

static double read_optional(const struct sheet *sheet, const struct sheet_row *row, size_t column,
                            const double factor[COLUMNS], struct problems *problems)
{
    if (row->cells[column][0] == '\0')
        return NAN;
    double value = read_length(sheet, row, column, factor, problems);
    if (value <= 0 && factor[column] > 0)
        sheet_problem(sheet, row, column, problems,
                      "'%s' of tap '%s' is %s; limit: above 0; correct it or leave it empty",
                      columns[column].name, row->cells[NAME], row->cells[column]);
    return value;
}

static void read_normal(const struct sheet *sheet, const struct sheet_row *row, struct tap *tap,
                        const double factor[COLUMNS], struct problems *problems)
{
    double square = 0;
    for (size_t k = 0; k < 3; k++) {
        tap->normal[k] = read_length(sheet, row, NORMAL_X + k, factor, problems);
        square += tap->normal[k] * tap->normal[k];
    }
    double length = sqrt(square);
    if (!(fabs(length - 1) < 0.02)) {
        sheet_problem(
            sheet, row, NORMAL_X, problems,
            "the normal of tap '%s' has the length %.6g; limit: 1 within 2 %%; correct it",
            tap->name, length);
        return;
    }
    for (size_t k = 0; k < 3; k++)
        tap->normal[k] /= length;
}

static void check_doubles(const struct tap_sheet *sheet, size_t i, struct problems *problems)
{
    const struct tap *tap = &sheet->taps[i];
    const struct sheet_row *row = &sheet->sheet->rows[i + 1];
    if (tap->name[0] == '\0' || tap->column[0] == '\0')
        sheet_problem(sheet->sheet, row, tap->name[0] == '\0' ? NAME : COLUMN, problems,
                      "the tap has no name or no column; give both");
    for (size_t k = 0; k < i; k++) {
        int same_name = strcmp(sheet->taps[k].name, tap->name) == 0;
        if (!same_name && strcmp(sheet->taps[k].column, tap->column) != 0)
            continue;
        sheet_problem(sheet->sheet, row, same_name ? NAME : COLUMN, problems,
                      "%s '%s' is on line %zu already; limit: once; correct one",
                      same_name ? "tap" : "column", same_name ? tap->name : tap->column,
                      sheet->taps[k].line);
        return;
    }
}

static void read_tap(struct tap_sheet *sheet, size_t i, const double factor[COLUMNS],
                     struct problems *problems)
{
    const struct sheet_row *row = &sheet->sheet->rows[i + 1];
    struct tap *tap = &sheet->taps[i];
    *tap = (struct tap){.name = row->cells[NAME],
                        .column = row->cells[COLUMN],
                        .surface = row->cells[SURFACE],
                        .line = row->line};
    for (size_t k = 0; k < 3; k++)
        tap->position[k] = read_length(sheet->sheet, row, X + k, factor, problems);
    read_normal(sheet->sheet, row, tap, factor, problems);
    tap->area = read_optional(sheet->sheet, row, AREA, factor, problems);
    tap->tube_length = read_optional(sheet->sheet, row, TUBE_LENGTH, factor, problems);
    sheet_check_name(sheet->sheet, row, NAME, "tap", problems);
    check_doubles(sheet, i, problems);
}

static enum status read_taps(struct tap_sheet *sheet, struct units *units,
                             struct problems *problems, struct fault *fault)
{
    double factor[COLUMNS];
    size_t rows = sheet->sheet->n_rows;
    if (rows == 0)
        return OK; /* told already: an empty or unreadable file */
    sheet->taps = calloc(rows, sizeof *sheet->taps);
    if (sheet->taps == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for taps.csv");
    enum status status = read_units(sheet->sheet, units, factor, problems, fault);
    if (status != OK)
        return status;
    for (size_t i = 0; i + 1 < rows; i++) {
        sheet->n = i + 1;
        read_tap(sheet, i, factor, problems);
    }
    return OK;
}

enum status tap_sheet_read(const char *path, struct units *units, struct problems *problems,
                           struct tap_sheet **out, struct fault *fault)
{
    struct tap_sheet *sheet = calloc(1, sizeof *sheet);

    *out = NULL;
    if (sheet == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for taps.csv");
    enum status status =
        sheet_read(path, "taps.csv", columns, COLUMNS, problems, &sheet->sheet, fault);
    if (status == OK)
        status = read_taps(sheet, units, problems, fault);
    if (status != OK) {
        tap_sheet_free(sheet);
        return status;
    }
    *out = sheet;
    return OK;
}
