/* what_if_deltas.c - see what_if_deltas.h. */
#include "reduce/what_if_deltas.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"
#include "schema/delta_columns.h"

enum { NAMES = 6 };

static const enum delta_column name_columns[NAMES] = {
    DELTA_CONFIGURATION, DELTA_BASELINE, DELTA_FACILITY, DELTA_ENTRY, DELTA_QUANTITY, DELTA_TARGET};

/* The names of a delta in the order of name_columns. */
static void names_of(struct what_if_delta *delta, char **names[NAMES])
{
    char **order[NAMES] = {&delta->configuration, &delta->baseline, &delta->facility,
                           &delta->entry,         &delta->quantity, &delta->target};
    memcpy(names, order, sizeof order);
}

static int is_of_row(struct what_if_delta *delta, struct statement *row)
{
    char **names[NAMES];
    names_of(delta, names);
    for (int i = 0; i < NAMES; i++) {
        const char *text = statement_text(row, (int)name_columns[i]);
        if (strcmp(*names[i], text == NULL ? "" : text) != 0)
            return 0;
    }
    return 1;
}

static enum status add(struct statement *row, struct what_if_deltas *deltas, struct fault *fault)
{
    char **names[NAMES];
    void *array = deltas->items;
    enum status status =
        array_reserve(&array, &deltas->capacity, deltas->n + 1, sizeof *deltas->items, fault);
    deltas->items = array;
    if (status != OK)
        return status;
    struct what_if_delta *made = &deltas->items[deltas->n++];
    memset(made, 0, sizeof *made);
    for (int i = 0; i < WHAT_IF_SIDES; i++) {
        made->side[i].delta = (double)NAN;
        made->side[i].half_width = (double)NAN;
    }
    made->is_main = (int)statement_integer(row, DELTA_IS_MAIN);
    names_of(made, names);
    for (int i = 0; status == OK && i < NAMES; i++)
        status = rows_text(row, (int)name_columns[i], names[i], fault);
    return status;
}

/* The delta of the row, made where no side had it yet. */
static enum status find(struct statement *row, struct what_if_deltas *deltas,
                        struct what_if_delta **found, struct fault *fault)
{
    for (size_t i = 0; i < deltas->n; i++)
        if (is_of_row(&deltas->items[i], row)) {
            *found = &deltas->items[i];
            return OK;
        }
    enum status status = add(row, deltas, fault);
    if (status == OK)
        *found = &deltas->items[deltas->n - 1];
    return status;
}

static double number(struct statement *row, enum delta_column column)
{
    return statement_is_null(row, (int)column) ? (double)NAN : statement_real(row, (int)column);
}

static enum status take(struct statement *row, enum what_if_side side,
                        struct what_if_deltas *deltas, struct fault *fault)
{
    struct what_if_delta *delta = NULL;
    enum status status = find(row, deltas, &delta, fault);
    if (status != OK)
        return status;
    struct what_if_reading *reading = &delta->side[side];
    reading->delta = number(row, DELTA_DELTA);
    reading->half_width = number(row, DELTA_HALF_WIDTH);
    status = rows_text(row, DELTA_VERDICT, &reading->verdict, fault);
    return status == OK ? rows_text(row, DELTA_REASON, &reading->reason, fault) : status;
}

enum status what_if_deltas_read(struct store *store, const struct compare_request *request,
                                const struct season_entry *entry, enum what_if_side side,
                                struct what_if_deltas *deltas, struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    enum status status = compare_open_entry(store, request, entry, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more)
        status = take(row, side, deltas, fault);
    statement_free(row);
    return status;
}

void what_if_deltas_end(struct what_if_deltas *deltas)
{
    for (size_t i = 0; i < deltas->n; i++) {
        char **names[NAMES];
        names_of(&deltas->items[i], names);
        for (int k = 0; k < NAMES; k++) {
            char **name = names[k];
            free(*name);
        }
        for (int k = 0; k < WHAT_IF_SIDES; k++) {
            free(deltas->items[i].side[k].verdict);
            free(deltas->items[i].side[k].reason);
        }
    }
    free(deltas->items);
    memset(deltas, 0, sizeof *deltas);
}

static int has_word(const struct what_if_reading *reading)
{
    return reading->verdict != NULL && reading->verdict[0] != '\0';
}

const char *what_if_verdict(const struct what_if_delta *delta, enum what_if_side side)
{
    return has_word(&delta->side[side]) ? delta->side[side].verdict : "no verdict";
}

int what_if_has_verdict(const struct what_if_delta *delta)
{
    return has_word(&delta->side[WHAT_IF_STANDS]) || has_word(&delta->side[WHAT_IF_WITHOUT]);
}

int what_if_flips(const struct what_if_delta *delta)
{
    return strcmp(what_if_verdict(delta, WHAT_IF_STANDS),
                  what_if_verdict(delta, WHAT_IF_WITHOUT)) != 0;
}

size_t what_if_count_flips(const struct what_if_deltas *deltas)
{
    size_t n = 0;
    for (size_t i = 0; i < deltas->n; i++)
        n += what_if_flips(&deltas->items[i]) != 0;
    return n;
}
