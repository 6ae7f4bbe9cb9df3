/* test_store.c - schema/store.c, statement.c and store_reduction.c. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <unistd.h>

#include "schema/flag.h"
#include "schema/store.h"
#include "tests/check.h"
#include "tests/scratch.h"

static struct store *opened(const char *path, enum store_mode mode)
{
    struct store *store = NULL;
    struct fault fault = {0};
    CHECK_OK(store_open(path, mode, &store, &fault), &fault);
    return store;
}

static void close_store(struct store *store)
{
    struct fault fault = {0};
    CHECK_OK(store_close(store, &fault), &fault);
}

/* First column of the first row as text; "(none)" without a row. */
static void ask(struct store *store, const char *sql, char *out, size_t size)
{
    struct statement *statement = NULL;
    struct fault fault = {0};
    int row = 0;
    (void)snprintf(out, size, "(none)");
    CHECK_OK(statement_prepare(store, sql, &statement, &fault), &fault);
    if (statement == NULL)
        return;
    CHECK_OK(statement_step(statement, &row, &fault), &fault);
    if (row)
        (void)snprintf(out, size, "%s",
                       statement_is_null(statement, 0) ? "NULL" : statement_text(statement, 0));
    statement_free(statement);
}

static void check_answer(struct store *store, const char *sql, const char *want)
{
    char got[256];
    ask(store, sql, got, sizeof got);
    check_text(got, want, sql, __FILE__, __LINE__);
}

static void season_path(const char *folder, char *path, size_t size)
{
    (void)snprintf(path, size, "%s/season.sqlite", folder);
}

static void a_new_season_has_the_declared_settings(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 32];
    CHECK(scratch_make(folder));
    season_path(folder, path, sizeof path);
    struct store *store = opened(path, STORE_CREATE);
    check_answer(store, "PRAGMA user_version", "9");
    check_answer(store, "PRAGMA application_id", "1279348823"); /* "LAPW" as a number */
    check_answer(store, "PRAGMA page_size", "16384");
    check_answer(store, "PRAGMA foreign_keys", "1");
    check_answer(store, "PRAGMA journal_mode", "wal");
    check_answer(store, "PRAGMA synchronous", "1");
    close_store(store);

    store = opened(path, STORE_CREATE); /* and again: nothing is made twice */
    check_answer(store, "PRAGMA user_version", "9");
    close_store(store);

    store = opened(path, STORE_READ_ONLY);
    struct fault fault = {0};
    CHECK(store_execute(store, "DELETE FROM run", &fault) == STORE_FAILED);
    CHECK_CONTAINS(fault.text, "may only be read");
    close_store(store);
    scratch_remove(folder);
}

static void a_missing_season_is_not_made_by_reading(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 32];
    struct store *store = NULL;
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    season_path(folder, path, sizeof path);
    CHECK(store_open(path, STORE_EXISTING, &store, &fault) == NOT_FOUND && store == NULL);
    CHECK(store_open(path, STORE_READ_ONLY, &store, &fault) == NOT_FOUND && store == NULL);
    CHECK_CONTAINS(fault.text, "lapwing ingest");
    CHECK(scratch_read(folder, "season.sqlite") == NULL);
    scratch_remove(folder);
    CHECK(store_open(path, STORE_CREATE, &store, &fault) == STORE_FAILED); /* no folder */
}

/* In a process that is not root, which may write everywhere: does reading path count a run? */
static int nobody_reads_a_run(const char *path)
{
    pid_t child = fork();
    if (child == 0) {
        struct store *store = NULL;
        struct statement *statement = NULL;
        struct fault fault = {0};
        int row = 0;
        if (geteuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0))
            _exit(2);
        int read = store_open(path, STORE_READ_ONLY, &store, &fault) == OK &&
                   statement_prepare(store, "SELECT 1 FROM setting", &statement, &fault) == OK &&
                   statement_step(statement, &row, &fault) == OK && row;
        _exit(read ? 0 : 1);
    }
    int status = 0;
    return child > 0 && waitpid(child, &status, 0) == child && WIFEXITED(status) &&
           WEXITSTATUS(status) == 0;
}

static void a_copy_in_a_folder_that_may_not_be_written_is_read(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 32];
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    (void)snprintf(path, sizeof path, "%s/100%% a?b#c.sqlite", folder);
    struct store *store = opened(path, STORE_CREATE);
    CHECK_OK(store_execute(store, "INSERT INTO setting VALUES ('a', 'b', 'c', '')", &fault),
             &fault);
    close_store(store);
    CHECK(chmod(path, 0444) == 0 && chmod(folder, 0555) == 0);
    CHECK(nobody_reads_a_run(path));
    CHECK(chmod(folder, 0755) == 0);
    scratch_remove(folder);
}

static void an_empty_file_is_no_season_yet(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 32];
    struct store *store = NULL;
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    CHECK(scratch_write(folder, "season.sqlite", ""));
    season_path(folder, path, sizeof path);
    CHECK(store_open(path, STORE_READ_ONLY, &store, &fault) == NOT_FOUND && store == NULL);
    CHECK_CONTAINS(fault.text, "run `lapwing ingest`");
    CHECK(store_open(path, STORE_EXISTING, &store, &fault) == NOT_FOUND && store == NULL);
    close_store(opened(path, STORE_CREATE));
    scratch_remove(folder);
}

