/* text_table.c - see text_table.h. */
#include "ingest/text_table.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ingest/line_bytes.h"
#include "ingest/ragged_row.h"
#include "ingest/text_lines.h"
#include "ingest/title_lines.h"
#include "schema/utf8.h"

struct text_table {
    struct text_lines *lines;
    char *map; /* NULL for a sheet */
    int trailing_cells_ignored;
    char delimiter;
    unsigned preamble_rows;
    size_t end_of_text; /* line that is a Ctrl-Z; 0 when there is none */
    size_t expected;    /* cells of the header row; 0 before it */
    size_t header_line;
    struct title_lines titles;
    struct text_line line; /* the last row's */
    struct cell_list list;
    char *scratch; /* unquoted text of the last row */
    size_t scratch_size;
};

enum status text_table_open(struct byte_source source, const struct table_format *format,
                            struct text_table **out, struct fault *fault)
{
    struct text_table *table = calloc(1, sizeof *table);

    *out = NULL;
    if (table == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to read '%s'", format->name);
    table->delimiter = format->delimiter;
    table->preamble_rows = format->preamble_rows;
    table->trailing_cells_ignored = format->trailing_cells_ignored;
    table->expected = format->columns;
    table->titles = title_lines_for(format->comment, format->blocks, format->block);
    enum status status = text_lines_open(source, format->name, &table->lines, fault);
    if (status == OK && format->map != NULL) {
        table->map = strdup(format->map);
        if (table->map == NULL)
            status = FAIL(fault, NO_MEMORY, "no memory to read '%s'", format->name);
    }
    if (status != OK) {
        text_table_close(table);
        return status;
    }
    *out = table;
    return OK;
}

void text_table_close(struct text_table *table)
{
    if (table == NULL)
        return;
    text_lines_close(table->lines);
    cell_list_free(&table->list);
    free(table->map);
    free(table->scratch);
    free(table);
}

const char *text_table_name(const struct text_table *table)
{
    return text_lines_name(table->lines);
}

char text_table_delimiter(const struct text_table *table)
{
    return table->delimiter;
}

/* Place of a byte of the last line. */
static void place_byte(const struct text_table *table, size_t offset, struct fault *fault)
{
    fault_where(fault, "%s:%zu:%zu", text_table_name(table), table->line.number,
                utf8_characters(table->line.text, offset) + 1);
}

size_t text_table_column(const struct text_table *table, size_t index)
{
    size_t offset = cell_offset(table->line.text, table->line.length, table->delimiter, index);
    return utf8_characters(table->line.text, offset) + 1;
}

void text_table_place(const struct text_table *table, size_t index, struct fault *fault)
{
    fault_where(fault, "%s:%zu:%zu", text_table_name(table), table->line.number,
                text_table_column(table, index));
}

static int is_blank_line(const struct text_line *line)
{
    for (size_t i = 0; i < line->length; i++)
        if (line->text[i] != ' ' && line->text[i] != '\t')
            return 0;
    return 1;
}

static const struct {
    char delimiter;
    const char *name;
} candidates[] = {{',', "comma"}, {';', "semicolon"}, {'\t', "tab"}};

/* What cuts a row when no candidate does: names have blanks in them, and |F| is a name too. */
static char find_rare_delimiter(const struct text_line *line)
{
    static const char rare[] = {'|', ' '};
    for (size_t i = 0; i < sizeof rare; i++)
        if (cell_offset(line->text, line->length, rare[i], 1) < line->length)
            return rare[i];
    return 0;
}

/* The only one of comma, semicolon and tab that cuts the header row; pipes or blanks when none of them
 * does. */
static enum status find_delimiter(struct text_table *table, struct fault *fault)
{
    char names[64] = "";
    size_t found = 0;
    const char *row = table->expected > 0 ? "first" : "header";
    const struct text_line *line = &table->line;

    for (size_t i = 0; i < sizeof candidates / sizeof candidates[0]; i++) {
        if (count_delimiters(line->text, line->length, candidates[i].delimiter) == 0)
            continue;
        if (found++ > 0)
            (void)strncat(names, " and ", sizeof names - strlen(names) - 1);
        (void)strncat(names, candidates[i].name, sizeof names - strlen(names) - 1);
        table->delimiter = candidates[i].delimiter;
    }
    if (found == 1)
        return OK;
    table->delimiter = found == 0 ? find_rare_delimiter(line) : 0;
    if (table->delimiter != 0)
        return OK;
    enum status status =
        found > 1
            ? FAIL(fault, BAD_INPUT,
                   "the %s row has %s; limit: one delimiter; declare it in the channel map", row,
                   names)
            : FAIL(fault, BAD_INPUT,
                   "the %s row has no delimiter (comma, semicolon, tab, pipe or blank); check "
                   "preamble_rows, or declare the delimiter",
                   row);
    fault_where(fault, "%s:%zu:1", text_table_name(table), line->number);
    return status;
}

static enum status cut_quoted(struct text_table *table, struct fault *fault)
{
    size_t stop = 0;
    enum status status = OK;
    const struct text_line *line = &table->line;
    enum cut_outcome outcome = CUT_SPECIAL;

