/* sheet.c - see sheet.h. */
#include "ingest/sheet.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/text_table.h"
#include "schema/number.h"
#include "schema/utf8.h"

void sheet_problem(const struct sheet *sheet, const struct sheet_row *row, size_t column,
                   struct problems *problems, const char *format, ...)
{
    char text[sizeof((struct fault *)0)->text];
    struct fault fault;
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    fault_set(&fault, BAD_INPUT, __FILE__, __LINE__, "%s", text);
    if (row->columns[column] > 0)
        fault_where(&fault, "%s:%zu:%zu", sheet->name, row->line, row->columns[column]);
    else
        fault_where(&fault, "%s:%zu", sheet->name, row->line);
    problems_add(problems, &fault);
}

int sheet_number(const struct sheet *sheet, const struct sheet_row *row, size_t column,
                 struct problems *problems, double *value)
{
    const char *text = row->cells[column];
    *value = 0;
    enum number_outcome outcome = number_parse(text, strlen(text), '.', value, NULL);
    if (outcome == NUMBER_OK)
        return 1;
    if (outcome == NUMBER_OVERFLOW) {
        *value = 0;
        sheet_problem(sheet, row, column, problems,
                      "'%s' is out of range; limit: 1.8e308; correct it", text);
        return 0;
    }
    sheet_problem(sheet, row, column, problems,
                  "'%s' is not a number; limit: digits with a decimal point; correct it", text);
    return 0;
}

void sheet_check_name(const struct sheet *sheet, const struct sheet_row *row, size_t column,
                      const char *what, struct problems *problems)
{
    unsigned point = 0;
    const char *name = row->cells[column];
    size_t at = utf8_find_control(name, &point);
    if (name[at] != '\0')
        sheet_problem(sheet, row, column, problems,
                      "%s '%.80s' holds the control character U+%04X; limit: printable characters; "
                      "rename it",
                      what, name, point);
}

static void free_row(struct sheet_row *row, size_t n)
{
    for (size_t i = 0; row->cells != NULL && i < n; i++)
        free(row->cells[i]);
    free(row->cells);
    free(row->columns);
}

void sheet_free(struct sheet *sheet)
{
    if (sheet == NULL)
        return;
    for (size_t i = 0; i < sheet->n_rows; i++)
        free_row(&sheet->rows[i], sheet->n_columns);
    free(sheet->rows);
    free(sheet->present);
    free(sheet->name);
    free(sheet);
}

/* The reading of one sheet. */
struct sheet_reading {
    struct sheet *sheet;
    const struct sheet_column *columns;
    struct text_table *table;
    struct problems *problems;
    size_t *position; /* sheet column -> cell of the file, SIZE_MAX when the file has none */
};

static int cell_is(const struct table_cell *cell, const char *text)
{
    return strlen(text) == cell->length && memcmp(cell->text, text, cell->length) == 0;
}

static void header_problem(const struct sheet_reading *reading, size_t cell, const char *what,
                           const struct table_cell *name)
{
    struct fault fault;
    fault_set(&fault, BAD_INPUT, __FILE__, __LINE__, "%s '%.*s'; take it out or correct its name",
              what, (int)(name->length < 80 ? name->length : 80), name->text);
    text_table_place(reading->table, cell, &fault);
    problems_add(reading->problems, &fault);
}

static void place_column(struct sheet_reading *reading, const struct table_row *row, size_t cell)
{
    const struct table_cell *name = &row->cells[cell];
    for (size_t i = 0; i < reading->sheet->n_columns; i++) {
        if (!cell_is(name, reading->columns[i].name))
            continue;
        if (reading->position[i] != SIZE_MAX)
            header_problem(reading, cell, "the header names a second column", name);
        else
            reading->position[i] = cell;
        return;
    }
    if (name->length > 0)
        header_problem(reading, cell, "the header names an unknown column", name);
}

static void read_header(struct sheet_reading *reading, const struct table_row *row)
{
    struct sheet *sheet = reading->sheet;
    sheet->header_line = row->line;
    for (size_t i = 0; i < row->n; i++)
        place_column(reading, row, i);
    for (size_t i = 0; i < sheet->n_columns; i++) {
        struct fault fault;
        sheet->present[i] = reading->position[i] != SIZE_MAX;
        if (sheet->present[i] || !reading->columns[i].required)
            continue;
        fault_set(&fault, BAD_INPUT, __FILE__, __LINE__, "the header has no column '%s'; add it",
                  reading->columns[i].name);
        fault_where(&fault, "%s:%zu", sheet->name, row->line);
        problems_add(reading->problems, &fault);
    }
}

