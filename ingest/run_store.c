/* run_store.c - see run_store.h. */
#include "ingest/run_store.h"

#include <stdio.h>
#include <stdlib.h>

#include "schema/bind_row.h"
#include "ingest/late_flags.h"
#include "ingest/log_flags.h"
#include "ingest/record_store.h"
#include "ingest/sheet_store.h"
#include "ingest/statistic_store.h"
#include "ingest/trace_store.h"
#include "schema/flag.h"

/* The statements, in the order of the table below. */
enum { PUT_RUN, UPDATE_RUN, DROP_LOGS, DROP_FLAGS, PUT_LOG, PUT_FLAG, TOUCH_LOG, STATEMENTS };

/* What the sheet says of a run, bound in this order by bind_entry(). */
#define SHEET_COLUMNS                                                                            \
    "sequence, facility, entry, start_text, start_s, configuration, kind, balance, zero, tare, " \
    "mounting, note, sheet_line"
#define SHEET_PLACES "?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14"

static const char *const sql[STATEMENTS] = {
    [PUT_RUN] = "INSERT INTO run (run, " SHEET_COLUMNS ", state, reason, ingest_key) "
                "VALUES (?1, " SHEET_PLACES ", ?15, ?16, ?17) "
                "ON CONFLICT (run) DO UPDATE SET (" SHEET_COLUMNS ", state, reason, ingest_key) = "
                "(" SHEET_PLACES ", ?15, ?16, ?17)",
    [UPDATE_RUN] = "UPDATE run SET (" SHEET_COLUMNS ") = (" SHEET_PLACES ") "
                   "WHERE run = ?1 AND (" SHEET_COLUMNS ") IS NOT (" SHEET_PLACES ")",
    [DROP_LOGS] = "DELETE FROM log WHERE run = ?1",
    [DROP_FLAGS] = "DELETE FROM flag_row WHERE run = ?1 AND reduction IS NULL "
                   "AND rule <> 'duplicate-log'",
    [PUT_LOG] = "INSERT INTO log (run, position, file, map, block, sha256, bytes, mtime_ns, rows, "
                "rows_in_no_point) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
    [PUT_FLAG] = "INSERT INTO flag_row (run, point, subject, rule, state, unit, detail) "
                 "VALUES (?1, ?2, ?3, ?4, ?5, '', ?6)",
    [TOUCH_LOG] = "UPDATE log SET mtime_ns = ?3 WHERE run = ?1 AND position = ?2",
};

struct run_store {
    struct store *store;
    struct statement *statements[STATEMENTS];
    struct statistic_store statistics;
    struct record_store records;
    struct trace_store traces;
};

enum status run_store_open(struct store *store, struct run_store **out, struct fault *fault)
{
    enum status status = OK;
    struct run_store *writer = calloc(1, sizeof *writer);

