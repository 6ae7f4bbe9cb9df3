/* query.c - see query.h. */
#include "report/query.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum status query_each(struct store *store, const char *sql, const char *const *texts,
                       query_row *take, void *context, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;

    enum status status = statement_prepare(store, sql, &statement, fault);
    for (int i = 0; status == OK && texts != NULL && texts[i] != NULL; i++)
        status = statement_bind_text(statement, i + 1, texts[i], fault);
    if (status == OK)
        status = statement_step(statement, &row, fault);
    while (status == OK && row) {
        status = take(statement, context, fault);
        if (status == OK)
            status = statement_step(statement, &row, fault);
    }
    statement_free(statement);
    return status;
}

static enum status take_real(struct statement *row, void *context, struct fault *fault)
{
    double *value = context;

    (void)fault;
    if (isnan(*value))
        *value = statement_real(row, 0);
    return OK;
}

enum status query_real(struct store *store, const char *sql, const char *const *texts,
                       double *value, struct fault *fault)
{
    *value = NAN;
    return query_each(store, sql, texts, take_real, value, fault);
}

void *query_append(void **items, size_t *n, size_t *capacity, size_t size, struct fault *fault)
{
    if (*n == *capacity) {
        size_t wanted = *capacity > 0 ? 2 * *capacity : 16;
        void *bigger = realloc(*items, wanted * size);
        if (bigger == NULL) {
            fault_set(fault, NO_MEMORY, __FILE__, __LINE__, "no memory for %zu rows of the report",
                      wanted);
            return NULL;
        }
        *items = bigger;
        *capacity = wanted;
    }
    unsigned char *added = (unsigned char *)*items + *n * size;
    memset(added, 0, size);
    (*n)++;
    return added;
}

enum status text_pool_keep(struct text_pool *pool, const char *text, const char **copy,
                           struct fault *fault)
{
    *copy = "";
    if (text == NULL || text[0] == '\0')
        return OK;
    void *items = pool->items;
    char **slot = query_append(&items, &pool->n, &pool->capacity, sizeof *slot, fault);
    pool->items = items;
    if (slot == NULL)
        return NO_MEMORY;
    size_t size = strlen(text) + 1;
    *slot = malloc(size);
    if (*slot == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a text of %zu bytes", size);
    memcpy(*slot, text, size);
    *copy = *slot;
    return OK;
}

void text_pool_free(struct text_pool *pool)
{
    for (size_t i = 0; i < pool->n; i++)
        free(pool->items[i]);
    free(pool->items);
    *pool = (struct text_pool){0};
}

struct keep {
    struct text_pool *pool;
    const char **text;
    int is_taken;
};

static enum status take_text(struct statement *row, void *context, struct fault *fault)
{
    struct keep *keep = context;

    if (keep->is_taken)
        return OK;
    keep->is_taken = 1;
    return text_pool_keep(keep->pool, statement_text(row, 0), keep->text, fault);
}

enum status query_text(struct store *store, const char *sql, const char *const *texts,
                       struct text_pool *pool, const char **text, struct fault *fault)
{
    struct keep keep = {pool, text, 0};

    *text = "";
    return query_each(store, sql, texts, take_text, &keep, fault);
}