static int copy_cells(const struct sheet_reading *reading, const struct table_row *from,
                      struct sheet_row *row)
{
    size_t n = reading->sheet->n_columns;
    row->line = from->line;
    row->cells = calloc(n, sizeof *row->cells);
    row->columns = calloc(n, sizeof *row->columns);
    if (row->cells == NULL || row->columns == NULL)
        return 0;
    for (size_t i = 0; i < n; i++) {
        size_t at = reading->position[i];
        row->cells[i] =
            at == SIZE_MAX ? strdup("") : strndup(from->cells[at].text, from->cells[at].length);
        if (row->cells[i] == NULL)
            return 0;
        if (at != SIZE_MAX)
            row->columns[i] = text_table_column(reading->table, at);
    }
    return 1;
}

static enum status add_row(struct sheet_reading *reading, const struct table_row *from,
                           struct fault *fault)
{
    struct sheet *sheet = reading->sheet;
    struct sheet_row *rows = realloc(sheet->rows, (sheet->n_rows + 1) * sizeof *rows);
    if (rows == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for '%s'", sheet->name);
    sheet->rows = rows;
    rows[sheet->n_rows] = (struct sheet_row){0};
    sheet->n_rows++;
    if (!copy_cells(reading, from, &rows[sheet->n_rows - 1]))
        return FAIL(fault, NO_MEMORY, "no memory for '%s'", sheet->name);
    return OK;
}

static enum status read_rows(struct sheet_reading *reading, struct fault *fault)
{
    struct table_row row;
    int got = 0;
    enum status status = text_table_next(reading->table, &row, &got, fault);
    if (status == OK && !got) {
        status = FAIL(fault, BAD_INPUT, "the file is empty; limit: a header row; fill it in");
        fault_where(fault, "%s:1", reading->sheet->name);
    }
    if (status != OK)
        return status; /* without a header nothing more can be said */
    read_header(reading, &row);
    for (;;) {
        status = text_table_next(reading->table, &row, &got, fault);
        if (status == BAD_INPUT) {
            problems_add(reading->problems, fault);
            continue;
        }
        if (status != OK || !got)
            return status;
        status = add_row(reading, &row, fault);
        if (status != OK)
            return status;
    }
}

static enum status read_file(struct sheet_reading *reading, const char *path, struct fault *fault)
{
    struct file_source *source = NULL;
    const struct table_format format = {.name = reading->sheet->name};
    enum status status = file_source_open(path, reading->sheet->name, &source, fault);
    if (status == OK)
        status = text_table_open(file_source_bytes(source), &format, &reading->table, fault);
    if (status == OK)
        status = read_rows(reading, fault);
    if (status == OK)
        status = file_source_digest(source, reading->sheet->digest, fault);
    text_table_close(reading->table);
    file_source_close(source);
    return status;
}

static struct sheet *sheet_make(const char *name, size_t n_columns)
{
    struct sheet *sheet = calloc(1, sizeof *sheet);
    if (sheet == NULL)
        return NULL;
    sheet->n_columns = n_columns;
    sheet->name = strdup(name);
    sheet->present = calloc(n_columns, sizeof *sheet->present);
    if (sheet->name != NULL && sheet->present != NULL)
        return sheet;
    sheet_free(sheet);
    return NULL;
}

enum status sheet_read(const char *path, const char *name, const struct sheet_column *columns,
                       size_t n_columns, struct problems *problems, struct sheet **out,
                       struct fault *fault)
{
    struct sheet_reading reading = {.columns = columns, .problems = problems};
    enum status status = OK;

    *out = NULL;
    reading.sheet = sheet_make(name, n_columns);
    reading.position = malloc(n_columns * sizeof *reading.position);
    if (reading.sheet == NULL || reading.position == NULL) {
        status = FAIL(fault, NO_MEMORY, "no memory for '%s'", name);
        goto done;
    }
    for (size_t i = 0; i < n_columns; i++)
        reading.position[i] = SIZE_MAX;
    status = problems_take(problems, read_file(&reading, path, fault), fault);
    if (status != OK)
        goto done;
    *out = reading.sheet;
    reading.sheet = NULL; /* handed over */
done:
    free(reading.position);
    sheet_free(reading.sheet);
    return status;
}
