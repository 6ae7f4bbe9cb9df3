/* decisions.c - reading and finding decisions; see decisions.h. */
#include "reduce/decisions.h"

#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

static enum status read_row(struct statement *statement, struct decision_row *row,
                            struct fault *fault)
{
    char **const texts[] = {&row->run, &row->point, &row->who, &row->decided, &row->why};
    enum status status = OK;
    for (int i = 0; status == OK && i < 5; i++)
        status = rows_text(statement, i, texts[i], fault);
    row->decision = decision_from_name(statement_text(statement, 5));
    return status;
}

enum status decisions_read(struct store *store, struct decision_list *list, struct fault *fault)
{
    struct statement *statement = NULL;
    size_t capacity = 0;
    int more = 0;
    memset(list, 0, sizeof *list);
    enum status status =
        statement_prepare(store,
                          "SELECT run, point, who, decided, why, decision FROM decision "
                          "ORDER BY sheet_line, run, point",
                          &statement, fault);
    while (status == OK && (status = statement_step(statement, &more, fault)) == OK && more) {
        void *array = list->rows;
        status = array_reserve(&array, &capacity, list->n + 1, sizeof *list->rows, fault);
        list->rows = array;
        if (status != OK)
            break;
        struct decision_row *row = &list->rows[list->n++];
        memset(row, 0, sizeof *row);
        status = read_row(statement, row, fault);
    }
    statement_free(statement);
    if (status != OK)
        decisions_end(list);
    return status;
}

void decisions_end(struct decision_list *list)
{
    for (size_t i = 0; i < list->n; i++) {
        free(list->rows[i].run);
        free(list->rows[i].point);
        free(list->rows[i].who);
        free(list->rows[i].decided);
        free(list->rows[i].why);
    }
    free(list->rows);
    memset(list, 0, sizeof *list);
}

const struct decision_row *decision_on(const struct decision_list *list, const char *run,
                                       const char *point)
{
    for (size_t i = 0; i < list->n; i++)
        if (strcmp(list->rows[i].run, run) == 0 && strcmp(list->rows[i].point, point) == 0)
            return &list->rows[i];
    return NULL;
}

const struct decision_row *decision_for(const struct decision_list *list, const char *run,
                                        const char *point)
{
    const struct decision_row *own = decision_on(list, run, point);
    return own != NULL ? own : decision_on(list, run, "");
}

enum decision decision_of(const struct decision_list *list, const char *run, const char *point)
{
    const struct decision_row *row = decision_for(list, run, point);
    return row == NULL ? DECISION_NONE : row->decision;
}

void decisions_key(const struct decision_list *list, const char *run, struct key_text *key)
{
    for (size_t i = 0; i < list->n; i++) {
        const struct decision_row *row = &list->rows[i];
        if (strcmp(row->run, run) != 0)
            continue;
        key_text_word(key, "decision", decision_name(row->decision));
        key_text_word(key, "  point", row->point);
        key_text_word(key, "  who", row->who);
        key_text_word(key, "  decided", row->decided);
        key_text_word(key, "  why", row->why);
    }
}
