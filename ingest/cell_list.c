/* cell_list.c - see cell_list.h. */
#include "ingest/cell_list.h"

#include <csv.h>
#include <stdlib.h>
#include <string.h>

void cell_list_free(struct cell_list *list)
{
    free(list->cells);
    *list = (struct cell_list){0};
}

static int is_blank(char c)
{
    return c == ' ' || c == '\t';
}

static int make_room(struct cell_list *list)
{
    if (list->n < list->capacity)
        return 1;
    size_t capacity = list->capacity > 0 ? 2 * list->capacity : 64;
    struct table_cell *cells = realloc(list->cells, capacity * sizeof *cells);
    if (cells == NULL)
        return 0;
    list->cells = cells;
    list->capacity = capacity;
    return 1;
}

/* Adds from..to without the blanks at its ends. */
static int add_cell(struct cell_list *list, const char *from, const char *to)
{
    while (from < to && is_blank(*from))
        from++;
    while (to > from && is_blank(to[-1]))
        to--;
    if (!make_room(list))
        return 0;
    list->cells[list->n++] = (struct table_cell){from, (size_t)(to - from)};
    return 1;
}

enum { ORDINARY, DELIMITER, SPECIAL, WIDE };

static void classify(unsigned char kinds[256], char delimiter)
{
    memset(kinds, ORDINARY, 128);
    memset(kinds + 128, WIDE, 128);
    kinds['"'] = SPECIAL;
    kinds['\0'] = SPECIAL;
    kinds['\r'] = SPECIAL;
    kinds[(unsigned char)delimiter] = DELIMITER;
    if (delimiter == ' ')
        kinds['\t'] = DELIMITER;
}

/* With runs of blanks as delimiter every blank ends a cell, but an empty one does not count. */
static int end_cell(struct cell_list *list, const char *from, const char *to, char delimiter)
{
    if (delimiter == ' ' && from == to)
        return 1;
    return add_cell(list, from, to);
}

enum cut_outcome cell_list_cut_plain(struct cell_list *list, const char *line, size_t length,
                                     char delimiter, int ascii_only)
{
    unsigned char kinds[256];
    const char *end = line + length;
    const char *from = line;

    classify(kinds, delimiter);
    list->n = 0;
    for (const char *p = line; p < end; p++) {
        unsigned char kind = kinds[(unsigned char)*p];
        if (kind == ORDINARY)
            continue;
        if (kind == SPECIAL || (kind == WIDE && ascii_only))
            return CUT_SPECIAL;
        if (kind == WIDE)
            continue;
        if (!end_cell(list, from, p, delimiter))
            return CUT_NO_MEMORY;
        from = p + 1;
    }
    return end_cell(list, from, end, delimiter) ? CUT_OK : CUT_NO_MEMORY;
}

/* What libcsv's callback writes to. */
struct quoted_cut {
    struct cell_list *list;
    char *text; /* next free byte of the scratch */
    int failed;
};

static void on_cell(void *text, size_t length, void *context)
{
    struct quoted_cut *cut = context;
    if (length > 0)
        memcpy(cut->text, text, length);
    if (!add_cell(cut->list, cut->text, cut->text + length))
        cut->failed = 1;
    cut->text += length;
}

static int make_scratch(char **scratch, size_t *size, size_t wanted)
{
    if (*size >= wanted && *scratch != NULL)
        return 1;
    char *larger = realloc(*scratch, wanted + 1);
    if (larger == NULL)
        return 0;
    *scratch = larger;
    *size = wanted;
    return 1;
}

/* csv_error() has to be asked before csv_fini(), which resets it. */
static enum cut_outcome parse_line(struct csv_parser *parser, const char *line, size_t length,
                                   struct quoted_cut *cut, size_t *stop)
{
    *stop = csv_parse(parser, line, length, on_cell, NULL, cut);
    if (*stop != length)
        return csv_error(parser) == CSV_EPARSE ? CUT_STRAY_QUOTE : CUT_NO_MEMORY;
    if (csv_fini(parser, on_cell, NULL, cut) != 0)
        return csv_error(parser) == CSV_ENOMEM ? CUT_NO_MEMORY : CUT_OPEN_QUOTE;
    return cut->failed ? CUT_NO_MEMORY : CUT_OK;
}

enum cut_outcome cell_list_cut_quoted(struct cell_list *list, const char *line, size_t length,
                                      char delimiter, char **scratch, size_t *scratch_size,
                                      size_t *stop)
{
    struct csv_parser parser;
    *stop = 0;
    list->n = 0;
    if (!make_scratch(scratch, scratch_size, length))
        return CUT_NO_MEMORY;
    struct quoted_cut cut = {.list = list, .text = *scratch};
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI) != 0)
        return CUT_NO_MEMORY;
    csv_set_delim(&parser, (unsigned char)delimiter);
    enum cut_outcome outcome = parse_line(&parser, line, length, &cut, stop);
    csv_free(&parser);
    return outcome;
}

size_t count_delimiters(const char *line, size_t length, char delimiter)
{
    size_t n = 0;
    int quoted = 0;
    for (size_t i = 0; i < length; i++) {
        if (line[i] == '"')
            quoted = !quoted;
        n += !quoted && line[i] == delimiter;
    }
    return n;
}

/* Offset of cell `index` among runs of blanks. */
static size_t blank_offset(const char *line, size_t length, size_t index)
{
    size_t i = 0;
    for (;;) {
        while (i < length && is_blank(line[i]))
            i++;
        if (index == 0 || i == length)
            return i;
        while (i < length && !is_blank(line[i]))
            i++;
        index--;
    }
}

size_t cell_offset(const char *line, size_t length, char delimiter, size_t index)
{
    int quoted = 0;
    size_t i = 0;
    if (delimiter == ' ')
        return blank_offset(line, length, index);
    for (; i < length && index > 0; i++) {
        if (line[i] == '"')
            quoted = !quoted;
        else if (!quoted && line[i] == delimiter)
            index--;
    }
    while (i < length && is_blank(line[i]) && line[i] != delimiter)
        i++;
    return i;
}
