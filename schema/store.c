/* store.c - opening, making and closing the season database; see store.h. */
#include "schema/store.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "schema/dictionary.h"
#include "schema/digest.h"
#include "schema/store_handle.h"

enum {
    APPLICATION_ID = 0x4c415057, /* "LAPW" */
    SCHEMA_VERSION = 9,
    BUSY_MILLISECONDS = 10000
};

static const char *const schema_lines[] = {
#include "schema_sql.inc"
};

enum status store_execute(struct store *store, const char *sql, struct fault *fault)
{
    if (sqlite3_exec(store->database, sql, NULL, NULL, NULL) != SQLITE_OK)
        return store_refused(store, sql, fault);
    return OK;
}

enum status store_begin(struct store *store, struct fault *fault)
{
    return store_execute(store, "BEGIN IMMEDIATE", fault);
}

enum status store_commit(struct store *store, struct fault *fault)
{
    return store_execute(store, "COMMIT", fault);
}

void store_rollback(struct store *store)
{
    if (!sqlite3_get_autocommit(store->database))
        (void)sqlite3_exec(store->database, "ROLLBACK", NULL, NULL, NULL);
}

static enum status read_integer(struct store *store, const char *sql, int64_t *value,
                                struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    *value = 0;
    enum status status = statement_prepare(store, sql, &statement, fault);
    if (status == OK)
        status = statement_step(statement, &row, fault);
    if (status == OK && row)
        *value = statement_integer(statement, 0);
    statement_free(statement);
    return status;
}

static enum status make_tables(struct store *store, struct fault *fault)
{
    size_t size = 1;
    for (size_t i = 0; i < sizeof schema_lines / sizeof schema_lines[0]; i++)
        size += strlen(schema_lines[i]);
    char *sql = malloc(size);
    if (sql == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the season's tables");
    char *end = sql;
    for (size_t i = 0; i < sizeof schema_lines / sizeof schema_lines[0]; i++) {
        size_t length = strlen(schema_lines[i]);
        memcpy(end, schema_lines[i], length);
        end += length;
    }
    *end = '\0';
    enum status status = store_execute(store, sql, fault);
    free(sql);
    if (status != OK)
        return status;
    char marks[96];
    (void)snprintf(marks, sizeof marks, "PRAGMA application_id = %d; PRAGMA user_version = %d",
                   APPLICATION_ID, SCHEMA_VERSION);
    return store_execute(store, marks, fault);
}

/* A file without any table, which is what SQLite makes of a new or empty one. */
static enum status is_empty(struct store *store, int *empty, struct fault *fault)
{
    int64_t objects = 0;
    enum status status = read_integer(store, "SELECT count(*) FROM sqlite_schema", &objects, fault);
    *empty = objects == 0;
    return status;
}

static enum status check_kind(struct store *store, const char *path, struct fault *fault)
{
    int64_t application = 0;
    int64_t version = 0;
    enum status status = read_integer(store, "PRAGMA application_id", &application, fault);
    if (status == OK)
        status = read_integer(store, "PRAGMA user_version", &version, fault);
    if (status != OK)
        return status;
    if (application != APPLICATION_ID)
        return FAIL(fault, BAD_INPUT,
                    "%s is a database, but not a lapwing season (application_id %lld, a season has "
                    "%d); move it away or choose another folder",
                    path, (long long)application, APPLICATION_ID);
    if (version > SCHEMA_VERSION)
        return FAIL(fault, BAD_INPUT,
                    "%s was made by a later version of lapwing (schema %lld, this one knows %d); "
                    "use that version",
                    path, (long long)version, SCHEMA_VERSION);
    if (version != SCHEMA_VERSION)
        return FAIL(fault, BAD_INPUT,
                    "%s has schema version %lld, this program knows %d; move it away and ingest "
                    "the logs again",
                    path, (long long)version, SCHEMA_VERSION);
    return OK;
}

/* Tables and explanation in one transaction: a kill leaves an empty file or a whole season. */
static enum status make_or_check(struct store *store, const char *path, struct fault *fault)
{
    int empty = 0;
    enum status status = store_begin(store, fault);
    if (status == OK)
        status = is_empty(store, &empty, fault);
    if (status == OK)
        status = empty ? make_tables(store, fault) : check_kind(store, path, fault);
    if (status == OK)
        status = dictionary_write(store, fault);
    if (status == OK)
        status = store_commit(store, fault);
    if (status != OK)
        store_rollback(store);
    return status;
}

/* A season in a folder that may not be written, without a journal, has nobody writing it. */
static int is_read_only_copy(const char *path)
{
    char *name = malloc(strlen(path) + sizeof "-wal");
    if (name == NULL)
        return 0;
    (void)snprintf(name, strlen(path) + sizeof "-wal", "%s-wal", path);
    int has_journal = access(name, F_OK) == 0;
    (void)snprintf(name, strlen(path) + 1, "%s", path);
    char *slash = strrchr(name, '/');
    if (slash != NULL)
        slash[slash == name ? 1 : 0] = '\0';
    int may_write = access(slash != NULL ? name : ".", W_OK) == 0;
    free(name);
    return !has_journal && !may_write;
}

/* SQLite makes the journal's files beside a season even to read it; where it can't, it must be told
 * that the file does not change. That is said in a URI, where all but plain characters are written
 * like %3f. */
static int open_unchanging(const char *path, struct store *store)
{
    static const char plain[] =
        "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789/._-";
    char *uri = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&uri, &size);
    if (out == NULL)
        return SQLITE_NOMEM;
    (void)fputs("file:", out);
    for (const char *c = path; *c != '\0'; c++)
        (void)fprintf(out, strchr(plain, *c) != NULL ? "%c" : "%%%02x", (unsigned char)*c);
    (void)fputs("?immutable=1", out);
    int code = ferror(out) ? SQLITE_NOMEM : SQLITE_OK;
    if (fclose(out) != 0)
        code = SQLITE_NOMEM;
    if (code == SQLITE_OK)
        code = sqlite3_open_v2(uri, &store->database, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, NULL);
    free(uri);
    return code;
}

