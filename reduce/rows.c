/* rows.c - reading rows of the store; see rows.h. */
#include "reduce/rows.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum status rows_open(struct store *store, const char *sql, const char *const *texts, size_t n,
                      struct statement **statement, struct fault *fault)
{
    *statement = NULL;
    struct statement *made = NULL;
    enum status status = statement_prepare(store, sql, &made, fault);
    for (size_t i = 0; status == OK && i < n; i++)
        status = statement_bind_text(made, (int)i + 1, texts[i], fault);
    if (status != OK) {
        statement_free(made);
        return status;
    }
    *statement = made;
    return OK;
}

enum status text_copy(const char *text, char **copy, struct fault *fault)
{
    size_t size = strlen(text) + 1;
    char *made = malloc(size);
    if (made == NULL) {
        *copy = NULL;
        return FAIL(fault, NO_MEMORY, "no memory for a text of %zu bytes", size);
    }
    memcpy(made, text, size);
    *copy = made;
    return OK;
}

enum status rows_text(struct statement *statement, int column, char **copy, struct fault *fault)
{
    const char *text = statement_text(statement, column);
    return text_copy(text == NULL ? "" : text, copy, fault);
}

enum status array_reserve(void **array, size_t *capacity, size_t needed, size_t size,
                          struct fault *fault)
{
    if (needed <= *capacity)
        return OK;
    size_t grown = *capacity < 8 ? 16 : *capacity * 2;
    if (grown < needed)
        grown = needed;
    if (grown > SIZE_MAX / size)
        return FAIL(fault, NO_MEMORY, "no memory for %zu rows", needed);
    void *moved = realloc(*array, grown * size);
    if (moved == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for %zu rows of %zu bytes", grown, size);
    *array = moved;
    *capacity = grown;
    return OK;
}

enum status array_make(void **array, size_t n, size_t size, struct fault *fault)
{
    *array = calloc(n == 0 ? 1 : n, size);
    if (*array == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for %zu rows of %zu bytes", n, size);
    return OK;
}
