/* sniff.c - see sniff.h. */
#include "ingest/sniff.h"

#include <stdlib.h>

#include "ingest/sniff_titles.h"

const char *sniff_delimiter_name(char delimiter)
{
    static const struct {
        char mark;
        const char *name;
    } names[] = {{',', "comma"}, {';', "semicolon"}, {'\t', "tab"}, {' ', "blank"}, {'|', "pipe"}};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (names[i].mark == delimiter)
            return names[i].name;
    return "none";
}

const char *sniff_confidence_name(enum confidence confidence)
{
    static const char *const names[] = {"none", "guess", "likely", "sure"};
    return names[confidence];
}

int sniff_cut(struct sniff *sniff, size_t line, char delimiter)
{
    const char *text = sniff->text.text + sniff->text.lines[line].begin;
    size_t length = sniff->text.lines[line].length;
    size_t stop = 0;
    enum cut_outcome outcome = cell_list_cut_plain(&sniff->cells, text, length, delimiter, 0);
    if (outcome == CUT_SPECIAL && delimiter != ' ')
        outcome = cell_list_cut_quoted(&sniff->cells, text, length, delimiter, &sniff->scratch,
                                       &sniff->scratch_size, &stop);
    while (sniff->shape.trailing && sniff->cells.n > sniff->shape.n &&
           sniff->cells.cells[sniff->cells.n - 1].length == 0)
        sniff->cells.n--;
    return outcome == CUT_OK;
}

int sniff_line_is_empty(const struct sniff *sniff, size_t line)
{
    const char *text = sniff->text.text + sniff->text.lines[line].begin;
    if (sniff->titles.passed != NULL && sniff->titles.passed[line])
        return 1;
    for (size_t i = 0; i < sniff->text.lines[line].length; i++)
        if (text[i] != ' ' && text[i] != '\t')
            return 0;
    return 1;
}

size_t sniff_filled_line(const struct sniff *sniff, size_t line)
{
    while (line < sniff->text.n_lines && sniff_line_is_empty(sniff, line))
        line++;
    return line;
}

void sniff_free(struct sniff *sniff)
{
    if (sniff == NULL)
        return;
    for (size_t i = 0; sniff->columns != NULL && i < sniff->shape.n; i++) {
        free(sniff->columns[i].name);
        free(sniff->columns[i].unit);
    }
    free(sniff->columns);
    sniff_text_free(&sniff->text);
    sniff_titles_free(&sniff->titles);
    units_close(sniff->units);
    cell_list_free(&sniff->cells);
    free(sniff->scratch);
    free(sniff);
}

/* A log that is one plain table is taken as it stands; comments and titles are looked for where they
 * matter: among the rows, or where no head was found. */
static enum status find_table(struct sniff *sniff, struct fault *fault)
{
    enum status status = sniff_find_titles(sniff, fault);
    if (status != OK)
        return status;
    char *passed = sniff->titles.passed;
    sniff->titles.passed = NULL;
    status = sniff_find_shape(sniff, fault);
    if ((status != OK && status != BAD_INPUT) ||
        (status == OK && !sniff_titles_matter(sniff, passed))) {
        free(passed);
        sniff_titles_none(&sniff->titles);
        return status;
    }
    sniff->titles.passed = passed;
    sniff->shape = (struct sniff_shape){0};
    return sniff_find_shape(sniff, fault);
}

enum status sniff_bytes(const unsigned char *bytes, size_t size, struct sniff **out,
                        struct fault *fault)
{
    *out = NULL;
    struct sniff *sniff = calloc(1, sizeof *sniff);
    if (sniff == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to look at a log");
    enum status status = units_open(&sniff->units, fault);
    if (status == OK)
        status = sniff_text_read(bytes, size, &sniff->text, fault);
    if (status == OK)
        status = find_table(sniff, fault);
    if (status == OK)
        status = sniff_read_columns(sniff, fault);
    if (status == OK) {
        sniff_find_roles(sniff);
        status = sniff_find_rows(sniff, fault);
    }
    if (status != OK) {
        sniff_free(sniff);
        return status;
    }
    *out = sniff;
    return OK;
}
