/* calibration_file.c - see calibration_file.h. */
#include "ingest/calibration_file.h"

#include <math.h>
#include <string.h>

#include "ingest/iso_time.h"
#include "ingest/sheet.h"

enum { LOAD, UNIT, BALANCE, VALID_FROM, VALID_UNTIL, TERMS, COLUMNS = TERMS + CALIBRATION_TERMS };

static void make_columns(struct sheet_column columns[COLUMNS])
{
    columns[LOAD] = (struct sheet_column){"load", 1};
    columns[UNIT] = (struct sheet_column){"unit", 1};
    columns[BALANCE] = (struct sheet_column){"balance", 0};
    columns[VALID_FROM] = (struct sheet_column){"valid_from", 0};
    columns[VALID_UNTIL] = (struct sheet_column){"valid_until", 0};
    for (size_t term = 0; term < CALIBRATION_TERMS; term++)
        columns[TERMS + term] =
            (struct sheet_column){calibration_term_name(term), term < LOAD_COUNT};
}

/* All products or none. */
static void check_products(const struct sheet *sheet, struct problems *problems,
                           struct calibration *calibration)
{
    struct fault fault;
    size_t products = 0;
    size_t missing = 0;
    for (size_t term = LOAD_COUNT; term < CALIBRATION_TERMS; term++) {
        if (sheet->present[TERMS + term])
            products++;
        else
            missing = term;
    }
    calibration->second_order = products > 0;
    if (products == 0 || products == CALIBRATION_PRODUCTS)
        return;
    fault_set(&fault, BAD_INPUT, __FILE__, __LINE__,
              "%zu of 21 products, '%s' is missing; limit: all 21 or none; complete the header",
              products, calibration_term_name(missing));
    fault_where(&fault, "%s:%zu", sheet->name, sheet->header_line);
    problems_add(problems, &fault);
}

static size_t find_load(const char *name)
{
    size_t load = 0;
    while (load < LOAD_COUNT && strcmp(calibration_load_name(load), name) != 0)
        load++;
    return load;
}

static enum status read_row(const struct sheet *sheet, const struct sheet_row *row, size_t load,
                            struct units *units, struct problems *problems,
                            struct calibration *calibration, struct fault *fault)
{
    struct unit_conversion conversion = {0, 0};
    enum status status =
        units_conversion(units, row->cells[UNIT], calibration_load_unit(load), &conversion, fault);
    if (status == BAD_INPUT)
        sheet_problem(sheet, row, UNIT, problems, "%.400s", fault != NULL ? fault->text : "");
    else if (status != OK)
        return status;
    for (size_t term = 0; term < CALIBRATION_TERMS; term++) {
        double value = 0;
        if (!sheet->present[TERMS + term] ||
            !sheet_number(sheet, row, TERMS + term, problems, &value))
            continue;
        if (term < LOAD_COUNT)
            calibration->linear[load][term] = conversion.factor * value;
        else
            calibration->product[load][term - LOAD_COUNT] = conversion.factor * value;
    }
    return OK;
}

static void check_whole(const struct sheet *sheet, const size_t line[LOAD_COUNT],
                        struct problems *problems)
{
    for (size_t load = 0; load < LOAD_COUNT; load++) {
        struct fault fault;
        if (line[load] > 0)
            continue;
        fault_set(&fault, BAD_INPUT, __FILE__, __LINE__,
                  "there is no row for %s; limit: six rows Fx Fy Fz Mx My Mz; add it",
                  calibration_load_name(load));
        fault_where(&fault, "%s:%zu", sheet->name, sheet->header_line);
        problems_add(problems, &fault);
    }
}

static enum status read_rows(const struct sheet *sheet, struct units *units,
                             struct problems *problems, struct calibration *calibration,
                             struct fault *fault)
{
    size_t line[LOAD_COUNT] = {0};
    enum status status = OK;
    for (size_t i = 0; i < sheet->n_rows && status == OK; i++) {
        const struct sheet_row *row = &sheet->rows[i];
        size_t load = find_load(row->cells[LOAD]);
        if (load == LOAD_COUNT) {
            sheet_problem(sheet, row, LOAD, problems,
                          "'%s' is no load; limit: Fx, Fy, Fz, Mx, My or Mz; correct it",
                          row->cells[LOAD]);
            continue;
        }
        if (line[load] > 0)
            sheet_problem(sheet, row, LOAD, problems,
                          "%s is on line %zu already; limit: one row a load; correct one",
                          row->cells[LOAD], line[load]);
        line[load] = row->line;
        status = read_row(sheet, row, load, units, problems, calibration, fault);
    }
    if (status == OK)
        check_whole(sheet, line, problems);
    return status;
}

