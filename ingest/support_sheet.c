/* support_sheet.c - see support_sheet.h. */
#include "ingest/support_sheet.h"

#include <math.h>
#include <string.h>

#include "ingest/sheet_unit.h"
#include "schema/number.h"
#include "schema/statement.h"

enum {
    FIRST_COEFFICIENT = ATTITUDE_COUNT,
    FIRST_LOAD = FIRST_COEFFICIENT + 6,
    WIND = FIRST_LOAD + 6
};

static const struct sheet_column columns[SUPPORT_COLUMNS] = {{"front_ride_height", 0},
                                                             {"rear_ride_height", 0},
                                                             {"yaw", 0},
                                                             {"roll", 0},
                                                             {"pitch", 0},
                                                             {"steer", 0},
                                                             {"CD", 0},
                                                             {"CY", 0},
                                                             {"CL", 0},
                                                             {"CRM", 0},
                                                             {"CPM", 0},
                                                             {"CYM", 0},
                                                             {"Fx", 0},
                                                             {"Fy", 0},
                                                             {"Fz", 0},
                                                             {"Mx", 0},
                                                             {"My", 0},
                                                             {"Mz", 0},
                                                             {"dynamic_pressure", 0}};

static const char *const si_units[SUPPORT_COLUMNS] = {"m", "m",   "rad", "rad", "rad", "rad", "1",
                                                      "1", "1",   "1",   "1",   "1",   "N",   "N",
                                                      "N", "N m", "N m", "N m", "Pa"};

void support_sheet_end(struct support_sheet *table)
{
    sheet_free(table->sheet);
    memset(table, 0, sizeof *table);
}

static int any_present(const struct sheet *sheet, size_t first, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (sheet->present[first + i])
            return 1;
    return 0;
}

/* What the columns must be together, told at the row of units. */
static void check_columns(const struct sheet *sheet, struct problems *problems)
{
    int coefficients = any_present(sheet, FIRST_COEFFICIENT, 6);
    int loads = any_present(sheet, FIRST_LOAD, 6);
    const struct sheet_row *row = &sheet->rows[0];
    if (coefficients == loads)
        sheet_problem(
            sheet, row, FIRST_COEFFICIENT, problems,
            "the table holds %s; limit: either coefficients (CD CY CL CRM CPM CYM) or loads "
            "(Fx Fy Fz Mx My Mz); take one kind",
            loads ? "coefficients and loads" : "neither coefficients nor loads");
    if (loads != sheet->present[WIND])
        sheet_problem(sheet, row, WIND, problems,
                      "loads and the column dynamic_pressure go together; limit: both or none; %s",
                      loads ? "add the dynamic pressure of the loads" : "take it out");
    if (!any_present(sheet, 0, ATTITUDE_COUNT) && sheet->n_rows != 2)
        sheet_problem(
            sheet, row, 0, problems,
            "the table names no axis of the attitude and has %zu rows; limit: one; name the "
            "axis that the rows differ in",
            sheet->n_rows - 1);
}

static enum status read_units(struct support_sheet *table, struct units *units,
                              struct problems *problems, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; i < SUPPORT_COLUMNS && status == OK; i++)
        status = sheet_unit_factor(table->sheet, i, columns[i].name, si_units[i], units, problems,
                                   &table->factor[i], fault);
    return status;
}

static void check_rows(const struct support_sheet *table, struct problems *problems)
{
    const struct sheet *sheet = table->sheet;
    for (size_t i = 1; i < sheet->n_rows; i++)
        for (size_t k = 0; k < SUPPORT_COLUMNS; k++) {
            double value = 0;
            if (!sheet->present[k] || !sheet_number(sheet, &sheet->rows[i], k, problems, &value))
                continue;
            if (k == WIND && !(value > 0))
                sheet_problem(sheet, &sheet->rows[i], k, problems,
                              "dynamic_pressure is %s; limit: above 0; correct it",
                              sheet->rows[i].cells[k]);
        }
}

enum status support_sheet_read(const char *path, const char *name, struct units *units,
                               struct problems *problems, struct support_sheet *table,
                               struct fault *fault)
{
    enum status status =
        sheet_read(path, name, columns, SUPPORT_COLUMNS, problems, &table->sheet, fault);
    if (status != OK || table->sheet->n_rows == 0)
        return status; /* an empty or unreadable file is told already */
    check_columns(table->sheet, problems);
    status = read_units(table, units, problems, fault);
    if (status == OK)
        check_rows(table, problems);
    return status;
}

static enum status store_cell(struct statement *insert, const struct support_sheet *table, size_t i,
                              size_t k, struct fault *fault)
{
    const char *text = table->sheet->rows[i].cells[k];
    double value = 0;
    if (number_parse(text, strlen(text), '.', &value, NULL) != NUMBER_OK)
        return FAIL(fault, BAD_INPUT, "%s holds '%s', which is no number", table->sheet->name,
                    text);
    enum status status = statement_bind_text(insert, 1, table->facility->name, fault);
    if (status == OK)
        status = statement_bind_text(insert, 2, table_kind_name(table->kind), fault);
    if (status == OK)
        status = statement_bind_integer(insert, 3, (int64_t)i, fault);
    if (status == OK)
        status = statement_bind_text(insert, 4, columns[k].name, fault);
    if (status == OK)
        status = statement_bind_real(insert, 5, value * table->factor[k], fault);
    return status == OK ? statement_run(insert, fault) : status;
}

enum status support_sheets_store(struct store *store, const struct support_sheet *tables, size_t n,
                                 struct fault *fault)
{
    struct statement *insert = NULL;
    enum status status = store_execute(store, "DELETE FROM support_table", fault);
    if (status == OK)
        status =
            statement_prepare(store,
                              "INSERT INTO support_table (facility, kind, row, quantity, value) "
                              "VALUES (?1, ?2, ?3, ?4, ?5)",
                              &insert, fault);
    for (size_t t = 0; t < n; t++)
        for (size_t i = 1; tables[t].sheet != NULL && i < tables[t].sheet->n_rows; i++)
            for (size_t k = 0; status == OK && k < SUPPORT_COLUMNS; k++)
                if (tables[t].sheet->present[k])
                    status = store_cell(insert, &tables[t], i, k, fault);
    statement_free(insert);
    return status;
}
