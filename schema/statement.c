/* statement.c - prepared statements; see statement.h. */
#include "schema/statement.h"

#include <math.h>
#include <sqlite3.h>
#include <stdlib.h>

#include "schema/store_handle.h"

struct statement {
    sqlite3_stmt *prepared;
    struct store *store; /* not owned */
};

/* What the user can do about the codes that are not our own mistakes. */
static const struct {
    int code;
    const char *advice;
} advices[] = {
    {SQLITE_BUSY, "another program is writing this season: let it end and run again"},
    {SQLITE_LOCKED, "another program is writing this season: let it end and run again"},
    {SQLITE_FULL, "the disk is full: free some space and run again, nothing is lost"},
    {SQLITE_IOERR, "the disk refused: check it and run again"},
    {SQLITE_READONLY, "the season may only be read: check its permissions"},
    {SQLITE_AUTH, "the season may only be read by this command"},
    {SQLITE_CANTOPEN, "check the folder's name and permissions"},
    {SQLITE_NOTADB, "move the file away and ingest the logs again"},
};

static const char *advice_for(int code)
{
    for (size_t i = 0; i < sizeof advices / sizeof advices[0]; i++)
        if (advices[i].code == (code & 0xff))
            return advices[i].advice;
    return "this is a fault of the program: report it";
}

enum status store_refused(struct store *store, const char *sql, struct fault *fault)
{
    int code = sqlite3_errcode(store->database);
    if ((code & 0xff) == SQLITE_NOMEM)
        return FAIL(fault, NO_MEMORY, "no memory for a step of the season database");
    if ((code & 0xff) == SQLITE_CORRUPT)
        return FAIL(
            fault, STORE_FAILED,
            "%.400s is damaged: move it aside and run lapwing batch: the logs are the truth",
            sqlite3_db_filename(store->database, "main"));
    return FAIL(fault, STORE_FAILED, "the season database refused a step: %s (code %d); %s%s%.240s",
                sqlite3_errmsg(store->database), code, advice_for(code),
                sql != NULL ? "; statement: " : "", sql != NULL ? sql : "");
}

static enum status refused(struct statement *statement, struct fault *fault)
{
    return store_refused(statement->store, sqlite3_sql(statement->prepared), fault);
}

enum status statement_prepare(struct store *store, const char *sql, struct statement **statement,
                              struct fault *fault)
{
    *statement = NULL;
    struct statement *made = calloc(1, sizeof *made);
    if (made == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for an SQL statement");
    made->store = store;
    if (sqlite3_prepare_v2(store->database, sql, -1, &made->prepared, NULL) != SQLITE_OK) {
        enum status status = store_refused(store, sql, fault);
        free(made);
        return status;
    }
    *statement = made;
    return OK;
}

void statement_free(struct statement *statement)
{
    if (statement == NULL)
        return;
    (void)sqlite3_finalize(statement->prepared); /* repeats the last step's code, told already */
    free(statement);
}

static enum status bound(struct statement *statement, int code, struct fault *fault)
{
    return code == SQLITE_OK ? OK : refused(statement, fault);
}

enum status statement_bind_text(struct statement *statement, int position, const char *text,
                                struct fault *fault)
{
    int code = sqlite3_bind_text(statement->prepared, position, text, -1, SQLITE_TRANSIENT);
    return bound(statement, code, fault);
}

enum status statement_bind_integer(struct statement *statement, int position, int64_t value,
                                   struct fault *fault)
{
    return bound(statement, sqlite3_bind_int64(statement->prepared, position, value), fault);
}

enum status statement_bind_real(struct statement *statement, int position, double value,
                                struct fault *fault)
{
    if (isnan(value))
        return bound(statement, sqlite3_bind_null(statement->prepared, position), fault);
    if (isinf(value))
        return FAIL(fault, BAD_INPUT, "an infinite number was about to be stored; in: %.240s",
                    sqlite3_sql(statement->prepared));
    return bound(statement, sqlite3_bind_double(statement->prepared, position, value), fault);
}

enum status statement_bind_blob(struct statement *statement, int position, const void *bytes,
                                size_t size, struct fault *fault)
{
    int code = sqlite3_bind_blob64(statement->prepared, position, bytes, (sqlite3_uint64)size,
                                   SQLITE_TRANSIENT);
    return bound(statement, code, fault);
}

enum status statement_step(struct statement *statement, int *row, struct fault *fault)
{
    int code = sqlite3_step(statement->prepared);
    *row = code == SQLITE_ROW;
    if (code != SQLITE_ROW && code != SQLITE_DONE)
        return refused(statement, fault);
    return OK;
}

enum status statement_run(struct statement *statement, struct fault *fault)
{
    enum status status = OK;
    int row = 1;
    while (status == OK && row)
        status = statement_step(statement, &row, fault);
    (void)sqlite3_reset(statement->prepared); /* repeats the step's code */
    (void)sqlite3_clear_bindings(statement->prepared);
    return status;
}

enum status statement_reset(struct statement *statement, struct fault *fault)
{
    return bound(statement, sqlite3_reset(statement->prepared), fault);
}

const char *statement_text(struct statement *statement, int column)
{
    return (const char *)sqlite3_column_text(statement->prepared, column);
}

double statement_real(struct statement *statement, int column)
{
    if (statement_is_null(statement, column))
        return NAN;
    return sqlite3_column_double(statement->prepared, column);
}

int64_t statement_integer(struct statement *statement, int column)
{
    return sqlite3_column_int64(statement->prepared, column);
}

int statement_is_null(struct statement *statement, int column)
{
    return sqlite3_column_type(statement->prepared, column) == SQLITE_NULL;
}

const void *statement_blob(struct statement *statement, int column, size_t *size)
{
    const void *bytes = sqlite3_column_blob(statement->prepared, column);
    *size = (size_t)sqlite3_column_bytes(statement->prepared, column);
    return bytes;
}