static void refuse_all_modes(const char *path, const char *says)
{
    static const enum store_mode modes[] = {STORE_CREATE, STORE_EXISTING, STORE_READ_ONLY};
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        struct store *store = NULL;
        struct fault fault = {0};
        CHECK(store_open(path, modes[i], &store, &fault) == BAD_INPUT && store == NULL);
        CHECK_CONTAINS(fault.text, says);
    }
}

static void foreign_files_and_later_versions_are_refused(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 32];
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    season_path(folder, path, sizeof path);
    struct store *store = opened(path, STORE_CREATE);
    CHECK_OK(store_execute(store, "PRAGMA user_version = 1000", &fault), &fault);
    close_store(store);
    refuse_all_modes(path, "later version");

    store = NULL;
    (void)remove(path);
    store = opened(path, STORE_CREATE);
    CHECK_OK(store_execute(store, "PRAGMA application_id = 7", &fault), &fault);
    close_store(store);
    refuse_all_modes(path, "not a lapwing season");

    CHECK(
        scratch_write(folder, "season.sqlite",
                      "This is a letter to the team, long enough to be no database header at all. "
                      "It goes on for more than a hundred bytes, so that nobody takes it for "
                      "an empty file."));
    refuse_all_modes(path, "not a database");
    char *kept = scratch_read(folder, "season.sqlite");
    CHECK_CONTAINS(kept, "a letter to the team");
    free(kept);
    scratch_remove(folder);
}

static void rows_come_back_as_they_went_in(void)
{
    struct store *store = opened(":memory:", STORE_CREATE);
    struct statement *statement = NULL;
    struct fault fault = {0};
    const unsigned char bytes[4] = {0, 1, 0, 255};
    size_t size = 0;
    int row = 0;
    CHECK_OK(store_execute(store,
                           "CREATE TABLE t (a TEXT, b INTEGER, c REAL, d BLOB, e REAL) STRICT",
                           &fault),
             &fault);
    CHECK_OK(statement_prepare(store, "INSERT INTO t VALUES (?, ?, ?, ?, ?)", &statement, &fault),
             &fault);
    CHECK_OK(statement_bind_text(statement, 1, "n\xc3\xa4he", &fault), &fault);
    CHECK_OK(statement_bind_integer(statement, 2, INT64_MIN, &fault), &fault);
    CHECK_OK(statement_bind_real(statement, 3, 0.1, &fault), &fault);
    CHECK_OK(statement_bind_blob(statement, 4, bytes, sizeof bytes, &fault), &fault);
    CHECK_OK(statement_bind_real(statement, 5, (double)NAN, &fault), &fault);
    CHECK_OK(statement_run(statement, &fault), &fault);
    CHECK(statement_bind_real(statement, 3, (double)INFINITY, &fault) == BAD_INPUT);
    CHECK(statement_bind_text(statement, 9, "x", &fault) == STORE_FAILED);
    CHECK_CONTAINS(fault.text, "INSERT INTO t");
    CHECK_OK(statement_run(statement, &fault), &fault); /* bindings were cleared: all NULL */
    statement_free(statement);

    CHECK_OK(statement_prepare(store, "SELECT * FROM t ORDER BY a IS NULL", &statement, &fault),
             &fault);
    CHECK_OK(statement_step(statement, &row, &fault), &fault);
    CHECK(row == 1);
    CHECK_TEXT(statement_text(statement, 0), "n\xc3\xa4he");
    CHECK(statement_integer(statement, 1) == INT64_MIN);
    CHECK_NEAR(statement_real(statement, 2), 0.1, 0, "identity: round trip");
    const void *back = statement_blob(statement, 3, &size);
    CHECK(size == sizeof bytes && memcmp(back, bytes, size) == 0);
    CHECK(statement_is_null(statement, 4) && isnan(statement_real(statement, 4)));
    CHECK_OK(statement_step(statement, &row, &fault), &fault);
    CHECK(row == 1 && statement_text(statement, 0) == NULL && statement_integer(statement, 1) == 0);
    CHECK_OK(statement_step(statement, &row, &fault), &fault);
    CHECK(row == 0);
    CHECK_OK(statement_reset(statement, &fault), &fault);
    CHECK_OK(statement_step(statement, &row, &fault), &fault);
    CHECK(row == 1);
    CHECK(store_close(store, &fault) == STORE_FAILED); /* a statement is still open */
    statement_free(statement);
    statement_free(NULL);
    close_store(store);
}

static void wrong_sql_says_which(void)
{
    struct store *store = opened(":memory:", STORE_CREATE);
    struct statement *statement = NULL;
    struct fault fault = {0};
    CHECK(statement_prepare(store, "SELECT something FROM nowhere", &statement, &fault) ==
          STORE_FAILED);
    CHECK(statement == NULL);
    CHECK_CONTAINS(fault.text, "no such table: nowhere");
    CHECK_CONTAINS(fault.text, "SELECT something");
    CHECK(store_execute(store, "NONSENSE", &fault) == STORE_FAILED);
    CHECK_OK(store_begin(store, &fault), &fault);
    CHECK(store_begin(store, &fault) == STORE_FAILED); /* no transaction within one */
    store_rollback(store);
    store_rollback(store); /* without one: nothing happens */
    close_store(store);
    close_store(NULL);
}

