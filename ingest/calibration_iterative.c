/* calibration_iterative.c - a row an output: outputs from loads; see calibration_file.h. */
#include <stdio.h>
#include <string.h>

#include "ingest/calibration_parts.h"

enum { RATED, LOWEST, HIGHEST, RESIDUAL_SD, OF_LOADS, ROWS = OF_LOADS + LOAD_COUNT };

static const char *const of_loads[OF_LOADS] = {"rated", "lowest", "highest", "residual_sd"};

/* "rated" .. "residual_sd", "R1" .. "R6". */
static void row_name(size_t row, char name[32])
{
    if (row < OF_LOADS)
        (void)snprintf(name, 32, "%s", of_loads[row]);
    else
        (void)snprintf(name, 32, "R%zu", row - OF_LOADS + 1);
}

static size_t find_row(const char *text)
{
    char name[32];
    size_t row = 0;
    for (; row < ROWS; row++) {
        row_name(row, name);
        if (strcmp(name, text) == 0)
            break;
    }
    return row;
}

static double *place(struct calibration *calibration, size_t row, size_t load)
{
    double *const arrays[OF_LOADS] = {calibration->rated, calibration->lowest, calibration->highest,
                                      calibration->residual_sd};
    return &arrays[row][load];
}

/* "1500 N" below the six loads, nothing below the other terms. */
static enum status read_of_loads(const struct calibration_reading *reading,
                                 const struct sheet_row *row, size_t of, struct fault *fault)
{
    enum status status = OK;
    for (size_t term = 0; term < CALIBRATION_LOAD_TERMS && status == OK; term++) {
        size_t column = CALIBRATION_OF_LOADS + term;
        if (term >= LOAD_COUNT && row->cells[column][0] != '\0')
            sheet_problem(reading->sheet, row, column, reading->problems,
                          "'%.80s' of the term %s; limit: %s is said of Fx .. Mz; leave it empty",
                          row->cells[column], calibration_column_name(column), of_loads[of]);
        if (term >= LOAD_COUNT || !reading->sheet->present[column])
            continue;
        const char *unit = of == RESIDUAL_SD ? "1" : calibration_load_unit(term);
        size_t before = reading->problems->n;
        status = units_quantity(reading->units, row->cells[column], unit,
                                place(reading->calibration, of, term), fault);
        if (status == BAD_INPUT) {
            sheet_problem(reading->sheet, row, column, reading->problems, "%.400s",
                          fault != NULL ? fault->text : "");
            status = OK;
        }
        if (of == RATED && reading->problems->n == before)
            calibration_check_rated(reading, row, column, term);
    }
    return status;
}

static void read_output(const struct calibration_reading *reading, const struct sheet_row *row,
                        size_t output)
{
    for (size_t term = 0; term < CALIBRATION_LOAD_TERMS; term++) {
        size_t column = CALIBRATION_OF_LOADS + term;
        double value = 0;
        if (reading->sheet->present[column] &&
            sheet_number(reading->sheet, row, column, reading->problems, &value))
            reading->calibration->output[output][term] = value;
    }
}

static enum status read_row(const struct calibration_reading *reading, const struct sheet_row *row,
                            size_t line[ROWS], struct fault *fault)
{
    const char *name = row->cells[CALIBRATION_OUTPUT];
    size_t of = find_row(name);
    if (of == ROWS) {
        sheet_problem(reading->sheet, row, CALIBRATION_OUTPUT, reading->problems,
                      "'%.80s' is no row of it; limit: R1 .. R6, rated, lowest, highest or "
                      "residual_sd; correct it",
                      name);
        return OK;
    }
    if (line[of] > 0)
        sheet_problem(reading->sheet, row, CALIBRATION_OUTPUT, reading->problems,
                      "%s is on line %zu already; limit: one row each; correct one", name,
                      line[of]);
    line[of] = row->line;
    if (of < OF_LOADS)
        return read_of_loads(reading, row, of, fault);
    read_output(reading, row, of - OF_LOADS);
    calibration_read_shifts(reading, row, of - OF_LOADS, 1);
    return OK;
}

static void check_whole(const struct calibration_reading *reading, const size_t line[ROWS])
{
    char name[32];
    for (size_t row = 0; row < ROWS; row++) {
        row_name(row, name);
        if (line[row] == 0 && row != RESIDUAL_SD)
            calibration_header_problem(
                reading,
                "there is no row '%s'; limit: rated, lowest, highest and R1 .. R6 where a row is "
                "an output; add it",
                name);
    }
}

enum status calibration_read_iterative(const struct calibration_reading *reading,
                                       struct fault *fault)
{
    size_t line[ROWS] = {0};
    size_t before = reading->problems->n;
    enum status status = OK;
    for (size_t load = 0; load < LOAD_COUNT; load++)
        calibration_require(reading, CALIBRATION_OF_LOADS + load);
    for (size_t i = 0; i < reading->sheet->n_rows && status == OK; i++)
        status = read_row(reading, &reading->sheet->rows[i], line, fault);
    if (status != OK)
        return status;
    check_whole(reading, line);
    if (reading->problems->n == before)
        calibration_check_box(reading);
    return OK;
}
