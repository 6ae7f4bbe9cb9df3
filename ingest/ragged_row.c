/* ragged_row.c - see ragged_row.h. */
#include "ingest/ragged_row.h"

#include <string.h>

int cells_are_empty(const struct cell_list *list, size_t from)
{
    for (size_t i = from; i < list->n; i++)
        if (list->cells[i].length > 0)
            return 0;
    return 1;
}

static int is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static int is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/* Digits at the beginning of a cell, after a sign when one is allowed; *rest is what follows. */
static size_t leading_digits(const struct table_cell *cell, int may_have_sign, size_t *rest)
{
    size_t at = may_have_sign && cell->length > 0 && (cell->text[0] == '-' || cell->text[0] == '+');
    size_t begin = at;
    while (at < cell->length && is_digit(cell->text[at]))
        at++;
    *rest = cell->length - at;
    return at - begin;
}

/* What the comma between two cells may have been. */
enum comma { COMMA_DELIMITER, COMMA_IN_NUMBER, COMMA_OF_THOUSANDS };

static enum comma comma_between(const struct table_cell *before, const struct table_cell *after)
{
    size_t rest_before = 0;
    size_t rest_after = 0;
    size_t digits_before = leading_digits(before, 1, &rest_before);
    size_t digits_after = leading_digits(after, 0, &rest_after);
    if (digits_before == 0 || rest_before > 0 || digits_after == 0)
        return COMMA_DELIMITER;
    if (digits_before <= 3 && digits_after == 3 &&
        (rest_after == 0 || after->text[digits_after] == '.'))
        return COMMA_OF_THOUSANDS;
    return rest_after == 0 ? COMMA_IN_NUMBER : COMMA_DELIMITER;
}

static int has_decimal_point(const struct cell_list *list)
{
    for (size_t i = 0; i < list->n; i++) {
        const struct table_cell *cell = &list->cells[i];
        size_t rest = 0;
        size_t digits = leading_digits(cell, 1, &rest);
        if (digits > 0 && rest > 0 && cell->text[cell->length - rest] == '.')
            return 1;
    }
    return 0;
}

static struct ragged_cause comma_cause(const struct cell_list *list, size_t more)
{
    int has_point = has_decimal_point(list);
    struct ragged_cause cause = {NULL, 0};
    size_t pairs = 0;
    size_t thousands = 0;
    for (size_t i = 0; i + 1 < list->n; i++) {
        enum comma comma = comma_between(&list->cells[i], &list->cells[i + 1]);
        if (comma == COMMA_DELIMITER || (has_point && comma != COMMA_OF_THOUSANDS))
            continue;
        if (pairs++ == 0)
            cause.cell = i;
        thousands += comma == COMMA_OF_THOUSANDS;
        i += !has_point; /* both cells are one number; with thousands there may be a third */
    }
    if (pairs < more)
        return cause;
    if (has_point)
        cause.what = "it looks like a comma between thousands, as in 1,234.5; limit: no thousands "
                     "separators; export without them";
    else if (thousands == pairs)
        cause.what = "it looks like a comma inside numbers, a decimal comma or one between "
                     "thousands; limit: the comma only delimits here; export with semicolons";
    else
        cause.what = "it looks like decimal commas in a file delimited by commas; limit: the comma "
                     "only delimits here; export with semicolons, or with decimal points";
    return cause;
}

static struct ragged_cause too_many(const struct cell_list *list, size_t expected, char delimiter)
{
    struct ragged_cause cause = {NULL, expected};
    if (cells_are_empty(list, expected)) {
        cause.what =
            "the cells beyond the header are empty; limit: as many cells as the header; "
            "declare trailing_cells: ignore in the channel map if the logger ends its rows "
            "so";
        return cause;
    }
    if (delimiter == ',') {
        struct ragged_cause comma = comma_cause(list, list->n - expected);
        if (comma.what != NULL)
            return comma;
    }
    for (size_t i = expected; i < list->n; i++)
        for (size_t k = 0; k < list->cells[i].length; k++)
            if (is_letter(list->cells[i].text[k]))
                cause.what = "it looks like a text with a delimiter in it; limit: as many cells as "
                             "the header; put such a text in quotes";
    return cause;
}

static size_t count_of(const struct table_cell *cell, char mark)
{
    size_t n = 0;
    for (size_t i = 0; i < cell->length; i++)
        n += cell->text[i] == mark;
    return n;
}

static struct ragged_cause one_cell(const struct table_cell *cell, size_t expected)
{
    static const char marks[] = {',', ';', '\t'};
    struct ragged_cause cause = {NULL, 0};
    for (size_t i = 0; i < sizeof marks; i++)
        if (count_of(cell, marks[i]) + 1 == expected) {
            cause.what = "the row has another delimiter than the header; limit: one delimiter a "
                         "file; two files may have been put together: take them apart";
            return cause;
        }
    if (cell->length > 0 && strchr("#%!;/*", cell->text[0]) != NULL)
        cause.what = "it looks like a remark; limit: remarks stand before the header, where "
                     "preamble_rows counts them; take it out";
    else if (cell->length > 0 && is_letter(cell->text[0]))
        cause.what =
            "it looks like a line of text; limit: rows of data only after the header; take "
            "it out";
    return cause;
}

struct ragged_cause ragged_row_cause(const struct cell_list *list, size_t expected, char delimiter)
{
    if (list->n > expected)
        return too_many(list, expected, delimiter);
    if (list->n == 1 && expected > 1)
        return one_cell(&list->cells[0], expected);
    return (struct ragged_cause){NULL, 0};
}
