/* stored_run.c - see stored_run.h. */
#include "ingest/stored_run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int64_t stamp_to_keep(int64_t mtime_ns, int64_t now_ns)
{
    return now_ns > 0 && mtime_ns < now_ns - STAMP_GRAIN_NS ? mtime_ns : 0;
}

/* What the store holds of one log. */
struct stored_log {
    int is_stored; /* 0: the file was missing */
    char digest[DIGEST_TEXT];
    struct file_stamp stamp;
};

void stored_run_end(struct stored_run *stored)
{
    free(stored->touched);
    *stored = (struct stored_run){0};
}

static enum status read_run_row(struct store *store, const char *run, char key[DIGEST_TEXT],
                                struct stored_run *stored, int *row, struct fault *fault)
{
    struct statement *statement = NULL;
    enum status status = statement_prepare(
        store, "SELECT ingest_key, state FROM run WHERE run = ?1", &statement, fault);
    if (status == OK)
        status = statement_bind_text(statement, 1, run, fault);
    if (status == OK)
        status = statement_step(statement, row, fault);
    if (status == OK && *row) {
        const char *text = statement_text(statement, 0);
        const char *state = statement_text(statement, 1);
        (void)snprintf(key, DIGEST_TEXT, "%s", text != NULL ? text : "");
        stored->is_quarantined = state == NULL || strcmp(state, "ok") != 0;
    }
    statement_free(statement);
    return status;
}

/* One row of log; 0 when it is not the log of the sheet. */
static int take_log_row(struct statement *statement, const struct run_entry *run,
                        struct stored_log *logs)
{
    const char *file = statement_text(statement, 0);
    const char *map = statement_text(statement, 1);
    const char *digest = statement_text(statement, 2);
    int64_t i = statement_integer(statement, 5);
    if (i < 0 || (uint64_t)i >= run->n_logs || file == NULL || map == NULL || digest == NULL)
        return 0;
    struct stored_log *log = &logs[i];
    log->is_stored = 1;
    (void)snprintf(log->digest, sizeof log->digest, "%s", digest);
    log->stamp =
        (struct file_stamp){statement_integer(statement, 3), statement_integer(statement, 4)};
    return strcmp(file, run->logs[i].file) == 0 && strcmp(map, run->logs[i].map) == 0;
}

static enum status read_log_rows(struct store *store, const struct run_entry *run,
                                 struct stored_log *logs, int *same, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 1;
    enum status status = statement_prepare(
        store,
        "SELECT file, map, sha256, bytes, mtime_ns, position FROM log WHERE run = ?1 "
        "ORDER BY position",
        &statement, fault);
    if (status == OK)
        status = statement_bind_text(statement, 1, run->name, fault);
    *same = 1;
    while (status == OK && *same) {
        status = statement_step(statement, &row, fault);
        if (status != OK || !row)
            break;
        *same = take_log_row(statement, run, logs);
    }
    statement_free(statement);
    return status;
}

static enum status has_key(const struct season_sheets *sheets, const struct run_entry *run,
                           const char (*map_digests)[DIGEST_TEXT], const struct stored_log *logs,
                           const char *key, int *same, struct fault *fault)
{
    char now[DIGEST_TEXT];
    const char **digests = calloc(run->n_logs + 1, sizeof *digests);
    if (digests == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to compare run '%s'", run->name);
    for (size_t i = 0; i < run->n_logs; i++)
        digests[i] = logs[i].digest;
    enum status status = reading_key_of_run(sheets, run, map_digests, digests, now, fault);
    *same = status == OK && strcmp(now, key) == 0;
    free(digests);
    return status;
}

/* Are the bytes of a file the stored ones? */
static enum status same_bytes(const char *path, const char *name, const struct stored_log *log,
                              int64_t now_ns, int64_t *touched, int *same, struct fault *fault)
{
    struct file_stamp stamp;
    char digest[DIGEST_TEXT];
    enum status found = file_stamp_read(path, name, &stamp, fault);
    *touched = -1;
    *same = !log->is_stored && found == NOT_FOUND; /* still missing */
    if (found != OK || !log->is_stored || stamp.bytes != log->stamp.bytes)
        return OK; /* the reading says what is wrong with it */
    if (stamp.mtime_ns == log->stamp.mtime_ns) {
        *same = 1;
        return OK;
    }
    enum status status = digest_file(path, digest, fault);
    if (status == NO_MEMORY)
        return status;
    *same = status == OK && strcmp(digest, log->digest) == 0;
    *touched = stamp_to_keep(stamp.mtime_ns, now_ns);
    return OK;
}

static enum status compare_files(const char *folder, const struct run_entry *run,
                                 const struct stored_log *logs, int64_t now_ns,
                                 struct stored_run *stored, struct fault *fault)
{
    stored->is_current = 1;
    for (size_t i = 0; i < run->n_logs && stored->is_current; i++) {
        char *path = season_path(folder, run->logs[i].file);
        if (path == NULL)
            return FAIL(fault, NO_MEMORY, "no memory for the path of '%s'", run->logs[i].file);
        enum status status = same_bytes(path, run->logs[i].file, &logs[i], now_ns,
                                        &stored->touched[i], &stored->is_current, fault);
        free(path);
        if (status != OK)
            return status;
        stored->n_logs += (size_t)logs[i].is_stored;
    }
    return OK;
}

enum status stored_run_compare(struct store *store, const char *folder,
                               const struct season_sheets *sheets, const struct run_entry *run,
                               const char (*map_digests)[DIGEST_TEXT], int64_t now_ns,
                               struct stored_run *stored, struct fault *fault)
{
    char key[DIGEST_TEXT] = "";
    int same = 0;
    struct stored_log *logs = calloc(run->n_logs + 1, sizeof *logs);
    enum status status = OK;

    *stored = (struct stored_run){.touched = calloc(run->n_logs + 1, sizeof *stored->touched)};
    if (logs == NULL || stored->touched == NULL)
        status = FAIL(fault, NO_MEMORY, "no memory to compare run '%s'", run->name);
    if (status == OK)
        status = read_run_row(store, run->name, key, stored, &same, fault);
    if (status == OK && same)
        status = read_log_rows(store, run, logs, &same, fault);
    if (status == OK && same)
        status = has_key(sheets, run, map_digests, logs, key, &same, fault);
    if (status == OK && same)
        status = compare_files(folder, run, logs, now_ns, stored, fault);
    free(logs);
    if (status != OK)
        stored_run_end(stored);
    return status;
}