    if (table->delimiter != ' ')
        outcome = cell_list_cut_quoted(&table->list, line->text, line->length, table->delimiter,
                                       &table->scratch, &table->scratch_size, &stop);
    if (outcome == CUT_OK)
        return OK;
    if (outcome == CUT_NO_MEMORY)
        return FAIL(fault, NO_MEMORY, "no memory for a row of '%s'", text_table_name(table));
    if (outcome == CUT_STRAY_QUOTE)
        status = FAIL(fault, BAD_INPUT,
                      "a quote inside a cell; limit: quotes enclose a whole cell and are doubled "
                      "inside it; correct the row");
    else if (outcome == CUT_OPEN_QUOTE)
        status = FAIL(fault, BAD_INPUT,
                      "the quoted cell does not end on its line; limit: no line break inside "
                      "quotes; close the quote or take the break out");
    else
        status = FAIL(fault, BAD_INPUT,
                      "a quote in a file delimited by blanks; limit: plain cells; take the quotes "
                      "out");
    const char *quote = memchr(line->text, '"', line->length);
    if (outcome ==
        CUT_OPEN_QUOTE) /* the cell that stayed open is the one after the last whole one */
        stop = cell_offset(line->text, line->length, table->delimiter, table->list.n);
    else if (outcome == CUT_SPECIAL && quote != NULL)
        stop = (size_t)(quote - line->text);
    place_byte(table, stop, fault);
    return status;
}

static enum status cut(struct text_table *table, struct fault *fault)
{
    const struct text_line *line = &table->line;
    enum cut_outcome outcome =
        cell_list_cut_plain(&table->list, line->text, line->length, table->delimiter, 1);
    if (outcome == CUT_SPECIAL) {
        enum status status =
            line_bytes_check(&table->line, text_table_name(table), table->map, fault);
        if (status != OK)
            return status;
        outcome = cell_list_cut_plain(&table->list, line->text, line->length, table->delimiter, 0);
    }
    if (outcome == CUT_SPECIAL)
        return cut_quoted(table, fault);
    if (outcome != CUT_OK)
        return FAIL(fault, NO_MEMORY, "no memory for a row of '%s'", text_table_name(table));
    return OK;
}

/* How many cells a row needs, and who says so. */
static void say_expected(const struct text_table *table, char *out, size_t size)
{
    if (table->header_line > 0)
        (void)snprintf(out, size, "the header (line %zu) has %zu", table->header_line,
                       table->expected);
    else
        (void)snprintf(out, size, "names in map '%.60s' lists %zu",
                       table->map != NULL ? table->map : "", table->expected);
}

/* Another number of cells than the header has, told with the cause it looks like. */
static enum status ragged(const struct text_table *table, struct fault *fault)
{
    char wanted[120];
    size_t n = table->list.n;
    size_t expected = table->expected;
    struct ragged_cause cause = {NULL, 0};
    enum status status = OK;
    say_expected(table, wanted, sizeof wanted);
    if (table->map != NULL)
        cause = ragged_row_cause(&table->list, expected, table->delimiter);
    if (cause.what == NULL && !table->line.terminated)
        status =
            FAIL(fault, BAD_INPUT,
                 "the last row is cut: %zu cells and no line feed, %s; the file was copied before "
                 "it was finished: copy it again",
                 n, wanted);
    else if (cause.what == NULL)
        status =
            FAIL(fault, BAD_INPUT, "%zu cells, %s; limit: as many cells as the %s; correct the row",
                 n, wanted, table->header_line > 0 ? "header" : "names");
    else
        status = FAIL(fault, BAD_INPUT, "%zu cells, %s: %s", n, wanted, cause.what);
    size_t at = n < expected ? n : expected;
    at = n < expected && at > 0 ? at - 1 : at;
    text_table_place(table, cause.what != NULL ? cause.cell : at, fault);
    return status;
}

static enum status check_count(struct text_table *table, struct fault *fault)
{
    size_t n = table->list.n;
    if (table->expected == 0) {
        table->expected = n;
        table->header_line = table->line.number;
        return OK;
    }
    if (n == table->expected)
        return OK;
    if (n > table->expected && table->trailing_cells_ignored &&
        cells_are_empty(&table->list, table->expected)) {
        table->list.n = table->expected;
        return OK;
    }
    return ragged(table, fault);
}

/* 1 when the line is sep=; or the like, quoted or not, which some spreadsheets put first; *mark is
 * what it names. */
static int is_delimiter_hint(const struct text_line *line, char *mark)
{
    const char *text = line->text;
    size_t length = line->length;
    if (length == 7 && text[0] == '"' && text[6] == '"') {
        text++;
        length = 5;
    }
    if (length != 5 || strncasecmp(text, "sep=", 4) != 0)
        return 0;
    *mark = text[4];
    return 1;
}

static enum status take_hint(struct text_table *table, char mark, struct fault *fault)
{
    if (table->delimiter == 0)
        table->delimiter = mark;
    if (table->delimiter == mark)
        return OK;
    enum status status =
        FAIL(fault, BAD_INPUT,
             "the first line says that '%c' delimits, but the file is read with '%c'; limit: one "
             "delimiter; correct delimiter in the channel map, or the line",
             mark, table->delimiter);
    place_byte(table, 4, fault);
    return status;
}

enum { CTRL_Z = 0x1A };

/* Ctrl-Z after the last row ends the text in place of a line feed, as in files of old. On a line of
 * its own it counts as a blank one, and nothing may follow. */
static void drop_end_of_text(struct text_table *table)
{
    struct text_line *line = &table->line;
    size_t length = line->length;
    while (length > 0 && line->text[length - 1] == CTRL_Z)
        length--;
    if (length == line->length || (length > 0 && line->terminated))
        return;
    line->length = length;
    line->terminated = 1;
    if (length == 0)
        table->end_of_text = line->number;
}

static enum status after_end_of_text(const struct text_table *table, struct fault *fault)
{
    enum status status =
        FAIL(fault, BAD_INPUT,
             "a row after the end of the text (Ctrl-Z on line %zu); limit: nothing after it; two "
             "files may have been put together: take them apart",
             table->end_of_text);
    place_byte(table, 0, fault);
    return status;
}

static enum status take_title(struct text_table *table, int *is_skipped, struct fault *fault)
{
    int is_row = 0;
    enum status status = title_lines_take(&table->titles, &table->line, &is_row, fault);
    *is_skipped = !is_row;
    if (status != OK)
        place_byte(table, 0, fault);
    return status;
}

static enum status after_last_line(struct text_table *table, struct fault *fault)
{
    enum status status = title_lines_finish(&table->titles, fault);
    if (status != OK)
        fault_where(fault, "%s", text_table_name(table));
    return status;
}

/* The next line that is a row: no preamble, no comment, no title, not blank. */
static enum status next_filled_line(struct text_table *table, int *got, struct fault *fault)
{
    int is_skipped = 1;
    while (is_skipped) {
        char mark = 0;
        enum status status = text_lines_next(table->lines, &table->line, got, fault);
        if (status == OK && !*got)
            return after_last_line(table, fault);
        if (status != OK)
            return status;
        int is_hint = table->line.number == 1 && is_delimiter_hint(&table->line, &mark);
        if (is_hint)
            status = take_hint(table, mark, fault);
        if (status != OK)
            return status;
        is_skipped = is_hint || table->preamble_rows > 0;
        table->preamble_rows -= table->preamble_rows > 0;
        if (is_skipped)
            continue;
        drop_end_of_text(table);
        status = take_title(table, &is_skipped, fault);
        if (status != OK)
            return status;
        is_skipped = is_skipped || is_blank_line(&table->line);
    }
    return table->end_of_text > 0 ? after_end_of_text(table, fault) : OK;
}

enum status text_table_next(struct text_table *table, struct table_row *row, int *got,
                            struct fault *fault)
{
    enum status status = next_filled_line(table, got, fault);
    if (status != OK || !*got)
        return status;
    *got = 0;
    if (table->delimiter == 0) {
        status = line_bytes_check(&table->line, text_table_name(table), table->map, fault);
        if (status == OK)
            status = find_delimiter(table, fault);
    }
    if (status == OK)
        status = cut(table, fault);
    if (status == OK)
        status = check_count(table, fault);
    if (status != OK)
        return status;
    *row = (struct table_row){table->line.number, table->line.terminated, table->list.cells,
                              table->list.n};
    *got = 1;
    return OK;
}
