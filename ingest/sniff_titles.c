/* sniff_titles.c - see sniff_titles.h. */
#include "ingest/sniff_titles.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ingest/sniff_cell.h"
#include "ingest/title_lines.h"

/* The text of a line without the blanks before it. */
static const char *line_text(const struct sniff *sniff, size_t line, size_t *length)
{
    const char *text = sniff->text.text + sniff->text.lines[line].begin;
    *length = sniff->text.lines[line].length;
    while (*length > 0 && (*text == ' ' || *text == '\t')) {
        text++;
        (*length)--;
    }
    return text;
}

static int begins_with(const struct sniff *sniff, size_t line, const char *word)
{
    size_t length = 0;
    const char *text = line_text(sniff, line, &length);
    return strlen(word) <= length && strncasecmp(text, word, strlen(word)) == 0;
}

static int is_number_like(const struct sniff *sniff, size_t line)
{
    size_t length = 0;
    const char *text = line_text(sniff, line, &length);
    size_t sign = length > 0 && strchr("+-", text[0]) != NULL && text[0] != '\0';
    return length > sign && text[sign] != '\0' && strchr("0123456789.", text[sign]) != NULL;
}

/* A cell "#" or "%" is a name or a unit. */
static int is_comment(const struct sniff *sniff, size_t line, const char *mark)
{
    size_t length = 0;
    const char *text = line_text(sniff, line, &length);
    size_t n = strlen(mark);
    return begins_with(sniff, line, mark) && length > n && text[n] != '\0' &&
           strchr(",;\t", text[n]) == NULL;
}

static void find_comments(struct sniff *sniff)
{
    static const char *const marks[] = {"#", "%", "!", "//"};
    struct sniff_titles *titles = &sniff->titles;
    for (size_t k = 0; k < sizeof marks / sizeof marks[0] && titles->n_comments == 0; k++) {
        for (size_t i = 0; i < sniff->text.n_lines; i++) {
            if (!is_comment(sniff, i, marks[k]))
                continue;
            titles->passed[i] = 1;
            titles->n_comments++;
        }
        if (titles->n_comments > 0)
            (void)snprintf(titles->comment, sizeof titles->comment, "%s", marks[k]);
    }
}

static void find_variables(struct sniff *sniff)
{
    for (size_t i = 0; i < sniff->text.n_lines && sniff->titles.variables == SIZE_MAX; i++) {
        size_t length = 0;
        const char *text = line_text(sniff, i, &length);
        if (!begins_with(sniff, i, "variables") || memchr(text, '=', length) == NULL)
            continue;
        sniff->titles.variables = i;
        sniff->titles.passed[i] = 1;
    }
}

/* A title begins with one of these words, and numbers follow it. Common practice, no source. */
static size_t word_length(const struct sniff *sniff, size_t line)
{
    static const char *const words[] = {"zone", "block", "case"};
    size_t length = 0;
    size_t next = sniff_filled_line(sniff, line + 1);
    const char *text = line_text(sniff, line, &length);
    for (size_t k = 0; k < sizeof words / sizeof words[0]; k++) {
        size_t n = strlen(words[k]);
        if (begins_with(sniff, line, words[k]) && length > n && strchr(" ,:=\t", text[n]) != NULL &&
            text[n] != '\0' && next < sniff->text.n_lines && is_number_like(sniff, next))
            return n;
    }
    return 0;
}

static void take_first_title(struct sniff *sniff, size_t line, size_t word)
{
    struct sniff_titles *titles = &sniff->titles;
    size_t length = 0;
    size_t n = 0;
    const char *text = line_text(sniff, line, &length);
    (void)snprintf(titles->blocks, sizeof titles->blocks, "%.*s", (int)word, text);
    const struct table_cell title = {title_of_line(text, length, word, &n), n};
    sniff_cell_copy(&title, titles->title, sizeof titles->title);
    titles->first_title = line;
}

static void find_blocks(struct sniff *sniff)
{
    struct sniff_titles *titles = &sniff->titles;
    for (size_t i = 0; i < sniff->text.n_lines; i++) {
        size_t word = titles->passed[i] ? 0 : word_length(sniff, i);
        if (word > 0 && titles->n_blocks++ == 0)
            take_first_title(sniff, i, word);
        if (word > 0 || titles->n_blocks > 1)
            titles->passed[i] = 1;
    }
}

