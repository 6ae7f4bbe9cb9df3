/* calibration_file.c - which form a calibration file has, and what both forms say; see calibration_file.h. */
#include "ingest/calibration_file.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "ingest/calibration_parts.h"
#include "ingest/iso_time.h"

static const char *const plain_names[CALIBRATION_OUTPUT_TERMS] = {
    [CALIBRATION_LOAD] = "load",
    [CALIBRATION_OUTPUT] = "output",
    [CALIBRATION_BALANCE] = "balance",
    [CALIBRATION_VALID_FROM] = "valid_from",
    [CALIBRATION_VALID_UNTIL] = "valid_until",
    [CALIBRATION_OUTPUTS] = "outputs",
    [CALIBRATION_LOADINGS] = "loadings_sha256",
    [CALIBRATION_OUTPUTS_FROM] = "outputs_from",
    [CALIBRATION_TEMPERATURE_REFERENCE] = "temperature_reference",
    [CALIBRATION_TEMPERATURE_LOWEST] = "temperature_lowest",
    [CALIBRATION_TEMPERATURE_HIGHEST] = "temperature_highest",
    [CALIBRATION_UNIT] = "unit",
    [CALIBRATION_RATED] = "rated",
    [CALIBRATION_LOWEST] = "lowest",
    [CALIBRATION_HIGHEST] = "highest",
    [CALIBRATION_RESIDUAL_SD] = "residual_sd",
};

const char *calibration_column_name(size_t column)
{
    if (column < CALIBRATION_OUTPUT_TERMS)
        return plain_names[column];
    if (column < CALIBRATION_OUTPUT_SHIFTS)
        return calibration_term_name(column - CALIBRATION_OUTPUT_TERMS);
    if (column < CALIBRATION_OF_LOADS)
        return calibration_temperature_name(CALIBRATION_DIRECT,
                                            column - CALIBRATION_OUTPUT_SHIFTS + 2);
    if (column < CALIBRATION_LOAD_SHIFTS)
        return calibration_load_term_name(column - CALIBRATION_OF_LOADS);
    if (column < CALIBRATION_SHIFTS)
        return calibration_temperature_name(CALIBRATION_ITERATIVE,
                                            column - CALIBRATION_LOAD_SHIFTS + 2);
    return calibration_temperature_name(CALIBRATION_DIRECT, column - CALIBRATION_SHIFTS);
}

/* Column of a temperature term, 0 .. 7. */
static size_t shift_column(enum calibration_form form, size_t term)
{
    if (term < 2)
        return CALIBRATION_SHIFTS + term;
    return (form == CALIBRATION_DIRECT ? CALIBRATION_OUTPUT_SHIFTS : CALIBRATION_LOAD_SHIFTS) +
           term - 2;
}

void calibration_read_shifts(const struct calibration_reading *reading, const struct sheet_row *row,
                             size_t of, double factor)
{
    struct calibration *calibration = reading->calibration;
    for (size_t term = 0; term < CALIBRATION_TEMPERATURE_TERMS; term++) {
        size_t column = shift_column(calibration->form, term);
        double value = 0;
        if (reading->sheet->present[column] &&
            sheet_number(reading->sheet, row, column, reading->problems, &value))
            calibration->temperature[of][term] = factor * value;
    }
}

void calibration_header_problem(const struct calibration_reading *reading, const char *format, ...)
{
    char text[sizeof((struct fault *)0)->text];
    struct fault fault;
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    fault_set(&fault, BAD_INPUT, __FILE__, __LINE__, "%s", text);
    fault_where(&fault, "%s:%zu", reading->sheet->name, reading->sheet->header_line);
    problems_add(reading->problems, &fault);
}

void calibration_require(const struct calibration_reading *reading, size_t column)
{
    if (!reading->sheet->present[column])
        calibration_header_problem(reading, "the header has no column '%s'; add it",
                                   calibration_column_name(column));
}

void calibration_check_rated(const struct calibration_reading *reading, const struct sheet_row *row,
                             size_t column, size_t load)
{
    const double rounding = 1e-6;
    double here = reading->calibration->rated[load], there = reading->balance->rated[load];
    const char *name = calibration_load_name(load), *unit = calibration_load_unit(load);
    if (!(here > 0))
        sheet_problem(reading->sheet, row, column, reading->problems,
                      "the rated %s is %g %s; limit: above 0; correct it", name, here, unit);
    else if (there > 0 && fabs(here - there) > rounding * there)
        sheet_problem(reading->sheet, row, column, reading->problems,
                      "the rated %s is %g %s here and %g %s in campaign.yaml; limit: one balance; "
                      "name the right file, or correct the one that is wrong",
                      name, here, unit, there, unit);
}

