/* loading_sheet.c - see loading_sheet.h. */
#include "ingest/loading_sheet.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/sheet.h"

enum {
    LABEL,
    SERIES,
    DIRECTION,
    CHECK,
    TEMPERATURE,
    LOADS,
    OUTPUTS = LOADS + LOAD_COUNT,
    COLUMNS = OUTPUTS + LOAD_COUNT
};

/* One sheet on its way into *loadings. */
struct reading {
    const struct sheet *sheet;
    struct problems *problems;
    struct loadings *loadings;
    struct unit_conversion conversion[COLUMNS];
};

static void make_columns(struct sheet_column columns[COLUMNS])
{
    static const char *const names[LOADS] = {"loading", "series", "direction", "check",
                                             "temperature"};
    for (size_t i = 0; i < LOADS; i++)
        columns[i] = (struct sheet_column){names[i], 0};
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        columns[LOADS + i] = (struct sheet_column){calibration_load_name(i), 0};
        columns[OUTPUTS + i] = (struct sheet_column){calibration_term_name(i), 0};
    }
}

/* The first load with the first output, and so on. */
static void pair_columns(const struct reading *reading)
{
    const struct sheet *sheet = reading->sheet;
    size_t loads = 0, outputs = 0, output = 0;
    struct fault fault;
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        loads += (size_t)sheet->present[LOADS + i];
        outputs += (size_t)sheet->present[OUTPUTS + i];
    }
    for (size_t i = 0; i < LOAD_COUNT && loads == outputs; i++) {
        reading->loadings->is_present[i] = sheet->present[LOADS + i];
        if (!sheet->present[LOADS + i])
            continue;
        while (!sheet->present[OUTPUTS + output])
            output++;
        reading->loadings->output_of[i] = output++;
    }
    if (loads == outputs && loads > 0)
        return;
    fault_set(&fault, BAD_INPUT, __FILE__, __LINE__,
              "%zu of the loads Fx .. Mz and %zu of the outputs R1 .. R6 have a column; limit: at "
              "least one, and as many outputs as loads; complete the header",
              loads, outputs);
    fault_where(&fault, "%s:%zu", sheet->name, sheet->header_line);
    problems_add(reading->problems, &fault);
}

static enum status take_unit(struct reading *reading, size_t column, const char *si_unit,
                             struct units *units, struct fault *fault)
{
    const struct sheet_row *row = &reading->sheet->rows[0];
    if (!reading->sheet->present[column])
        return OK;
    enum status status =
        units_conversion(units, row->cells[column], si_unit, &reading->conversion[column], fault);
    if (status != BAD_INPUT)
        return status;
    sheet_problem(reading->sheet, row, column, reading->problems,
                  "no usable unit in the row of units: %.300s", fault != NULL ? fault->text : "");
    return OK;
}

static void take_output_unit(struct reading *reading)
{
    const struct sheet_row *row = &reading->sheet->rows[0];
    char *unit = reading->loadings->output_unit;
    for (size_t i = OUTPUTS; i < COLUMNS; i++) {
        if (!reading->sheet->present[i])
            continue;
        if (unit[0] == '\0')
            (void)snprintf(unit, sizeof reading->loadings->output_unit, "%.60s", row->cells[i]);
        if (unit[0] == '\0')
            sheet_problem(reading->sheet, row, i, reading->problems,
                          "the output has no unit; limit: a row of units below the header; add it");
        else if (strcmp(unit, row->cells[i]) != 0)
            sheet_problem(reading->sheet, row, i, reading->problems,
                          "the output is in '%.60s', others in '%.60s'; limit: one unit; convert "
                          "it, or correct the unit",
                          row->cells[i], unit);
    }
}

static enum status take_units(struct reading *reading, struct units *units, struct fault *fault)
{
    enum status status = take_unit(reading, TEMPERATURE, "K", units, fault);
    for (size_t i = 0; i < LOAD_COUNT && status == OK; i++)
        status = take_unit(reading, LOADS + i, calibration_load_unit(i), units, fault);
    if (status == OK)
        take_output_unit(reading);
    return status;
}

