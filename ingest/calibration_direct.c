/* calibration_direct.c - a row a load: loads from outputs; see calibration_file.h. */
#include <math.h>
#include <string.h>

#include "ingest/calibration_parts.h"

/* All products or none. */
static void check_products(const struct calibration_reading *reading)
{
    const int *present = reading->sheet->present + CALIBRATION_OUTPUT_TERMS;
    size_t products = 0;
    size_t missing = 0;
    for (size_t term = LOAD_COUNT; term < CALIBRATION_TERMS; term++) {
        if (present[term])
            products++;
        else
            missing = term;
    }
    reading->calibration->second_order = products > 0;
    if (products > 0 && products < CALIBRATION_PRODUCTS)
        calibration_header_problem(
            reading,
            "%zu of 21 products, '%s' is missing; limit: all 21 or none; complete the header",
            products, calibration_term_name(missing));
}

static void check_required(const struct calibration_reading *reading)
{
    calibration_require(reading, CALIBRATION_LOAD);
    calibration_require(reading, CALIBRATION_UNIT);
    for (size_t term = 0; term < LOAD_COUNT; term++)
        calibration_require(reading, CALIBRATION_OUTPUT_TERMS + term);
    if (reading->sheet->present[CALIBRATION_LOWEST] != reading->sheet->present[CALIBRATION_HIGHEST])
        calibration_header_problem(reading, "lowest and highest stand together; add the other one");
}

static size_t find_load(const char *name)
{
    size_t load = 0;
    while (load < LOAD_COUNT && strcmp(calibration_load_name(load), name) != 0)
        load++;
    return load;
}

static void read_terms(const struct calibration_reading *reading, const struct sheet_row *row,
                       size_t load, double factor)
{
    struct calibration *calibration = reading->calibration;
    for (size_t term = 0; term < CALIBRATION_TERMS; term++) {
        size_t column = CALIBRATION_OUTPUT_TERMS + term;
        double value = 0;
        if (!reading->sheet->present[column] ||
            !sheet_number(reading->sheet, row, column, reading->problems, &value))
            continue;
        if (term < LOAD_COUNT)
            calibration->linear[load][term] = factor * value;
        else
            calibration->product[load][term - LOAD_COUNT] = factor * value;
    }
}

static void read_number(const struct calibration_reading *reading, const struct sheet_row *row,
                        size_t column, double factor, double *number)
{
    double value = 0;
    if (reading->sheet->present[column] &&
        sheet_number(reading->sheet, row, column, reading->problems, &value))
        *number = factor * value;
}

/* Rated load, box and residuals, where the file has them. */
static enum status read_range(const struct calibration_reading *reading,
                              const struct sheet_row *row, size_t load, double factor,
                              struct fault *fault)
{
    struct calibration *calibration = reading->calibration;
    size_t before = reading->problems->n;
    read_number(reading, row, CALIBRATION_RATED, factor, &calibration->rated[load]);
    read_number(reading, row, CALIBRATION_LOWEST, factor, &calibration->lowest[load]);
    read_number(reading, row, CALIBRATION_HIGHEST, factor, &calibration->highest[load]);
    if (reading->sheet->present[CALIBRATION_RATED] && reading->problems->n == before)
        calibration_check_rated(reading, row, CALIBRATION_RATED, load);
    if (!reading->sheet->present[CALIBRATION_RESIDUAL_SD])
        return OK;
    enum status status = units_quantity(reading->units, row->cells[CALIBRATION_RESIDUAL_SD], "1",
                                        &calibration->residual_sd[load], fault);
    if (status != BAD_INPUT)
        return status;
    sheet_problem(reading->sheet, row, CALIBRATION_RESIDUAL_SD, reading->problems, "%.400s",
                  fault != NULL ? fault->text : "");
    return OK;
}

static enum status read_row(const struct calibration_reading *reading, const struct sheet_row *row,
                            size_t load, struct fault *fault)
{
    struct unit_conversion conversion = {0, 0};
    enum status status = units_conversion(reading->units, row->cells[CALIBRATION_UNIT],
                                          calibration_load_unit(load), &conversion, fault);
    if (status == BAD_INPUT)
        sheet_problem(reading->sheet, row, CALIBRATION_UNIT, reading->problems, "%.400s",
                      fault != NULL ? fault->text : "");
    else if (status != OK)
        return status;
    read_terms(reading, row, load, conversion.factor);
    calibration_read_shifts(reading, row, load, conversion.factor);
    return status == OK ? read_range(reading, row, load, conversion.factor, fault) : OK;
}

static void check_whole(const struct calibration_reading *reading, const size_t line[LOAD_COUNT])
{
    for (size_t load = 0; load < LOAD_COUNT; load++)
        if (line[load] == 0)
            calibration_header_problem(
                reading, "there is no row for %s; limit: six rows Fx Fy Fz Mx My Mz; add it",
                calibration_load_name(load));
}

static int is_all_zero(const double *terms)
{
    for (size_t i = 0; i < LOAD_COUNT; i++)
        if (terms[i] != 0)
            return 0;
    return 1;
}

/* A matrix that loses a load would give that load as 0, or as another one's copy, without a word. */
static void check_rows(const struct calibration_reading *reading)
{
    for (size_t i = 0; i < reading->sheet->n_rows; i++) {
        const struct sheet_row *row = &reading->sheet->rows[i];
        if (is_all_zero(reading->calibration->linear[find_load(row->cells[CALIBRATION_LOAD])]))
            sheet_problem(reading->sheet, row, CALIBRATION_LOAD, reading->problems,
                          "%s has no linear term but 0; limit: one at least; complete the row",
                          row->cells[CALIBRATION_LOAD]);
    }
}

static enum status read_rows(const struct calibration_reading *reading, struct fault *fault)
{
    const struct sheet *sheet = reading->sheet;
    size_t line[LOAD_COUNT] = {0};
    enum status status = OK;
    for (size_t i = 0; i < sheet->n_rows && status == OK; i++) {
        const struct sheet_row *row = &sheet->rows[i];
        size_t load = find_load(row->cells[CALIBRATION_LOAD]);
        if (load == LOAD_COUNT) {
            sheet_problem(sheet, row, CALIBRATION_LOAD, reading->problems,
                          "'%s' is no load; limit: Fx, Fy, Fz, Mx, My or Mz; correct it",
                          row->cells[CALIBRATION_LOAD]);
            continue;
        }
        if (line[load] > 0)
            sheet_problem(sheet, row, CALIBRATION_LOAD, reading->problems,
                          "%s is on line %zu already; limit: one row a load; correct one",
                          row->cells[CALIBRATION_LOAD], line[load]);
        line[load] = row->line;
        status = read_row(reading, row, load, fault);
    }
    if (status == OK)
        check_whole(reading, line);
    return status;
}

enum status calibration_read_direct(const struct calibration_reading *reading, struct fault *fault)
{
    size_t before = reading->problems->n;
    check_required(reading);
    check_products(reading);
    if (!reading->sheet->present[CALIBRATION_LOAD])
        return OK;
    enum status status = read_rows(reading, fault);
    if (status != OK || reading->problems->n > before)
        return status;
    check_rows(reading);
    calibration_check_box(reading);
    return OK;
}
