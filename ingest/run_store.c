/* run_store.c - see run_store.h. */
#include "ingest/run_store.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/log_flags.h"
#include "ingest/sheet_store.h"
#include "ingest/statistic_store.h"
#include "schema/flag.h"

/* The statements, in the order of the table below. */
enum {
    PUT_RUN,
    UPDATE_RUN,
    DROP_LOGS,
    DROP_CHANNELS,
    DROP_POINTS,
    DROP_FLAGS,
    PUT_LOG,
    PUT_CHANNEL,
    PUT_POINT,
    PUT_FLAG,
    TOUCH_LOG,
    STATEMENTS
};

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
    [DROP_CHANNELS] = "DELETE FROM channel WHERE run = ?1",
    [DROP_POINTS] = "DELETE FROM point WHERE run = ?1",
    [DROP_FLAGS] = "DELETE FROM flag_row WHERE run = ?1 AND reduction IS NULL "
                   "AND rule <> 'duplicate-log'",
    [PUT_LOG] = "INSERT INTO log (run, position, file, map, block, sha256, bytes, mtime_ns, rows, "
                "rows_in_no_point) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
    [PUT_CHANNEL] = "INSERT INTO channel (run, position, log_position, column_name, role, tap, "
                    "unit, written_unit, sign, covariance_position, lag_s, "
                    "lag_correlation, unlagged_correlation, lag_samples) VALUES (?1, ?2, ?3, ?4, "
                    "?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14)",
    [PUT_POINT] = "INSERT INTO point (run, point, sequence, time_s, duration_s, rows, first_line, "
                  "last_line, statistics, covariance) "
                  "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
    [PUT_FLAG] = "INSERT INTO flag_row (run, point, subject, rule, state, unit, detail) "
                 "VALUES (?1, ?2, ?3, ?4, ?5, '', ?6)",
    [TOUCH_LOG] = "UPDATE log SET mtime_ns = ?3 WHERE run = ?1 AND position = ?2",
};

struct run_store {
    struct store *store;
    struct statement *statements[STATEMENTS];
    struct statistic_store statistics;
    unsigned char *blob; /* room for the statistics of a point */
    size_t blob_size;
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
    free(writer->blob);
    free(writer);
}

enum status run_store_sheets(struct run_store *writer, const struct season_sheets *sheets,
                             struct fault *fault)
{
    return sheet_store_write(writer->store, sheets, fault);
}

/* Binds texts one after the other from a position. */
static enum status bind_texts(struct statement *statement, int position, const char *const *texts,
                              size_t n, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; i < n && status == OK; i++)
        status = statement_bind_text(statement, position + (int)i, texts[i], fault);
    return status;
}

static enum status bind_integers(struct statement *statement, int position, const int64_t *values,
                                 size_t n, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; i < n && status == OK; i++)
        status = statement_bind_integer(statement, position + (int)i, values[i], fault);
    return status;
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

static enum status bind_lag(struct statement *statement, const struct wind_lag *lag,
                            struct fault *fault)
{
    const double numbers[] = {lag->lag, lag->correlation, lag->unlagged, lag->samples};
    enum status status = OK;
    for (int i = 0; i < 4 && status == OK; i++)
        status = statement_bind_real(statement, 11 + i, numbers[i], fault);
    return status;
}

static enum status put_channel(struct run_store *writer, const char *run,
                               const struct merged_run *merged, size_t i, size_t *covaried,
                               struct fault *fault)
{
    struct statement *statement = writer->statements[PUT_CHANNEL];
    const struct log_record *record = merged->record;
    const struct log_channel *channel = &record->channels[i];
    const char *const texts[] = {channel->column, role_name(channel->role), channel->tap,
                                 channel->unit, channel->written_unit};
    const int64_t numbers[] = {(int64_t)i, (int64_t)merged->channel_log[i]};
    enum status status = statement_bind_text(statement, 1, run, fault);
    if (status == OK)
        status = bind_integers(statement, 2, numbers, 2, fault);
    if (status == OK)
        status = bind_texts(statement, 4, texts, 5, fault);
    if (status == OK)
        status = statement_bind_real(statement, 9, channel->sign, fault);
    /* The covaried channels stand in the order of the channels. */
    if (status == OK && *covaried < record->n_covaried && record->covaried[*covaried] == i)
        status = statement_bind_integer(statement, 10, (int64_t)(*covaried)++, fault);
    if (status == OK)
        status = bind_lag(statement, &channel->follows_wind, fault);
    return status != OK ? status : statement_run(statement, fault);
}

