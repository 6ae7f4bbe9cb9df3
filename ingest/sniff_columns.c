/* sniff_columns.c - names, units and contents of the columns of an unknown log; see sniff.h. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/sniff.h"
#include "ingest/sniff_cell.h"
#include "ingest/sniff_units.h"

/* Adds a cell to the name above it, with a blank between, as the strict reader does. */
static int join_name(struct sniff_column *column, const struct table_cell *cell)
{
    size_t above = column->name != NULL ? strlen(column->name) : 0;
    size_t gap = above > 0 && cell->length > 0;
    char *name = realloc(column->name, above + gap + cell->length + 1);
    if (name == NULL)
        return 0;
    if (gap)
        name[above] = ' '; /* over the NUL of what stood above */
    if (cell->length > 0)
        memcpy(name + above + gap, cell->text, cell->length);
    name[above + gap + cell->length] = '\0';
    column->name = name;
    return 1;
}

/* Splits "p [Pa]" or "p (Pa)"; the unit row's unit, when there is one, is what counts. */
static int split_name(struct sniff_column *column)
{
    if (column->name == NULL) /* a head without names, which the shape never is */
        return 0;
    size_t length = strlen(column->name);
    char last = length > 0 ? column->name[length - 1] : '\0';
    const char *open =
        last == ']' || last == ')' ? strrchr(column->name, last == ']' ? '[' : '(') : NULL;
    column->bare = length;
    if (open == NULL || open == column->name) {
        if (column->unit == NULL)
            column->words_unit = sniff_unit_words(column->name, length, &column->bare);
        return 1;
    }
    column->bare = (size_t)(open - column->name);
    while (column->bare > 0 && strchr(" \t", column->name[column->bare - 1]) != NULL)
        column->bare--;
    if (column->unit != NULL)
        return 1;
    column->unit = strndup(open + 1, length - (size_t)(open - column->name) - 2);
    column->unit_in_name = 1;
    return column->unit != NULL;
}

static int take_head_row(struct sniff *sniff, size_t line, int is_units)
{
    if (!sniff_cut(sniff, line, sniff->shape.delimiter))
        return 0;
    for (size_t i = 0; i < sniff->shape.n; i++) {
        const struct table_cell *cell = &sniff->cells.cells[i];
        struct sniff_column *column = &sniff->columns[i];
        if (!is_units && !join_name(column, cell))
            return 0;
        if (!is_units || cell->length == 0)
            continue;
        column->unit = strndup(cell->text, cell->length);
        if (column->unit == NULL)
            return 0;
    }
    return 1;
}

static int read_head(struct sniff *sniff)
{
    size_t line = sniff->shape.first_name;
    for (size_t i = 0; i < sniff->shape.n; i++)
        sniff->columns[i].min = sniff->columns[i].max = sniff->columns[i].previous = (double)NAN;
    for (size_t i = 0; sniff->titles.names != NULL && i < sniff->shape.n; i++) {
        sniff->columns[i].name = strdup(sniff->titles.names[i]);
        if (sniff->columns[i].name == NULL)
            return 0;
    }
    for (unsigned k = 0; k < sniff->shape.name_rows; k++) {
        if (!take_head_row(sniff, line, 0))
            return 0;
        line = sniff_filled_line(sniff, line + 1);
    }
    if (sniff->shape.unit_row && !take_head_row(sniff, line, 1))
        return 0;
    for (size_t i = 0; i < sniff->shape.n; i++)
        if (!split_name(&sniff->columns[i]))
            return 0;
    return 1;
}

static void note_word(struct sniff *sniff, const struct table_cell *cell)
{
    char text[SNIFF_CELL];
    sniff_cell_copy(cell, text, sizeof text);
    for (size_t i = 0; i < sniff->n_words; i++)
        if (strcmp(sniff->words[i], text) == 0)
            return;
    if (sniff->n_words < SNIFF_WORDS)
        memcpy(sniff->words[sniff->n_words++], text, sizeof text);
}

static void take_value(struct sniff_column *column, double value)
{
    column->n_rises += value > column->previous;
    column->n_falls += value < column->previous;
    column->previous = value;
    column->min = column->min <= value ? column->min : value; /* also when it is NAN */
    column->max = column->max >= value ? column->max : value;
}

/* How many rows lie between the numbers of the column. */
static void take_spacing(struct sniff_column *column, size_t row)
{
    size_t spacing = row - column->last_number;
    if (column->last_number > 0) {
        if (column->spacing == 0)
            column->spacing = spacing;
        column->n_spaced += spacing == column->spacing;
    }
    column->last_number = row;
}

static void take_cell(struct sniff *sniff, struct sniff_column *column,
                      const struct table_cell *cell, int is_first)
{
    char text[SNIFF_CELL];
    double value = 0;
    enum sniff_kind kind = sniff_cell_kind(cell, sniff->shape.decimal_mark, &value);
    column->n_numbers += kind == SNIFF_NUMBER;
    column->n_missing += kind == SNIFF_MISSING;
    column->n_other += kind == SNIFF_OTHER || kind == SNIFF_CLOCK;
    column->n_clock += kind == SNIFF_CLOCK;
    column->n_flag += (size_t)sniff_may_be_flag(cell, kind, value);
    column->n_empty += kind == SNIFF_MISSING && cell->length == 0;
    column->n_whole += kind == SNIFF_NUMBER && value == floor(value);
    if (kind == SNIFF_MISSING)
        note_word(sniff, cell);
    if (kind == SNIFF_NUMBER || kind == SNIFF_CLOCK)
        take_value(column, value);
    if (kind == SNIFF_NUMBER)
        take_spacing(column, sniff->rows.n + 1);
    sniff_cell_copy(cell, text, sizeof text);
    if (is_first)
        memcpy(column->first, text, sizeof text);
    else
        column->n_changes += strcmp(column->last, text) != 0;
    memcpy(column->last, text, sizeof text);
}

static void take_row(struct sniff *sniff, size_t line)
{
    struct sniff_rows *rows = &sniff->rows;
    int is_whole =
        sniff_cut(sniff, line, sniff->shape.delimiter) && sniff->cells.n == sniff->shape.n;
    rows->last_complete = is_whole;
    if (!is_whole) {
        if (rows->n_wrong++ == 0)
            rows->first_wrong = line + 1;
        return;
    }
    for (size_t i = 0; i < sniff->shape.n; i++)
        take_cell(sniff, &sniff->columns[i], &sniff->cells.cells[i], rows->n == 0);
    rows->n++;
    rows->last_line = line + 1;
}

enum status sniff_read_columns(struct sniff *sniff, struct fault *fault)
{
    sniff->columns = calloc(sniff->shape.n, sizeof *sniff->columns);
    if (sniff->columns == NULL || !read_head(sniff))
        return FAIL(fault, NO_MEMORY, "no memory for the columns of a log");
    sniff->rows.first_line = sniff->shape.first_data + 1;
    for (size_t i = sniff_filled_line(sniff, sniff->shape.first_data); i < sniff->text.n_lines;
         i = sniff_filled_line(sniff, i + 1))
        take_row(sniff, i);
    return OK;
}
