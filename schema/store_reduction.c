/* store_reduction.c - which reduction is current for a stage and a subject; see store.h. */
#include "schema/digest.h"
#include "schema/store.h"

struct request {
    const char *stage;
    const char *subject;
    const char *inputs;
    char key[DIGEST_TEXT];
};

static enum status find(struct store *store, const struct request *request, int64_t *reduction,
                        int *is_current, int *found, struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = statement_prepare(
        store,
        "SELECT reduction, is_current FROM reduction WHERE stage = ? AND subject = ? AND key = ?",
        &statement, fault);
    if (status == OK)
        status = statement_bind_text(statement, 1, request->stage, fault);
    if (status == OK)
        status = statement_bind_text(statement, 2, request->subject, fault);
    if (status == OK)
        status = statement_bind_text(statement, 3, request->key, fault);
    if (status == OK)
        status = statement_step(statement, found, fault);
    if (status == OK && *found) {
        *reduction = statement_integer(statement, 0);
        *is_current = statement_integer(statement, 1) != 0;
    }
    statement_free(statement);
    return status;
}

/* The former current one is kept, but steps back. */
static enum status retire(struct store *store, const struct request *request, struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = statement_prepare(store,
                                           "UPDATE reduction SET is_current = 0 WHERE stage = ? "
                                           "AND subject = ? AND is_current = 1",
                                           &statement, fault);
    if (status == OK)
        status = statement_bind_text(statement, 1, request->stage, fault);
    if (status == OK)
        status = statement_bind_text(statement, 2, request->subject, fault);
    if (status == OK)
        status = statement_run(statement, fault);
    statement_free(statement);
    return status;
}

static enum status promote(struct store *store, int64_t reduction, struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = statement_prepare(
        store, "UPDATE reduction SET is_current = 1 WHERE reduction = ?", &statement, fault);
    if (status == OK)
        status = statement_bind_integer(statement, 1, reduction, fault);
    if (status == OK)
        status = statement_run(statement, fault);
    statement_free(statement);
    return status;
}

static enum status add(struct store *store, const struct request *request, int64_t *reduction,
                       struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status =
        statement_prepare(store,
                          "INSERT INTO reduction (stage, subject, inputs, key, is_current) "
                          "VALUES (?, ?, ?, ?, 1) RETURNING reduction",
                          &statement, fault);
    const char *const values[] = {request->stage, request->subject, request->inputs, request->key};
    for (int i = 0; status == OK && i < 4; i++)
        status = statement_bind_text(statement, i + 1, values[i], fault);
    if (status == OK)
        status = statement_step(statement, &row, fault);
    if (status == OK && row)
        *reduction = statement_integer(statement, 0);
    if (status == OK)
        status = statement_run(statement, fault); /* the insert ends with the last step */
    statement_free(statement);
    return status;
}

static enum status replace(struct store *store, const struct request *request, int found,
                           int64_t *reduction, struct fault *fault)
{
    enum status status = retire(store, request, fault);
    if (status != OK)
        return status;
    return found ? promote(store, *reduction, fault) : add(store, request, reduction, fault);
}

/* A savepoint nests inside the caller's transaction and is one of its own without one. */
static enum status replace_whole(struct store *store, const struct request *request, int found,
                                 int64_t *reduction, struct fault *fault)
{
    enum status status = store_execute(store, "SAVEPOINT reduction", fault);
    if (status != OK)
        return status;
    status = replace(store, request, found, reduction, fault);
    if (status == OK)
        return store_execute(store, "RELEASE reduction", fault);
    struct fault ignored; /* the first failure is the one to tell */
    (void)store_execute(store, "ROLLBACK TO reduction; RELEASE reduction", &ignored);
    return status;
}

enum status store_reduction(struct store *store, const char *stage, const char *subject,
                            const char *inputs, int64_t *reduction, int *fresh, struct fault *fault)
{
    struct request request = {stage, subject, inputs, ""};
    int found = 0;
    int is_current = 0;

    *reduction = 0;
    *fresh = 0;
    enum status status = digest_text(inputs, request.key, fault);
    if (status == OK)
        status = find(store, &request, reduction, &is_current, &found, fault);
    if (status != OK || (found && is_current))
        return status;
    status = replace_whole(store, &request, found, reduction, fault);
    *fresh = status == OK && !found;
    return status;
}