static enum status make_blob(struct run_store *writer, size_t channels, struct fault *fault)
{
    size_t wanted = channels * STATISTICS_PER_CHANNEL * sizeof(double) + 1;
    if (wanted <= writer->blob_size)
        return OK;
    unsigned char *blob = realloc(writer->blob, wanted);
    if (blob == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to store a point");
    writer->blob = blob;
    writer->blob_size = wanted;
    return OK;
}

static enum status bind_blobs(struct run_store *writer, const struct log_record *record,
                              const struct log_point *point, struct fault *fault)
{
    struct statement *statement = writer->statements[PUT_POINT];
    size_t n = record->n_channels;
    size_t k = record->n_covaried;
    enum status status = make_blob(writer, n, fault);
    if (status != OK)
        return status;
    point_statistics_pack(point->statistics, n, writer->blob);
    status = statement_bind_blob(statement, 9, writer->blob,
                                 n * STATISTICS_PER_CHANNEL * sizeof(double), fault);
    if (status == OK && point->covariance != NULL)
        status = statement_bind_blob(statement, 10, point->covariance,
                                     k * k * sizeof *point->covariance, fault);
    return status;
}

static enum status put_point(struct run_store *writer, const char *run,
                             const struct log_record *record, size_t i, struct fault *fault)
{
    struct statement *statement = writer->statements[PUT_POINT];
    const struct log_point *point = &record->points[i];
    const int64_t numbers[] = {(int64_t)point->rows, (int64_t)point->first_line,
                               (int64_t)point->last_line};
    enum status status = statement_bind_text(statement, 1, run, fault);
    if (status == OK)
        status = statement_bind_text(statement, 2, point->label, fault);
    if (status == OK)
        status = statement_bind_integer(statement, 3, (int64_t)i, fault);
    if (status == OK)
        status = statement_bind_real(statement, 4, point->time, fault);
    if (status == OK)
        status = statement_bind_real(statement, 5, point->duration, fault);
    if (status == OK)
        status = bind_integers(statement, 6, numbers, 3, fault);
    if (status == OK)
        status = bind_blobs(writer, record, point, fault);
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
    size_t covaried = 0;
    enum status status = OK;
    for (size_t i = 0; i < record->n_channels && status == OK; i++)
        status = put_channel(writer, run->name, &read->merged, i, &covaried, fault);
    for (size_t i = 0; i < record->n_points && status == OK; i++)
        status = put_point(writer, run->name, record, i, fault);
    if (status == OK)
        status = statistic_store_put(&writer->statistics, run, record, fault);
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

/* The times of a run's first and last point. */
static const char span_sql[] =
    "CREATE TEMP VIEW IF NOT EXISTS span AS SELECT r.run, r.sequence, r.facility, "
    "min(p.time_s) AS earliest, max(p.time_s) AS latest FROM run AS r "
    "JOIN point AS p ON p.run = r.run WHERE r.state = 'ok' GROUP BY r.run";

/* The rows (run, file, detail) that a rule's flags are to be: logs that another run has as well,
 * runs that last beyond the beginning of another one, wind-on runs none of whose points has a duration,
 * which only a time gives, and decisions on runs that nothing could be read of. */
static const struct {
    enum flag_rule rule;
    const char *wanted;
} late_flags[] = {
    {FLAG_DUPLICATE_LOG,
     "SELECT a.run AS run, a.file AS file, a.file || ' has the same bytes as a log of run ' || "
     "min(b.run) AS detail FROM log AS a "
     "JOIN log AS b ON b.sha256 = a.sha256 AND b.block = a.block AND b.run <> a.run GROUP BY "
     "a.run, a.position"},
    {FLAG_RUNS_OVERLAP,
     "SELECT a.run AS run, '' AS file, 'its points go on from ' || datetime(a.earliest, "
     "'unixepoch') "
     "|| ' to ' || datetime(a.latest, 'unixepoch') || ' UTC; in that time ' || count(*) || ' other "
     "run' || iif(count(*) > 1, 's begin, first ', ' begins, ') || b.run AS detail, "
     "min(b.sequence) FROM span AS a JOIN span AS b ON b.facility = a.facility "
     "AND b.earliest > a.earliest AND b.earliest < a.latest GROUP BY a.run"},
    {FLAG_TIME_MISSING,
     "SELECT run, '' AS file, 'the log tells no time: every point has the run''s start' AS detail "
     "FROM run WHERE kind = 'wind_on' AND state = 'ok' AND run NOT IN "
     "(SELECT run FROM point WHERE duration_s IS NOT NULL)"},
    {FLAG_DECISION_WITHOUT_EFFECT,
     "SELECT d.run AS run, d.point AS file, 'to ' || d.decision || ' it, as ' || d.who || ' "
     "decided "
     "on ' || d.decided || ', changes nothing: the run is quarantined' AS detail "
     "FROM decision AS d JOIN run AS r ON r.run = d.run WHERE r.state = 'quarantined'"},
};

/* Flags that are right already stay. */
static enum status renew_flags(struct run_store *writer, size_t i, struct fault *fault)
{
    const struct flag_row *row = flag_row(late_flags[i].rule);
    const char *wanted = late_flags[i].wanted;
    char text[2400];
    (void)snprintf(
        text, sizeof text,
        "DELETE FROM flag_row WHERE rule = '%s' AND reduction IS NULL AND (run, subject, detail) "
        "NOT IN "
        "(SELECT run, file, detail FROM (%s));"
        "INSERT INTO flag_row (run, point, subject, rule, state, unit, detail) "
        "SELECT run, '', file, '%s', '%s', '', detail FROM (%s) "
        "WHERE (run, file, detail) NOT IN "
        "(SELECT run, subject, detail FROM flag_row WHERE rule = '%s' AND reduction IS NULL) "
        "ORDER BY run;",
        row->code, wanted, row->code, flag_state_name(row->state), wanted, row->code);
    return store_execute(writer->store, text, fault);
}

enum status run_store_late_flags(struct run_store *writer, struct fault *fault)
{
    enum status status = store_execute(writer->store, span_sql, fault);
    for (size_t i = 0; i < sizeof late_flags / sizeof late_flags[0] && status == OK; i++)
        status = renew_flags(writer, i, fault);
    return status;
}
