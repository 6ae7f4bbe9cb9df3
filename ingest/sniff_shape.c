/* sniff_shape.c - delimiter, decimal mark and head of an unknown log; see sniff.h.
 *
 * A delimiter is good when it cuts many rows into one and the same number of cells, and most of these
 * are numbers: a decimal comma cuts rows evenly too, but leaves "5;2" behind.                      */
#include <stdint.h>
#include <string.h>

#include "ingest/sniff.h"
#include "ingest/sniff_cell.h"
#include "ingest/sniff_titles.h"

enum { LOOKED_AT = 200, CELLS_MAX = 16384 };

/* The share of the cells cut last that a row of data may have; *has_number tells of one at least. */
static double share_of_numbers(const struct sniff *sniff, int *has_number)
{
    size_t good = 0;
    size_t filled = 0;
    *has_number = 0;
    for (size_t i = 0; i < sniff->cells.n; i++) {
        double value = 0;
        enum sniff_kind kind = sniff_cell_kind(&sniff->cells.cells[i], 0, &value);
        filled += sniff->cells.cells[i].length > 0;
        good += kind != SNIFF_OTHER && sniff->cells.cells[i].length > 0;
        *has_number = *has_number || kind == SNIFF_NUMBER;
    }
    return filled > 0 ? (double)good / (double)filled : 0;
}

struct tally {
    unsigned rows[CELLS_MAX];  /* of this many cells */
    double numbers[CELLS_MAX]; /* sum of their shares of numbers */
};

/* The score of a delimiter, and the number of cells that most rows have. */
static double score(struct sniff *sniff, char delimiter, struct tally *tally, size_t *cells)
{
    size_t rows = 0;
    size_t best = 0;
    int has_number = 0;
    *tally = (struct tally){0};
    for (size_t i = sniff->text.separator != 0; i < sniff->text.n_lines && rows < LOOKED_AT; i++) {
        if (sniff_line_is_empty(sniff, i))
            continue;
        rows++;
        if (!sniff_cut(sniff, i, delimiter))
            continue;
        if (sniff->cells.n >= CELLS_MAX) {
            if (share_of_numbers(sniff, &has_number) >= 0.5)
                sniff->shape.widest = sniff->cells.n;
            continue;
        }
        tally->rows[sniff->cells.n]++;
        tally->numbers[sniff->cells.n] += share_of_numbers(sniff, &has_number);
    }
    for (size_t n = 2; n < CELLS_MAX; n++)
        if (tally->rows[n] > 0 && tally->numbers[n] >= tally->numbers[best])
            best = n;
    *cells = best;
    return best > 0 ? tally->numbers[best] / (double)rows : 0;
}

static void find_delimiter(struct sniff *sniff)
{
    static const char marks[] = {'\t', ';', ',', '|', ' '};
    struct sniff_shape *shape = &sniff->shape;
    struct tally tally;
    for (size_t i = 0; i < sizeof marks; i++) {
        size_t cells = 0;
        if (sniff->text.separator != 0 && marks[i] != sniff->text.separator)
            continue;
        double got = score(sniff, marks[i], &tally, &cells);
        if (marks[i] == ' ' && shape->delimiter == '\t' && cells == shape->n)
            continue; /* runs of blanks and tabs: the same cut again */
        if (got > shape->delimiter_score) {
            shape->second = shape->delimiter;
            shape->second_score = shape->delimiter_score;
            shape->delimiter = marks[i];
            shape->delimiter_score = got;
            shape->n = cells;
        } else if (got > shape->second_score) {
            shape->second = marks[i];
            shape->second_score = got;
        }
    }
}

static int is_data(struct sniff *sniff, size_t line)
{
    int has_number = 0;
    return sniff_cut(sniff, line, sniff->shape.delimiter) && sniff->cells.n == sniff->shape.n &&
           share_of_numbers(sniff, &has_number) >= 0.5 && has_number;
}

/* The line before this one that is not empty; SIZE_MAX before the first. */
static size_t line_before(const struct sniff *sniff, size_t line)
{
    while (line > 0)
        if (!sniff_line_is_empty(sniff, --line))
            return line;
    return SIZE_MAX;
}

/* The first row of numbers that another one, or the end, follows. */
static enum status find_data(struct sniff *sniff, struct fault *fault)
{
    size_t n_lines = sniff->text.n_lines;
    for (size_t i = sniff_filled_line(sniff, 0); i < n_lines; i = sniff_filled_line(sniff, i + 1)) {
        if (!is_data(sniff, i))
            continue;
        size_t next = sniff_filled_line(sniff, i + 1);
        if (next < n_lines && !is_data(sniff, next))
            continue;
        sniff->shape.first_data = i;
        return OK;
    }
    return FAIL(fault, BAD_INPUT,
                "no two rows of numbers with %zu cells follow each other; is this a log?",
                sniff->shape.n);
}

/* Does this row hold texts, enough of them to be names or units? */
static int is_head(struct sniff *sniff, size_t line)
{
    int has_number = 0;
    size_t filled = 0;
    if (line == SIZE_MAX || !sniff_cut(sniff, line, sniff->shape.delimiter) ||
        sniff->cells.n != sniff->shape.n || share_of_numbers(sniff, &has_number) >= 0.5)
        return 0;
    for (size_t i = 0; i < sniff->cells.n; i++)
        filled += sniff->cells.cells[i].length > 0;
    return filled > 1 || filled == sniff->shape.n;
}

