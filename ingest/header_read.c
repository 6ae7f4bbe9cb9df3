/* header_read.c - reading the head of a log; see header.h. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/header.h"

/* The next row of the head; a file that ends here has no data either. */
static enum status next_row(struct text_table *table, const char *what, struct table_row *row,
                            struct fault *fault)
{
    int got = 0;
    enum status status = text_table_next(table, row, &got, fault);
    if (status != OK || got)
        return status;
    status = FAIL(fault, BAD_INPUT,
                  "the file ends before its %s; limit: a head as the channel map says; check "
                  "preamble_rows, name_rows and unit_row",
                  what);
    fault_where(fault, "%s:1", text_table_name(table));
    return status;
}

/* Joins a cell to what stands above it. */
static char *joined(const char *above, const struct table_cell *cell)
{
    size_t length = strlen(above);
    size_t gap = length > 0 && cell->length > 0;
    char *text = malloc(length + gap + cell->length + 1);
    if (text == NULL)
        return NULL;
    (void)snprintf(text, length + gap + cell->length + 1, "%s%s%.*s", above, gap ? " " : "",
                   (int)cell->length, cell->text);
    return text;
}

static enum status join_names(struct header *header, const struct table_row *row,
                              struct fault *fault)
{
    for (size_t i = 0; i < header->n; i++) {
        char *name =
            joined(header->cells[i].name != NULL ? header->cells[i].name : "", &row->cells[i]);
        if (name == NULL)
            return FAIL(fault, NO_MEMORY, "no memory for the head of '%s'", header->file);
        free(header->cells[i].name);
        header->cells[i].name = name;
    }
    return OK;
}

static enum status read_names(struct text_table *table, unsigned name_rows, struct header *header,
                              struct fault *fault)
{
    struct table_row row;
    for (unsigned k = 0; k < (name_rows > 1 ? name_rows : 1); k++) {
        enum status status = next_row(table, "names", &row, fault);
        if (status != OK)
            return status;
        if (k == 0) {
            header->line = row.line;
            header->cells = calloc(row.n, sizeof *header->cells);
            if (header->cells == NULL)
                return FAIL(fault, NO_MEMORY, "no memory for the head of '%s'", header->file);
            header->n = row.n;
            for (size_t i = 0; i < row.n; i++)
                header->cells[i].column = text_table_column(table, i);
        }
        status = join_names(header, &row, fault);
        if (status != OK)
            return status;
    }
    return OK;
}

