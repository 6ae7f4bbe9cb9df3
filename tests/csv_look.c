/* csv_look.c - see csv_look.h. */
#include "tests/csv_look.h"

#include <csv.h>
#include <stdlib.h>
#include <string.h>

static void on_cell(void *text, size_t length, void *context)
{
    struct csv_look *look = context;
    if (look->n == look->capacity) {
        size_t wanted = look->capacity > 0 ? 2 * look->capacity : 1024;
        char **bigger = realloc(look->cells, wanted * sizeof *bigger);
        if (bigger == NULL) {
            look->failed = 1;
            return;
        }
        look->cells = bigger;
        look->capacity = wanted;
    }
    char *cell = calloc(length + 1, 1);
    if (cell == NULL) {
        look->failed = 1;
        return;
    }
    memcpy(cell, text != NULL ? text : "", text != NULL ? length : 0);
    look->cells[look->n++] = cell;
}

static void on_row(int end, void *context)
{
    struct csv_look *look = context;
    (void)end;
    look->rows++;
    if (look->rows == 1)
        look->columns = look->n;
    look->failed |= look->n != look->rows * look->columns;
}

void csv_look_read(const char *text, char separator, struct csv_look *look)
{
    struct csv_parser parser;
    *look = (struct csv_look){.cells = NULL};
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI) != 0) {
        look->failed = 1;
        return;
    }
    csv_set_delim(&parser, (unsigned char)separator);
    size_t length = strlen(text);
    look->failed |= csv_parse(&parser, text, length, on_cell, on_row, look) != length;
    look->failed |= csv_fini(&parser, on_cell, on_row, look) != 0;
    csv_free(&parser);
}

void csv_look_end(struct csv_look *look)
{
    for (size_t i = 0; i < look->n; i++)
        free(look->cells[i]);
    free(look->cells);
    *look = (struct csv_look){.cells = NULL};
}

const char *csv_look_cell(const struct csv_look *look, size_t row, size_t column)
{
    size_t place = row * look->columns + column;
    return column < look->columns && place < look->n ? look->cells[place] : "";
}

size_t csv_look_column(const struct csv_look *look, const char *name)
{
    for (size_t i = 0; i < look->columns; i++)
        if (strcmp(csv_look_cell(look, 0, i), name) == 0)
            return i;
    return look->columns;
}