static int is_unit_row(struct sniff *sniff, size_t line)
{
    char text[SNIFF_CELL];
    size_t filled = 0;
    size_t units = 0;
    if (line == SIZE_MAX || !sniff_cut(sniff, line, sniff->shape.delimiter) ||
        sniff->cells.n != sniff->shape.n)
        return 0;
    for (size_t i = 0; i < sniff->cells.n; i++) {
        sniff_cell_copy(&sniff->cells.cells[i], text, sizeof text);
        filled += text[0] != '\0';
        units += text[0] != '\0' && sniff_is_unit(sniff->units, text);
    }
    return filled > 0 && 10 * units >= 6 * filled;
}

static enum status no_names(struct sniff *sniff, struct fault *fault)
{
    size_t data = sniff->shape.first_data;
    size_t above = line_before(sniff, data);
    size_t n = sniff_cut(sniff, above, sniff->shape.delimiter) ? sniff->cells.n : 0;
    return FAIL(fault, BAD_INPUT,
                "the numbers begin in line %zu with %zu cells, cut at %s, and line %zu above them "
                "is no row of as many names (%zu cells); correct the head of the log",
                data + 1, sniff->shape.n, sniff_delimiter_name(sniff->shape.delimiter), above + 1,
                n);
}

/* Rows of data that end in more delimiters than the row above them. */
static void allow_trailing(struct sniff *sniff, size_t above)
{
    struct sniff_shape *shape = &sniff->shape;
    size_t data = shape->n;
    if (above == SIZE_MAX || !sniff_cut(sniff, above, shape->delimiter) || sniff->cells.n < 2 ||
        sniff->cells.n >= data)
        return;
    shape->n = sniff->cells.n;
    shape->trailing = 1;
    if (sniff_cut(sniff, shape->first_data, shape->delimiter) && sniff->cells.n == shape->n)
        return;
    shape->n = data;
    shape->trailing = 0;
}

/* Names that no row of the log holds. */
static enum status take_list(struct sniff *sniff, struct fault *fault)
{
    struct sniff_shape *shape = &sniff->shape;
    enum status status = sniff_list_names(sniff, fault);
    if (status != OK)
        return status;
    if (sniff->titles.names == NULL)
        return no_names(sniff, fault);
    shape->unit_row = 0;
    shape->name_rows = 0;
    shape->first_name = sniff->titles.variables != SIZE_MAX ? sniff->titles.variables + 1 : 0;
    return OK;
}

static enum status find_head(struct sniff *sniff, struct fault *fault)
{
    struct sniff_shape *shape = &sniff->shape;
    size_t bottom = line_before(sniff, shape->first_data);
    allow_trailing(sniff, bottom);
    size_t above = bottom == SIZE_MAX ? SIZE_MAX : line_before(sniff, bottom);
    /* A row of single letters may be names (T, V, N) or units: it is units when names stand above. */
    shape->unit_row = above != SIZE_MAX && is_unit_row(sniff, bottom) && is_head(sniff, above);
    size_t names = shape->unit_row ? above : bottom;
    if (!is_head(sniff, names))
        return take_list(sniff, fault);
    size_t upper = line_before(sniff, names);
    shape->name_rows = is_head(sniff, upper) ? 2 : 1;
    shape->first_name = shape->name_rows == 2 ? upper : names;
    return OK;
}

/* Counts the numbers with either mark in the rows of data. */
static void find_decimal(struct sniff *sniff)
{
    struct sniff_shape *shape = &sniff->shape;
    size_t thousands = 0;
    size_t rows = 0;
    for (size_t i = shape->first_data; i < sniff->text.n_lines && rows < LOOKED_AT; i++, rows++) {
        if (!sniff_cut(sniff, i, shape->delimiter))
            continue;
        for (size_t k = 0; k < sniff->cells.n; k++) {
            const struct table_cell *cell = &sniff->cells.cells[k];
            double value = 0;
            const char *comma = cell->length > 0 ? memchr(cell->text, ',', cell->length) : NULL;
            if (sniff_cell_kind(cell, 0, &value) != SNIFF_NUMBER)
                continue;
            shape->n_comma += comma != NULL;
            shape->n_point += cell->length > 0 && memchr(cell->text, '.', cell->length) != NULL;
            thousands += comma != NULL && cell->text + cell->length - comma == 4;
        }
    }
    shape->decimal_mark = shape->n_comma > shape->n_point ? ',' : '.';
    shape->decimal_doubtful = (shape->n_comma > 0) == (shape->n_point > 0) ||
                              (shape->n_comma > 0 && thousands == shape->n_comma);
}

enum status sniff_find_shape(struct sniff *sniff, struct fault *fault)
{
    find_delimiter(sniff);
    if (sniff->shape.delimiter == 0 && sniff->shape.widest > 0)
        return FAIL(fault, BAD_INPUT,
                    "a row has %zu cells; limit: %d that sniff looks at; write the channel map by "
                    "hand, or sniff a log with the first columns only",
                    sniff->shape.widest, CELLS_MAX - 1);
    if (sniff->shape.delimiter == 0)
        return FAIL(
            fault, BAD_INPUT,
            "neither comma, semicolon, tab, pipe nor blank cuts the first %d rows into columns "
            "of numbers; is this a delimited text?",
            LOOKED_AT);
    enum status status = find_data(sniff, fault);
    if (status == OK)
        status = find_head(sniff, fault);
    if (status == OK)
        find_decimal(sniff);
    return status;
}