/* The names that the channel map lists for a log without any. */
static enum status take_names(const struct channel_map *map, struct header *header,
                              struct fault *fault)
{
    header->map_line = map->line;
    header->cells = calloc(map->n_names, sizeof *header->cells);
    if (header->cells == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the head of '%s'", header->file);
    header->n = map->n_names;
    for (size_t i = 0; i < header->n; i++) {
        header->cells[i].name = strdup(map->names[i]);
        if (header->cells[i].name == NULL)
            return FAIL(fault, NO_MEMORY, "no memory for the head of '%s'", header->file);
    }
    return OK;
}

static enum status read_unit_row(struct text_table *table, struct header *header,
                                 struct fault *fault)
{
    struct table_row row;
    enum status status = next_row(table, "units", &row, fault);
    if (status == OK)
        header->unit_line = row.line;
    for (size_t i = 0; status == OK && i < header->n; i++) {
        header->cells[i].unit_column = text_table_column(table, i);
        if (row.cells[i].length == 0)
            continue;
        header->cells[i].row_unit = strndup(row.cells[i].text, row.cells[i].length);
        if (header->cells[i].row_unit == NULL)
            return FAIL(fault, NO_MEMORY, "no memory for the head of '%s'", header->file);
    }
    return status;
}

/* Splits "p [Pa]" into the bare length and the unit. */
static enum status find_own_unit(struct header_cell *cell, struct fault *fault)
{
    size_t length = strlen(cell->name);
    char last = length > 0 ? cell->name[length - 1] : '\0';
    cell->bare = length;
    if (last != ']' && last != ')')
        return OK;
    const char *open = strrchr(cell->name, last == ']' ? '[' : '(');
    if (open == NULL || open == cell->name)
        return OK;
    cell->in_round = last == ')';
    cell->own_unit = strndup(open + 1, length - (size_t)(open - cell->name) - 2);
    if (cell->own_unit == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a header cell");
    cell->bare = (size_t)(open - cell->name);
    while (cell->bare > 0 &&
           (cell->name[cell->bare - 1] == ' ' || cell->name[cell->bare - 1] == '\t'))
        cell->bare--;
    return OK;
}

/* A declared delimiter that does not cut the header, while another one would. */
static enum status check_delimiter(const struct header *header, const struct channel_map *map,
                                   struct fault *fault)
{
    static const struct {
        char mark;
        const char *shown, *name;
    } others[] = {{';', "';'", "semicolon"},
                  {'\t', "a tab", "tab"},
                  {',', "','", "comma"},
                  {'|', "'|'", "pipe"}};
    if (header->n != 1 || map->delimiter == 0 || map->n_columns < 2)
        return OK;
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        if (strchr(header->cells[0].name, others[i].mark) == NULL)
            continue;
        enum status status =
            FAIL(fault, BAD_INPUT,
                 "the header has %s and is one cell as declared in map '%.60s': "
                 "is the delimiter %s? limit: the declared one; correct delimiter: in "
                 "that map of campaign.yaml",
                 others[i].shown, map->name, others[i].name);
        header_place(header, 0, fault);
        return status;
    }
    return OK;
}

static void mark_named(const struct channel_map *map, struct header_cell *cell)
{
    for (size_t i = 0; i < map->n_columns && !cell->is_named; i++) {
        const char *name = map->columns[i].column;
        cell->is_named = strcmp(cell->name, name) == 0 ||
                         (strlen(name) == cell->bare && strncmp(cell->name, name, cell->bare) == 0);
    }
}

static enum status check_doubles(const struct header *header, struct fault *fault)
{
    for (size_t i = 1; i < header->n; i++) {
        if (header->cells[i].name[0] == '\0')
            continue;
        for (size_t k = 0; k < i; k++) {
            if (strcmp(header->cells[k].name, header->cells[i].name) != 0)
                continue;
            enum status status = FAIL(
                fault, BAD_INPUT,
                "columns %zu and %zu are both named '%.100s'; limit: one name a column; rename "
                "one in the logger",
                k + 1, i + 1, header->cells[i].name);
            header_place(header, i, fault);
            return status;
        }
    }
    return OK;
}

enum status header_read(struct text_table *table, const struct channel_map *map,
                        struct header **out, struct fault *fault)
{
    enum status status = OK;
    struct header *header = calloc(1, sizeof *header);

    *out = NULL;
    if (header == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the head of '%s'", text_table_name(table));
    header->file = strdup(text_table_name(table));
    if (header->file == NULL) {
        status = FAIL(fault, NO_MEMORY, "no memory for the head of a log");
        goto done;
    }
    status = map->names != NULL ? take_names(map, header, fault)
                                : read_names(table, map->name_rows, header, fault);
    if (status == OK)
        status = check_delimiter(header, map, fault);
    if (status == OK && map->unit_row)
        status = read_unit_row(table, header, fault);
    for (size_t i = 0; status == OK && i < header->n; i++)
        status = find_own_unit(&header->cells[i], fault);
    for (size_t i = 0; status == OK && i < header->n; i++)
        mark_named(map, &header->cells[i]);
    if (status == OK)
        status = check_doubles(header, fault);
    if (status != OK)
        goto done;
    *out = header;
    header = NULL; /* handed over */
done:
    header_free(header);
    return status;
}
