/* reductions.c - current reductions; see reductions.h. */
#include "reduce/reductions.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

enum status reduction_current(struct store *store, const char *stage, const char *subject,
                              int64_t *reduction, char key[DIGEST_TEXT], int *found,
                              struct fault *fault)
{
    struct statement *statement = NULL;
    *found = 0;
    enum status status = rows_open(store,
                                   "SELECT reduction, key FROM reduction WHERE stage = ?1 AND "
                                   "subject = ?2 AND is_current = 1",
                                   (const char *const[]){stage, subject}, 2, &statement, fault);
    if (status == OK)
        status = statement_step(statement, found, fault);
    if (status == OK && *found) {
        const char *text = statement_text(statement, 1);
        *reduction = statement_integer(statement, 0);
        (void)snprintf(key, DIGEST_TEXT, "%s", text == NULL ? "" : text);
    }
    statement_free(statement);
    return status;
}

enum status reduction_key_add(struct store *store, const char *stage, const char *subject,
                              struct key_text *key, struct fault *fault)
{
    char digest[DIGEST_TEXT] = "";
    int64_t reduction = 0;
    int found = 0;
    enum status status =
        reduction_current(store, stage, subject, &reduction, digest, &found, fault);
    if (status != OK)
        return status;
    key_text_word(key, stage, subject);
    key_text_word(key, "  reduction", found ? digest : "none");
    return OK;
}

static int is_among(const char *subject, const char *const *subjects, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(subjects[i], subject) == 0)
            return 1;
    return 0;
}

struct id_list {
    int64_t *ids;
    size_t n, capacity;
};

static enum status list_gone(struct store *store, const char *stage, const char *const *subjects,
                             size_t n, struct id_list *gone, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status = rows_open(
        store, "SELECT reduction, subject FROM reduction WHERE stage = ?1 AND is_current = 1",
        &stage, 1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        const char *subject = statement_text(statement, 1);
        if (subject != NULL && is_among(subject, subjects, n))
            continue;
        void *array = gone->ids;
        status = array_reserve(&array, &gone->capacity, gone->n + 1, sizeof *gone->ids, fault);
        gone->ids = array;
        if (status == OK)
            gone->ids[gone->n++] = statement_integer(statement, 0);
    }
    statement_free(statement);
    return status;
}

enum status reductions_keep(struct store *store, const char *stage, const char *const *subjects,
                            size_t n, struct fault *fault)
{
    struct id_list gone = {NULL, 0, 0};
    struct statement *statement = NULL;
    enum status status = list_gone(store, stage, subjects, n, &gone, fault);
    if (status == OK && gone.n > 0)
        status = statement_prepare(
            store, "UPDATE reduction SET is_current = 0 WHERE reduction = ?1", &statement, fault);
    for (size_t i = 0; status == OK && i < gone.n; i++) {
        status = statement_bind_integer(statement, 1, gone.ids[i], fault);
        if (status == OK)
            status = statement_run(statement, fault);
    }
    statement_free(statement);
    free(gone.ids);
    return status;
}