static enum status open_file(struct store *store, const char *path, enum store_mode mode,
                             struct fault *fault)
{
    static const int flags[] = {
        [STORE_CREATE] = SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE,
        [STORE_EXISTING] = SQLITE_OPEN_READWRITE,
        [STORE_READ_ONLY] = SQLITE_OPEN_READWRITE, /* see deny_writes() */
    };
    int code = SQLITE_OK;
    if (mode == STORE_READ_ONLY && is_read_only_copy(path))
        code = open_unchanging(path, store);
    else
        code = sqlite3_open_v2(path, &store->database, flags[mode], NULL);
    if (code == SQLITE_CANTOPEN && mode != STORE_CREATE)
        return FAIL(fault, NOT_FOUND,
                    "no season database can be opened at %s; run `lapwing ingest` in the campaign "
                    "folder first",
                    path);
    if (code != SQLITE_OK)
        return FAIL(fault, STORE_FAILED, "cannot open %s: %s; check the folder and its permissions",
                    path, store->database != NULL ? sqlite3_errmsg(store->database) : "no memory");
    (void)sqlite3_busy_timeout(store->database, BUSY_MILLISECONDS);
    return OK;
}

/* A reader keeps its hands off the season's tables, yet opens the file for writing where it may: only
 * such a connection, when it is the last to close, takes the journal's files away again. Temporary
 * views of its own are no change of the season. */
static int deny_writes(void *context, int action, const char *table, const char *column,
                       const char *database, const char *trigger)
{
    (void)context;
    (void)table;
    (void)column;
    (void)trigger;
    int writes = action == SQLITE_INSERT || action == SQLITE_UPDATE || action == SQLITE_DELETE;
    return writes && database != NULL && strcmp(database, "main") == 0 ? SQLITE_DENY : SQLITE_OK;
}

/* The first read of a file that is no database at all; told apart from a failing disk. */
static enum status check_database(struct store *store, const char *path, enum store_mode mode,
                                  struct fault *fault)
{
    int empty = 0;
    enum status status = is_empty(store, &empty, fault);
    if (status != OK && sqlite3_errcode(store->database) == SQLITE_NOTADB)
        return FAIL(fault, BAD_INPUT,
                    "%s is not a database; a season.sqlite made by lapwing was expected: move the "
                    "file away",
                    path);
    if (status == OK && empty && mode != STORE_CREATE)
        return FAIL(fault, NOT_FOUND,
                    "%s is empty: nothing was ingested yet; run `lapwing ingest` in the campaign "
                    "folder first",
                    path);
    return status;
}

/* WAL needs shared memory, which a network share may not give; SQLite then keeps its rollback
 * journal, which is slower but as safe, so the mode it answers with is accepted. */
static enum status set_up(struct store *store, const char *path, enum store_mode mode,
                          struct fault *fault)
{
    enum status status = check_database(store, path, mode, fault);
    if (status == OK)
        status = store_execute(store,
                               "PRAGMA page_size = 16384; PRAGMA foreign_keys = ON; "
                               "PRAGMA synchronous = NORMAL",
                               fault);
    if (status != OK)
        return status;
    if (mode != STORE_CREATE)
        status = check_kind(store, path, fault);
    else
        status = make_or_check(store, path, fault);
    if (status != OK)
        return status;
    if (mode == STORE_READ_ONLY) {
        (void)sqlite3_set_authorizer(store->database, deny_writes, NULL);
        return OK;
    }
    return store_execute(store, "PRAGMA journal_mode = WAL", fault);
}

enum status store_open(const char *path, enum store_mode mode, struct store **store,
                       struct fault *fault)
{
    *store = NULL;
    struct store *made = calloc(1, sizeof *made);
    if (made == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to open %s", path);
    enum status status = open_file(made, path, mode, fault);
    if (status == OK)
        status = set_up(made, path, mode, fault);
    if (status != OK) {
        (void)sqlite3_close(made->database);
        free(made);
        return status;
    }
    *store = made;
    return OK;
}

enum status store_close(struct store *store, struct fault *fault)
{
    if (store == NULL)
        return OK;
    if (sqlite3_close(store->database) != SQLITE_OK)
        return store_refused(store, NULL, fault);
    free(store);
    return OK;
}
