/* number_table.c - see number_table.h. */
#include "tests/number_table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/number.h"
#include "tests/check.h"

enum { LINE = 8192 };

static size_t count_cells(const char *line)
{
    size_t n = 1;
    for (; *line != '\0'; line++)
        n += *line == ',';
    return n;
}

static double cell_number(const char *text, size_t length)
{
    double value = 0;
    return number_parse(text, length, '.', &value, NULL) == NUMBER_OK ? value : (double)NAN;
}

/* Cells of one line, as names or as numbers of a new row. */
static int take_line(struct number_table *table, char *line)
{
    double *grown = table->name == NULL
                        ? NULL
                        : realloc(table->cell, (table->rows + 1) * table->columns * sizeof *grown);
    int is_head = table->name == NULL;
    if (is_head) {
        table->columns = count_cells(line);
        table->name = calloc(table->columns, sizeof *table->name);
    }
    if (is_head ? table->name == NULL : grown == NULL)
        return 0;
    if (!is_head)
        table->cell = grown;
    for (size_t i = 0; i < table->columns; i++) {
        size_t length = strcspn(line, ",");
        if (is_head && (table->name[i] = strndup(line, length)) == NULL)
            return 0;
        if (!is_head)
            table->cell[table->rows * table->columns + i] = cell_number(line, length);
        line += length + (line[length] == ',');
    }
    table->rows += !is_head;
    return 1;
}

int number_table_read(const char *path, struct number_table *table)
{
    char line[LINE];
    int ok = 1;
    memset(table, 0, sizeof *table);
    FILE *file = fopen(path, "r");
    while (file != NULL && ok && fgets(line, sizeof line, file) != NULL) {
        line[strcspn(line, "\r\n")] = '\0';
        if (line[0] != '#' && line[0] != '\0')
            ok = take_line(table, line);
    }
    if (file != NULL)
        (void)fclose(file);
    ok = ok && table->rows > 0;
    if (!ok)
        (void)fprintf(stderr, "%s: not a table of numbers\n", path);
    CHECK(ok);
    return ok;
}

void number_table_free(struct number_table *table)
{
    for (size_t i = 0; table->name != NULL && i < table->columns; i++)
        free(table->name[i]);
    free(table->name);
    free(table->cell);
    memset(table, 0, sizeof *table);
}