/* A full database file is a real SQLITE_FULL. */
static void a_full_disk_is_told_and_loses_nothing(void)
{
    struct store *store = opened(":memory:", STORE_CREATE);
    struct fault fault = {0};
    char sql[64];
    char pages[32];
    ask(store, "PRAGMA page_count", pages, sizeof pages);
    (void)snprintf(sql, sizeof sql, "PRAGMA max_page_count = %s", pages);
    check_answer(store, sql, pages);
    CHECK_OK(store_begin(store, &fault), &fault);
    CHECK(store_execute(store, "INSERT INTO setting VALUES ('a', 'b', hex(zeroblob(1000000)), '')",
                        &fault) == STORE_FAILED);
    CHECK_CONTAINS(fault.text, "free some space");
    store_rollback(store);
    check_answer(store, "SELECT count(*) FROM setting", "0");
    close_store(store);
}

static void reductions_are_kept_and_come_back(void)
{
    struct store *store = opened(":memory:", STORE_CREATE);
    struct fault fault = {0};
    int64_t first = 0;
    int64_t second = 0;
    int64_t again = 0;
    int fresh = 0;
    CHECK_OK(store_reduction(store, "point", "r1", "a", &first, &fresh, &fault), &fault);
    CHECK(fresh == 1 && first > 0);
    CHECK_OK(store_reduction(store, "point", "r1", "a", &again, &fresh, &fault), &fault);
    CHECK(fresh == 0 && again == first);
    CHECK_OK(store_reduction(store, "point", "r1", "b", &second, &fresh, &fault), &fault);
    CHECK(fresh == 1 && second != first);
    check_answer(store, "SELECT group_concat(inputs || is_current, ' ') FROM reduction", "a0 b1");
    CHECK_OK(store_reduction(store, "point", "r1", "a", &again, &fresh, &fault), &fault);
    CHECK(fresh == 0 && again == first);
    check_answer(store, "SELECT group_concat(inputs || is_current, ' ') FROM reduction", "a1 b0");
    CHECK_OK(store_reduction(store, "target", "r1", "a", &again, &fresh, &fault), &fault);
    CHECK(fresh == 1); /* another stage */
    CHECK_OK(store_reduction(store, "point", "r2", "a", &again, &fresh, &fault), &fault);
    CHECK(fresh == 1); /* another subject */
    check_answer(store, "SELECT count(*) FROM reduction WHERE is_current = 1", "3");
    check_answer(store, "SELECT key FROM reduction WHERE reduction = 1", /* SHA-256 of "a" */
                 "ca978112ca1bbdcafac231b39a23dc4da786eff8147c4e72b9807785afee48bb");
    close_store(store);
}

static void a_reduction_follows_its_transaction(void)
{
    struct store *store = opened(":memory:", STORE_CREATE);
    struct fault fault = {0};
    int64_t id = 0;
    int fresh = 0;
    CHECK_OK(store_reduction(store, "point", "r1", "a", &id, &fresh, &fault), &fault);
    CHECK_OK(store_begin(store, &fault), &fault);
    CHECK_OK(store_reduction(store, "point", "r1", "b", &id, &fresh, &fault), &fault);
    store_rollback(store);
    check_answer(store, "SELECT group_concat(inputs || is_current, ' ') FROM reduction", "a1");
    CHECK_OK(store_execute(store,
                           "CREATE TRIGGER no BEFORE INSERT ON reduction BEGIN "
                           "SELECT raise(ABORT, 'not today'); END",
                           &fault),
             &fault);
    CHECK(store_reduction(store, "point", "r1", "c", &id, &fresh, &fault) == STORE_FAILED);
    CHECK_CONTAINS(fault.text, "not today");
    check_answer(store, "SELECT group_concat(inputs || is_current, ' ') FROM reduction", "a1");
    close_store(store);
}

CU_TestInfo store_tests[] = {
    {"a new season has the declared settings", a_new_season_has_the_declared_settings},
    {"a missing season is not made by reading", a_missing_season_is_not_made_by_reading},
    {"a copy in a folder that may not be written is read",
     a_copy_in_a_folder_that_may_not_be_written_is_read},
    {"an empty file is no season yet", an_empty_file_is_no_season_yet},
    {"foreign files and later versions are refused", foreign_files_and_later_versions_are_refused},
    {"rows come back as they went in", rows_come_back_as_they_went_in},
    {"wrong SQL says which", wrong_sql_says_which},
    {"a full disk is told and loses nothing", a_full_disk_is_told_and_loses_nothing},
    {"reductions are kept and come back", reductions_are_kept_and_come_back},
    {"a reduction follows its transaction", a_reduction_follows_its_transaction},
    CU_TEST_INFO_NULL};