static double read_number(const struct reading *reading, const struct sheet_row *row, size_t column)
{
    double value = 0;
    (void)sheet_number(reading->sheet, row, column, reading->problems, &value);
    return value * reading->conversion[column].factor + reading->conversion[column].offset;
}

/* 1 for the word, 0 for the other one or an empty cell. */
static int read_word(const struct reading *reading, const struct sheet_row *row, size_t column,
                     const char *word, const char *other)
{
    const char *text = row->cells[column];
    if (strcmp(text, word) != 0 && strcmp(text, other) != 0 && text[0] != '\0')
        sheet_problem(reading->sheet, row, column, reading->problems,
                      "'%.60s'; limit: %s, %s or empty; correct it", text, word, other);
    return strcmp(text, word) == 0;
}

static enum status find_series(struct reading *reading, const char *name, size_t *series,
                               struct fault *fault)
{
    struct loadings *loadings = reading->loadings;
    for (*series = 0; *series < loadings->n_series; (*series)++)
        if (strcmp(loadings->series[*series], name) == 0)
            return OK;
    char **grown = realloc(loadings->series, (loadings->n_series + 1) * sizeof *grown);
    if (grown == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the loadings");
    loadings->series = grown;
    grown[loadings->n_series] = strdup(name);
    if (grown[loadings->n_series] == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the loadings");
    loadings->n_series++;
    return OK;
}

static enum status read_row(struct reading *reading, const struct sheet_row *row,
                            struct loading *loading, struct fault *fault)
{
    struct loadings *loadings = reading->loadings;
    *loading = (struct loading){.line = row->line, .temperature = (double)NAN};
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        if (!loadings->is_present[i])
            continue;
        loading->load[i] = read_number(reading, row, LOADS + i);
        loading->output[i] = read_number(reading, row, OUTPUTS + loadings->output_of[i]);
    }
    loading->is_down = read_word(reading, row, DIRECTION, "down", "up");
    loading->is_check = read_word(reading, row, CHECK, "yes", "no");
    if (loadings->has_temperature)
        loading->temperature = read_number(reading, row, TEMPERATURE);
    return reading->sheet->present[SERIES]
               ? find_series(reading, row->cells[SERIES], &loading->series, fault)
               : OK;
}

static enum status read_rows(struct reading *reading, struct fault *fault)
{
    const struct sheet *sheet = reading->sheet;
    struct loadings *loadings = reading->loadings;
    enum status status = OK;
    loadings->rows = calloc(sheet->n_rows, sizeof *loadings->rows);
    if (loadings->rows == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the loadings");
    loadings->has_temperature = sheet->present[TEMPERATURE];
    for (size_t i = 1; i < sheet->n_rows && status == OK; i++)
        status = read_row(reading, &sheet->rows[i], &loadings->rows[loadings->n++], fault);
    return status;
}

static enum status read_sheet(struct reading *reading, struct units *units, struct fault *fault)
{
    size_t before = reading->problems->n;
    for (size_t i = 0; i < COLUMNS; i++)
        reading->conversion[i] = (struct unit_conversion){1, 0};
    memcpy(reading->loadings->sha256, reading->sheet->digest, sizeof reading->loadings->sha256);
    reading->loadings->name = strdup(reading->sheet->name);
    if (reading->loadings->name == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the loadings");
    pair_columns(reading);
    if (reading->problems->n > before || reading->sheet->n_rows == 0)
        return OK;
    enum status status = take_units(reading, units, fault);
    return status == OK && reading->problems->n == before ? read_rows(reading, fault) : status;
}

enum status loading_sheet_read(const char *path, struct units *units, struct problems *problems,
                               struct loadings *loadings, struct fault *fault)
{
    struct sheet_column columns[COLUMNS];
    struct sheet *sheet = NULL;
    memset(loadings, 0, sizeof *loadings);
    make_columns(columns);
    size_t before = problems->n;
    enum status status = sheet_read(path, path, columns, COLUMNS, problems, &sheet, fault);
    struct reading reading = {.sheet = sheet, .problems = problems, .loadings = loadings};
    if (status == OK && problems->n == before)
        status = read_sheet(&reading, units, fault);
    sheet_free(sheet);
    return status;
}