static int is_all_zero(const double *terms)
{
    for (size_t i = 0; i < LOAD_COUNT; i++)
        if (terms[i] != 0)
            return 0;
    return 1;
}

/* A matrix that loses a load would give that load as 0, or as another one's copy, without a word. */
static void check_linear(const struct sheet *sheet, struct problems *problems,
                         const struct calibration *calibration)
{
    size_t before = problems->n;
    for (size_t i = 0; i < sheet->n_rows; i++) {
        const struct sheet_row *row = &sheet->rows[i];
        if (is_all_zero(calibration->linear[find_load(row->cells[LOAD])]))
            sheet_problem(sheet, row, LOAD, problems,
                          "%s has no linear term but 0; limit: one at least; complete the row",
                          row->cells[LOAD]);
    }
    if (problems->n > before || !calibration_is_singular(calibration))
        return;
    struct fault fault;
    fault_set(&fault, BAD_INPUT, __FILE__, __LINE__,
              "the linear terms do not tell six loads apart (their matrix is singular); limit: no "
              "row or column that follows from the others; look for one copied or left at 0");
    fault_where(&fault, "%s:%zu", sheet->name, sheet->header_line);
    problems_add(problems, &fault);
}

static void check_balance(const struct sheet *sheet, const char *balance, struct problems *problems)
{
    for (size_t i = 0; sheet->present[BALANCE] && i < sheet->n_rows; i++)
        if (strcmp(sheet->rows[i].cells[BALANCE], balance) != 0)
            sheet_problem(sheet, &sheet->rows[i], BALANCE, problems,
                          "the calibration is of balance '%.80s', and campaign.yaml gives it to "
                          "'%.80s'; limit: a balance's own calibration; name the right file",
                          sheet->rows[i].cells[BALANCE], balance);
}

/* A date that all rows share, or NAN; an empty cell says nothing. */
static double read_date(const struct sheet *sheet, size_t column, struct problems *problems)
{
    struct iso_time time = {.seconds = (double)NAN};
    for (size_t i = 0; i < sheet->n_rows; i++) {
        const struct sheet_row *row = &sheet->rows[i];
        const char *text = row->cells[column];
        if (strcmp(text, sheet->rows[0].cells[column]) != 0)
            sheet_problem(sheet, row, column, problems,
                          "'%.80s' here, '%.80s' on line %zu; limit: one date a file; correct one",
                          text, sheet->rows[0].cells[column], sheet->rows[0].line);
        const char *wrong = i > 0 || text[0] == '\0' ? NULL : iso_time_parse(text, &time);
        if (wrong != NULL)
            sheet_problem(sheet, row, column, problems,
                          "'%.80s': %s; limit: YYYY-MM-DDTHH:MM and a zone; correct it", text,
                          wrong);
    }
    return time.seconds;
}

static void read_validity(const struct sheet *sheet, struct problems *problems,
                          struct calibration *calibration)
{
    calibration->valid_from = read_date(sheet, VALID_FROM, problems);
    calibration->valid_until = read_date(sheet, VALID_UNTIL, problems);
    if (calibration->valid_until <= calibration->valid_from)
        sheet_problem(sheet, &sheet->rows[0], VALID_UNTIL, problems,
                      "the calibration ends before it begins; limit: valid_until after valid_from; "
                      "correct one");
}

enum status calibration_file_read(const char *path, const char *name, const char *balance,
                                  struct units *units, struct problems *problems,
                                  struct calibration *calibration, struct fault *fault)
{
    struct sheet_column columns[COLUMNS];
    struct sheet *sheet = NULL;

    *calibration = (struct calibration){.valid_from = (double)NAN, .valid_until = (double)NAN};
    make_columns(columns);
    size_t before = problems->n;
    enum status status = sheet_read(path, name, columns, COLUMNS, problems, &sheet, fault);
    if (status == OK && (problems->n == before || sheet->n_rows > 0)) {
        check_products(sheet, problems, calibration);
        check_balance(sheet, balance, problems);
        read_validity(sheet, problems, calibration);
        memcpy(calibration->sha256, sheet->digest, sizeof calibration->sha256);
        status = read_rows(sheet, units, problems, calibration, fault);
        if (status == OK && problems->n == before)
            check_linear(sheet, problems, calibration);
    }
    sheet_free(sheet);
    return status;
}