void calibration_check_box(const struct calibration_reading *reading)
{
    const struct calibration *calibration = reading->calibration;
    for (size_t i = 0; i < LOAD_COUNT; i++)
        if (calibration->lowest[i] > calibration->highest[i])
            calibration_header_problem(
                reading,
                "%s was calibrated from %g to %g %s; limit: lowest below highest; correct one",
                calibration_load_name(i), calibration->lowest[i], calibration->highest[i],
                calibration_load_unit(i));
}

/* A text that all rows share must be the campaign's. */
static void check_same(const struct calibration_reading *reading, size_t column, const char *wanted,
                       const char *what, const char *limit)
{
    const struct sheet *sheet = reading->sheet;
    for (size_t i = 0; sheet->present[column] && i < sheet->n_rows; i++)
        if (strcmp(sheet->rows[i].cells[column], wanted) != 0)
            sheet_problem(sheet, &sheet->rows[i], column, reading->problems,
                          "the calibration is %s '%.80s', and campaign.yaml gives it to '%.80s'; "
                          "limit: %s; name the right file",
                          what, sheet->rows[i].cells[column], wanted, limit);
}

/* A date that all rows share, or NAN; an empty cell says nothing. */
static double read_date(const struct calibration_reading *reading, size_t column)
{
    const struct sheet *sheet = reading->sheet;
    struct iso_time time = {.seconds = (double)NAN};
    for (size_t i = 0; i < sheet->n_rows; i++) {
        const struct sheet_row *row = &sheet->rows[i];
        const char *text = row->cells[column];
        if (strcmp(text, sheet->rows[0].cells[column]) != 0)
            sheet_problem(sheet, row, column, reading->problems,
                          "'%.80s' here, '%.80s' on line %zu; limit: one date a file; correct one",
                          text, sheet->rows[0].cells[column], sheet->rows[0].line);
        const char *wrong = i > 0 || text[0] == '\0' ? NULL : iso_time_parse(text, &time);
        if (wrong != NULL)
            sheet_problem(sheet, row, column, reading->problems,
                          "'%.80s': %s; limit: YYYY-MM-DDTHH:MM and a zone; correct it", text,
                          wrong);
    }
    return time.seconds;
}

/* From where the outputs count; all rows say the same. */
static void read_outputs_from(const struct calibration_reading *reading)
{
    const struct sheet *sheet = reading->sheet;
    for (size_t i = 0; sheet->present[CALIBRATION_OUTPUTS_FROM] && i < sheet->n_rows; i++) {
        const char *text = sheet->rows[i].cells[CALIBRATION_OUTPUTS_FROM];
        int is_natural = strcmp(text, "natural zero") == 0;
        if ((!is_natural && strcmp(text, "zero") != 0) ||
            (i > 0 && is_natural != reading->calibration->from_natural_zero))
            sheet_problem(sheet, &sheet->rows[i], CALIBRATION_OUTPUTS_FROM, reading->problems,
                          "outputs_from '%.80s'; limit: natural zero or zero, the same in every "
                          "row; correct it",
                          text);
        reading->calibration->from_natural_zero = is_natural;
    }
}

static void read_validity(const struct calibration_reading *reading)
{
    struct calibration *calibration = reading->calibration;
    calibration->valid_from = read_date(reading, CALIBRATION_VALID_FROM);
    calibration->valid_until = read_date(reading, CALIBRATION_VALID_UNTIL);
    if (calibration->valid_until <= calibration->valid_from)
        sheet_problem(reading->sheet, &reading->sheet->rows[0], CALIBRATION_VALID_UNTIL,
                      reading->problems,
                      "the calibration ends before it begins; limit: valid_until after valid_from; "
                      "correct one");
}

/* A row a load needs columns of outputs, and a row an output columns of loads. */
static void check_columns(const struct calibration_reading *reading)
{
    const struct sheet *sheet = reading->sheet;
    int is_direct = reading->calibration->form == CALIBRATION_DIRECT;
    size_t begin = is_direct ? CALIBRATION_OF_LOADS : CALIBRATION_UNIT;
    size_t end = is_direct ? CALIBRATION_SHIFTS : CALIBRATION_OF_LOADS;
    for (size_t i = begin; i < end; i++) {
        if (!sheet->present[i])
            continue;
        calibration_header_problem(
            reading,
            "the file has a row %s and the column '%s': it is transposed, or of two forms; limit: "
            "a row a load with columns R1 .. R6, or a row an output with columns Fx .. Mz; turn "
            "it round",
            is_direct ? "a load" : "an output", calibration_column_name(i));
        return;
    }
}

