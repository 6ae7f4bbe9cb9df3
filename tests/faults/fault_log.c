/* fault_log.c - see fault_log.h. */
#include "tests/faults/fault_log.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *read_all(const char *path)
{
    char *text = NULL;
    size_t size = 0;
    char block[65536];
    size_t got = 0;
    FILE *in = fopen(path, "rb");
    FILE *out = in != NULL ? open_memstream(&text, &size) : NULL;
    int good = out != NULL;
    while (good && (got = fread(block, 1, sizeof block, in)) > 0)
        good = fwrite(block, 1, got, out) == got;
    good = good && ferror(in) == 0;
    if (out != NULL && fclose(out) != 0)
        good = 0;
    if (in != NULL)
        (void)fclose(in);
    if (good)
        return text;
    free(text);
    return NULL;
}

static size_t count(const char *text, char wanted)
{
    size_t n = 0;
    for (; *text != '\0'; text++)
        n += *text == wanted;
    return n;
}

/* Cuts *rest at the next end and gives what stood before it. */
static char *cut(char **rest, char end)
{
    char *start = *rest;
    char *found = strchr(start, end);
    if (found == NULL) {
        *rest = start + strlen(start);
        return start;
    }
    *found = '\0';
    *rest = found + 1;
    return start;
}

static int make_room(struct fault_log *log, size_t lines)
{
    log->rows = lines - log->n_head;
    log->cells = calloc(log->rows * log->columns, sizeof *log->cells);
    log->numbers = calloc(log->columns, sizeof *log->numbers);
    log->decimals = calloc(log->columns, sizeof *log->decimals);
    log->order = calloc(log->columns, sizeof *log->order);
    log->points = calloc(log->rows, sizeof *log->points);
    return log->cells != NULL && log->numbers != NULL && log->decimals != NULL &&
           log->order != NULL && log->points != NULL;
}

static void find_points(struct fault_log *log)
{
    for (size_t i = 0; i < log->rows; i++) {
        const char *label = log->cells[i * log->columns + 1];
        if (i == 0 || strcmp(label, log->cells[(i - 1) * log->columns + 1]) != 0)
            log->points[log->n_points++].first = i;
        log->points[log->n_points - 1].rows++;
    }
    log->step = strtod(log->cells[log->columns], NULL) - strtod(log->cells[0], NULL);
}

int fault_log_read(const char *path, char delimiter, size_t n_head, struct fault_log *log)
{
    *log = (struct fault_log){.delimiter = delimiter, .n_head = n_head};
    log->text = read_all(path);
    log->head = calloc(n_head + 1, sizeof *log->head);
    if (log->text == NULL || log->head == NULL || count(log->text, '\n') < n_head + 2)
        return 0;
    size_t lines = count(log->text, '\n');
    char *rest = log->text;
    for (size_t i = 0; i < n_head; i++)
        log->head[i] = cut(&rest, '\n');
    log->columns = count(log->head[0], delimiter) + 1;
    if (!make_room(log, lines))
        return 0;
    for (size_t i = 0; i < log->rows; i++) {
        char *line = cut(&rest, '\n');
        for (size_t c = 0; c < log->columns; c++)
            log->cells[i * log->columns + c] = cut(&line, delimiter);
    }
    for (size_t c = 0; c < log->columns; c++) {
        const char *dot = strchr(log->cells[c], '.');
        log->decimals[c] = dot != NULL ? (int)strlen(dot + 1) : 0;
        log->order[c] = c;
    }
    find_points(log);
    return 1;
}

static void write_cell(const struct fault_log *log, size_t row, size_t column, FILE *file)
{
    size_t from = log->order[column];
    const double *numbers = log->numbers[from];
    if (numbers == NULL || isnan(numbers[row]))
        (void)fputs(log->cells[row * log->columns + from], file);
    else if (log->decimals[from] < 0)
        (void)fprintf(file, "%.9g", numbers[row]);
    else
        (void)fprintf(file, "%.*f", log->decimals[from], numbers[row]);
}

int fault_log_write(const struct fault_log *log, const char *path)
{
    FILE *file = fopen(path, "wb");
    if (file == NULL)
        return 0;
    for (size_t i = 0; i < log->n_head; i++)
        (void)fprintf(file, "%s\n", log->head[i]);
    for (size_t i = 0; i < log->rows; i++)
        for (size_t c = 0; c < log->columns; c++) {
            write_cell(log, i, c, file);
            (void)fputc(c + 1 < log->columns ? log->delimiter : '\n', file);
        }
    int good = ferror(file) == 0;
    return fclose(file) == 0 && good;
}

void fault_log_end(struct fault_log *log)
{
    for (size_t c = 0; log->numbers != NULL && c < log->columns; c++)
        free(log->numbers[c]);
    free(log->text);
    free((void *)log->head);
    free((void *)log->cells);
    free((void *)log->numbers);
    free(log->decimals);
    free(log->order);
    free(log->points);
    *log = (struct fault_log){0};
}

size_t fault_log_find(const struct fault_log *log, const char *name)
{
    const char *at = log->head[0];
    size_t length = strlen(name);
    for (size_t c = 0; c < log->columns; c++) {
        size_t width = strcspn(at, (char[]){log->delimiter, '\0'});
        size_t word = strcspn(at, (char[]){log->delimiter, ' ', '\0'});
        if (word == length && strncmp(at, name, length) == 0)
            return c;
        at += width + (at[width] != '\0');
    }
    return log->columns;
}

double *fault_log_numbers(struct fault_log *log, size_t column)
{
    if (log->numbers[column] != NULL)
        return log->numbers[column];
    double *numbers = malloc(log->rows * sizeof *numbers);
    log->numbers[column] = numbers;
    for (size_t i = 0; numbers != NULL && i < log->rows; i++) {
        const char *cell = log->cells[i * log->columns + column];
        char *end = NULL;
        numbers[i] = strtod(cell, &end);
        if (end == cell)
            numbers[i] = (double)NAN;
    }
    return numbers;
}