enum status sniff_find_titles(struct sniff *sniff, struct fault *fault)
{
    sniff->titles.variables = SIZE_MAX;
    sniff->titles.passed = calloc(sniff->text.n_lines + 1, 1);
    if (sniff->titles.passed == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to look at %zu lines", sniff->text.n_lines);
    find_comments(sniff);
    find_variables(sniff);
    find_blocks(sniff);
    return OK;
}

int sniff_titles_matter(const struct sniff *sniff, const char *passed)
{
    if (sniff->titles.n_blocks > 0 || (sniff->titles.names != NULL && sniff->titles.n_comments > 0))
        return 1;
    for (size_t i = sniff->shape.first_data; i < sniff->text.n_lines; i++)
        if (passed[i])
            return 1;
    return 0;
}

void sniff_titles_none(struct sniff_titles *titles)
{
    titles->n_comments = titles->n_blocks = 0;
    titles->variables = SIZE_MAX;
}

void sniff_titles_free(struct sniff_titles *titles)
{
    for (size_t i = 0; i < titles->n_names; i++)
        free(titles->names[i]);
    free(titles->names);
    free(titles->passed);
    *titles = (struct sniff_titles){.variables = SIZE_MAX};
}

static int add_name(struct sniff_titles *titles, const char *text, size_t length, const char *unit,
                    size_t unit_length)
{
    size_t size = length + unit_length + 4;
    char *name = malloc(size);
    if (name == NULL)
        return 0;
    if (unit_length > 0)
        (void)snprintf(name, size, "%.*s [%.*s]", (int)length, text, (int)unit_length, unit);
    else
        (void)snprintf(name, size, "%.*s", (int)length, text);
    titles->names[titles->n_names++] = name;
    return 1;
}

/* A name "alpha, deg" has its unit behind a comma: the map's names take it in brackets. */
static int add_variable(struct sniff_titles *titles, const char *text, size_t length)
{
    const char *comma = memchr(text, ',', length);
    if (comma == NULL)
        return add_name(titles, text, length, "", 0);
    const char *unit = comma + 1;
    while (unit < text + length && *unit == ' ')
        unit++;
    return add_name(titles, text, (size_t)(comma - text), unit, (size_t)(text + length - unit));
}

/* The names of VARIABLES="alpha, deg","cl", or of VARIABLES=alpha, cl; 0 without memory. */
static int list_variables(struct sniff *sniff)
{
    struct sniff_titles *titles = &sniff->titles;
    size_t length = 0;
    const char *text = line_text(sniff, titles->variables, &length);
    const char *end = text + length;
    const char *at = (const char *)memchr(text, '=', length) + 1;
    while (at < end && titles->n_names < sniff->shape.n) {
        while (at < end && (*at == ' ' || *at == '\t' || *at == ','))
            at++;
        int is_quoted = at < end && *at == '"';
        at += is_quoted;
        const char *from = at;
        while (at < end && (is_quoted ? *at != '"' : strchr(" \t,", *at) == NULL))
            at++;
        if (at > from && !add_variable(titles, from, (size_t)(at - from)))
            return 0;
        at += is_quoted;
    }
    titles->names_why = "likely: the line VARIABLES= lists them";
    return 1;
}

/* The names in the last comment above the data, when it has as many words as a row has cells. */
static int list_comment(struct sniff *sniff)
{
    struct sniff_titles *titles = &sniff->titles;
    size_t line = sniff->shape.first_data;
    size_t length = 0;
    while (line > 0 && !begins_with(sniff, line - 1, titles->comment))
        line--;
    if (titles->n_comments == 0 || line == 0)
        return 1;
    const char *text = line_text(sniff, line - 1, &length);
    size_t mark = strlen(titles->comment);
    if (cell_list_cut_plain(&sniff->cells, text + mark, length - mark, sniff->shape.delimiter, 0) !=
            CUT_OK ||
        sniff->cells.n != sniff->shape.n)
        return 1;
    for (size_t i = 0; i < sniff->cells.n; i++)
        if (!add_name(titles, sniff->cells.cells[i].text, sniff->cells.cells[i].length, "", 0))
            return 0;
    titles->names_why = "likely: the last comment above the rows has as many words";
    return 1;
}

static int list_numbers(struct sniff *sniff)
{
    struct sniff_titles *titles = &sniff->titles;
    char text[24];
    for (size_t i = 0; i < sniff->shape.n; i++) {
        int length = snprintf(text, sizeof text, "c%zu", i + 1);
        if (!add_name(titles, text, (size_t)length, "", 0))
            return 0;
    }
    titles->names_why = "guess: nothing names them, they are numbered; rename them";
    titles->names_are_numbers = 1;
    return 1;
}

static int has_row_above(const struct sniff *sniff)
{
    return sniff_filled_line(sniff, 0) < sniff->shape.first_data;
}

static void forget_names(struct sniff_titles *titles)
{
    while (titles->n_names > 0)
        free(titles->names[--titles->n_names]);
}

enum status sniff_list_names(struct sniff *sniff, struct fault *fault)
{
    struct sniff_titles *titles = &sniff->titles;
    int is_done = 1;
    forget_names(titles);
    free(titles->names);
    titles->names = calloc(sniff->shape.n + 1, sizeof *titles->names);
    if (titles->names == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the columns of a log");
    if (titles->variables != SIZE_MAX)
        is_done = list_variables(sniff);
    if (is_done && titles->n_names != sniff->shape.n) {
        forget_names(titles);
        is_done = list_comment(sniff);
    }
    if (is_done && titles->n_names == 0 && !has_row_above(sniff))
        is_done = list_numbers(sniff);
    if (!is_done)
        return FAIL(fault, NO_MEMORY, "no memory for the columns of a log");
    if (titles->n_names != sniff->shape.n) {
        forget_names(titles);
        free(titles->names);
        titles->names = NULL;
    }
    return OK;
}