/* A temperature that all rows share, K. */
static enum status read_kelvin(const struct calibration_reading *reading, size_t column,
                               double *kelvin, struct fault *fault)
{
    const struct sheet *sheet = reading->sheet;
    for (size_t i = 0; i < sheet->n_rows; i++) {
        const struct sheet_row *row = &sheet->rows[i];
        enum status status = OK;
        if (i > 0 && strcmp(row->cells[column], sheet->rows[0].cells[column]) != 0)
            sheet_problem(
                sheet, row, column, reading->problems,
                "'%.80s' here, '%.80s' on line %zu; limit: one temperature a file; correct "
                "one",
                row->cells[column], sheet->rows[0].cells[column], sheet->rows[0].line);
        else if (i == 0)
            status = units_quantity(reading->units, row->cells[column], "K", kelvin, fault);
        if (status == BAD_INPUT)
            sheet_problem(sheet, row, column, reading->problems, "%.400s",
                          fault != NULL ? fault->text : "");
        else if (status != OK)
            return status;
    }
    return OK;
}

/* Terms in dT without what dT is from, or how far they hold, are none. */
static enum status read_temperatures(const struct calibration_reading *reading, struct fault *fault)
{
    struct calibration *calibration = reading->calibration;
    double *const kelvin[] = {&calibration->temperature_reference, &calibration->temperature_lowest,
                              &calibration->temperature_highest};
    size_t before = reading->problems->n;
    enum status status = OK;
    calibration->has_temperature = calibration_has_temperature(calibration);
    if (!calibration->has_temperature)
        return OK;
    for (size_t i = 0; i < 3 && status == OK; i++) {
        size_t column = CALIBRATION_TEMPERATURE_REFERENCE + i;
        calibration_require(reading, column);
        if (reading->sheet->present[column])
            status = read_kelvin(reading, column, kelvin[i], fault);
    }
    if (status == OK && reading->problems->n == before &&
        calibration->temperature_lowest > calibration->temperature_highest)
        calibration_header_problem(reading,
                                   "calibrated from %g to %g K; limit: temperature_lowest below "
                                   "temperature_highest; correct one",
                                   calibration->temperature_lowest,
                                   calibration->temperature_highest);
    return status;
}

static void check_matrix(const struct calibration_reading *reading)
{
    const struct calibration *calibration = reading->calibration;
    double rated[LOAD_COUNT];
    for (size_t i = 0; i < LOAD_COUNT; i++)
        rated[i] = calibration->rated[i] > 0 ? calibration->rated[i] : reading->balance->rated[i];
    if (calibration_is_singular(calibration))
        calibration_header_problem(
            reading,
            "the linear terms do not tell six loads apart (their matrix is singular); limit: no "
            "row or column that follows from the others; look for one copied or left at 0");
    else if (calibration_is_transposed(calibration, rated))
        calibration_header_problem(
            reading,
            "the linear terms are transposed: outputs answer most to the load of their own number "
            "only with rows and columns exchanged; limit: as the header says; turn them round");
}

static enum status read_sheet(const struct calibration_reading *reading, struct fault *fault)
{
    struct calibration *calibration = reading->calibration;
    const struct balance *balance = reading->balance;
    size_t before = reading->problems->n;
    calibration->form =
        reading->sheet->present[CALIBRATION_OUTPUT] && !reading->sheet->present[CALIBRATION_LOAD]
            ? CALIBRATION_ITERATIVE
            : CALIBRATION_DIRECT;
    check_columns(reading);
    check_same(reading, CALIBRATION_BALANCE, balance->name, "of balance",
               "a balance's own calibration");
    check_same(reading, CALIBRATION_OUTPUTS, balance->output_unit, "for outputs in",
               "the unit of the balance's outputs");
    read_validity(reading);
    read_outputs_from(reading);
    memcpy(calibration->sha256, reading->sheet->digest, sizeof calibration->sha256);
    enum status status = calibration->form == CALIBRATION_DIRECT
                             ? calibration_read_direct(reading, fault)
                             : calibration_read_iterative(reading, fault);
    if (status == OK)
        status = read_temperatures(reading, fault);
    if (status == OK && reading->problems->n == before)
        check_matrix(reading);
    return status;
}

enum status calibration_file_read(const char *path, const char *name, const struct balance *balance,
                                  struct units *units, struct problems *problems,
                                  struct calibration *calibration, struct fault *fault)
{
    struct sheet_column columns[CALIBRATION_COLUMNS];
    struct sheet *sheet = NULL;

    *calibration = calibration_empty();
    for (size_t i = 0; i < CALIBRATION_COLUMNS; i++)
        columns[i] = (struct sheet_column){calibration_column_name(i), 0};
    size_t before = problems->n;
    enum status status =
        sheet_read(path, name, columns, CALIBRATION_COLUMNS, problems, &sheet, fault);
    const struct calibration_reading reading = {sheet, balance, units, problems, calibration};
    if (status == OK && (problems->n == before || sheet->n_rows > 0))
        status = read_sheet(&reading, fault);
    sheet_free(sheet);
    return status;
}