    *out = NULL;
    if (writer == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the season's writer");
    writer->store = store;
    for (size_t i = 0; i < STATEMENTS && status == OK; i++)
        status = statement_prepare(store, sql[i], &writer->statements[i], fault);
    if (status == OK)
        status = statistic_store_begin(store, &writer->statistics, fault);
    if (status == OK)
        status = record_store_begin(store, &writer->records, fault);
    if (status == OK)
        status = trace_store_begin(store, &writer->traces, fault);
    if (status != OK) {
        run_store_close(writer);
        return status;
    }
    *out = writer;
    return OK;
}

void run_store_close(struct run_store *writer)
{
    if (writer == NULL)
        return;
    for (size_t i = 0; i < STATEMENTS; i++)
        statement_free(writer->statements[i]);
    statistic_store_end(&writer->statistics);
    record_store_end(&writer->records);
    trace_store_end(&writer->traces);
    free(writer);
}

enum status run_store_sheets(struct run_store *writer, const struct season_sheets *sheets,
                             struct fault *fault)
{
    return sheet_store_write(writer->store, sheets, fault);
}

/* ?1 .. ?14 of PUT_RUN and UPDATE_RUN. */
static enum status bind_entry(struct statement *statement, const struct run_entry *run,
                              size_t sequence, struct fault *fault)
{
    const char *const before[] = {run->facility, run->entry, run->start_text};
    const char *const after[] = {run->configuration, run->kind,     run->balance, run->zero,
                                 run->tare,          run->mounting, run->note};
    enum status status = statement_bind_text(statement, 1, run->name, fault);
    if (status == OK)
        status = statement_bind_integer(statement, 2, (int64_t)sequence, fault);
    if (status == OK)
        status = bind_texts(statement, 3, before, 3, fault);
    if (status == OK)
        status = statement_bind_real(statement, 6, run->start.seconds, fault);
    if (status == OK)
        status = bind_texts(statement, 7, after, 7, fault);
    if (status == OK)
        status = statement_bind_integer(statement, 14, (int64_t)run->line, fault);
    return status;
}

enum status run_store_update(struct run_store *writer, const struct run_entry *run, size_t sequence,
                             struct fault *fault)
{
    struct statement *statement = writer->statements[UPDATE_RUN];
    enum status status = bind_entry(statement, run, sequence, fault);
    return status != OK ? status : statement_run(statement, fault);
}

static enum status put_run(struct run_store *writer, const struct run_entry *run, size_t sequence,
                           const char *reason, const char *key, struct fault *fault)
{
    struct statement *statement = writer->statements[PUT_RUN];
    const char *const rest[] = {reason != NULL ? "quarantined" : "ok", reason != NULL ? reason : "",
                                key};
    enum status status = bind_entry(statement, run, sequence, fault);
    if (status == OK)
        status = bind_texts(statement, 15, rest, 3, fault);
    return status != OK ? status : statement_run(statement, fault);
}

static enum status drop_run(struct run_store *writer, const char *run, struct fault *fault)
{
    enum status status = statistic_store_drop(&writer->statistics, run, fault);
    if (status == OK)
        status = record_store_drop(&writer->records, run, fault);
    for (size_t i = DROP_LOGS; i <= DROP_FLAGS && status == OK; i++) {
        status = statement_bind_text(writer->statements[i], 1, run, fault);
        if (status == OK)
            status = statement_run(writer->statements[i], fault);
    }
    return status;
}

static enum status put_log(struct run_store *writer, const struct run_entry *run, size_t log,
                           const struct read_log *about, int64_t mtime_ns, struct fault *fault)
{
    struct statement *statement = writer->statements[PUT_LOG];
    const char *block = run->logs[log].block != NULL ? run->logs[log].block : "";
    const char *const texts[] = {run->logs[log].file, run->logs[log].map, block, about->digest};
    const int64_t numbers[] = {about->stamp.bytes, mtime_ns, (int64_t)about->rows,
                               (int64_t)about->rows_outside};
    enum status status = statement_bind_text(statement, 1, run->name, fault);
    if (status == OK)
        status = statement_bind_integer(statement, 2, (int64_t)log, fault);
    if (status == OK)
        status = bind_texts(statement, 3, texts, 4, fault);
    if (status == OK)
        status = bind_integers(statement, 7, numbers, 4, fault);
    return status != OK ? status : statement_run(statement, fault);
}

static enum status put_flag(struct run_store *writer, enum flag_rule rule, const char *run,
                            const char *point, const char *subject, const char *detail,
                            struct fault *fault)
{
    struct statement *statement = writer->statements[PUT_FLAG];
    const struct flag_row *row = flag_row(rule);
    const char *const texts[] = {run,   point, subject, row->code, flag_state_name(row->state),
                                 detail};
    enum status status = bind_texts(statement, 1, texts, 6, fault);
    return status != OK ? status : statement_run(statement, fault);
}

static enum status put_log_flags(struct run_store *writer, const struct run_entry *run, size_t log,
                                 const struct read_log *about, struct fault *fault)
{
    struct log_flag flags[LOG_FLAGS_MAX];
    const char *file = run->logs[log].file;
    size_t n = log_flags_of(file, about, flags);
    enum status status = OK;
    for (size_t i = 0; i < n && status == OK; i++)
        status = put_flag(writer, flags[i].rule, run->name, "", file, flags[i].detail, fault);
    return status;
}

static enum status put_flags(struct run_store *writer, const struct run_entry *run,
                             const struct read_run *read, struct fault *fault)
{
    char detail[600];
    enum status status = OK;
    for (size_t i = 0; i < read->merged.n_lacks && status == OK; i++) {
        const struct point_lack *lack = &read->merged.lacks[i];
        const char *file = run->logs[lack->log].file;
        (void)snprintf(detail, sizeof detail, "%.400s does not have the point", file);
        status = put_flag(writer, FLAG_POINT_IN_ONE_LOG, run->name,
                          read->merged.record->points[lack->point].label, file, detail, fault);
    }
    for (size_t i = 0; i < read->n_logs && status == OK; i++)
        status = put_log_flags(writer, run, i, &read->logs[i], fault);
    return status;
}

static enum status put_record(struct run_store *writer, const struct run_entry *run,
                              const struct read_run *read, struct fault *fault)
{
    const struct log_record *record = read->merged.record;
    enum status status = record_store_put(&writer->records, run->name, &read->merged, fault);
    if (status == OK)
        status = statistic_store_put(&writer->statistics, run, record, fault);
    if (status == OK)
        status = trace_store_put(&writer->traces, run->name, record, fault);
    return status != OK ? status : put_flags(writer, run, read, fault);
}

enum status run_store_replace(struct run_store *writer, const struct run_entry *run,
                              size_t sequence, const struct read_run *read, const char *key,
                              const int64_t *mtime_ns, struct fault *fault)
{
    char reason[1000];
    int is_bad = read->merged.record == NULL;
    fault_line(&read->reason, reason, sizeof reason);
    enum status status = drop_run(writer, run->name, fault);
    if (status == OK)
        status = put_run(writer, run, sequence, is_bad ? reason : NULL, key, fault);
    for (size_t i = 0; i < run->n_logs && status == OK; i++)
        if (read->logs[i].is_read)
            status = put_log(writer, run, i, &read->logs[i], mtime_ns[i], fault);
    if (status != OK)
        return status;
    if (is_bad)
        return put_flag(writer, FLAG_RUN_QUARANTINED, run->name, "", "", reason, fault);
    return put_record(writer, run, read, fault);
}

enum status run_store_touch(struct run_store *writer, const char *run, size_t log, int64_t mtime_ns,
                            struct fault *fault)
{
    struct statement *statement = writer->statements[TOUCH_LOG];
    const int64_t numbers[] = {(int64_t)log, mtime_ns};
    enum status status = statement_bind_text(statement, 1, run, fault);
    if (status == OK)
        status = bind_integers(statement, 2, numbers, 2, fault);
    return status != OK ? status : statement_run(statement, fault);
}

enum status run_store_late_flags(struct run_store *writer, struct fault *fault)
{
    return late_flags_renew(writer->store, fault);
}
