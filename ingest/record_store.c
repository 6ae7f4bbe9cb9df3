/* record_store.c - see record_store.h. */
#include "ingest/record_store.h"

#include <stdlib.h>

#include "schema/bind_row.h"
#include "schema/point_statistics.h"

/* The statements, in the order of the table below. */
enum { DROP_CHANNELS, DROP_POINTS, PUT_CHANNEL, PUT_POINT };

static const char *const sql[RECORD_STATEMENTS] = {
    [DROP_CHANNELS] = "DELETE FROM channel WHERE run = ?1",
    [DROP_POINTS] = "DELETE FROM point WHERE run = ?1",
    [PUT_CHANNEL] = "INSERT INTO channel (run, position, log_position, column_name, role, tap, "
                    "unit, written_unit, sign, covariance_position, lag_s, "
                    "lag_correlation, unlagged_correlation, lag_samples) VALUES (?1, ?2, ?3, ?4, "
                    "?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14)",
    [PUT_POINT] = "INSERT INTO point (run, point, sequence, time_s, duration_s, rows, first_line, "
                  "last_line, statistics, covariance) "
                  "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
};

enum status record_store_begin(struct store *store, struct record_store *records,
                               struct fault *fault)
{
    enum status status = OK;
    *records = (struct record_store){.blob = NULL};
    for (size_t i = 0; i < RECORD_STATEMENTS && status == OK; i++)
        status = statement_prepare(store, sql[i], &records->statements[i], fault);
    if (status != OK)
        record_store_end(records);
    return status;
}

void record_store_end(struct record_store *records)
{
    for (size_t i = 0; i < RECORD_STATEMENTS; i++)
        statement_free(records->statements[i]);
    free(records->blob);
    *records = (struct record_store){.blob = NULL};
}

enum status record_store_drop(struct record_store *records, const char *run, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = DROP_CHANNELS; i <= DROP_POINTS && status == OK; i++) {
        status = statement_bind_text(records->statements[i], 1, run, fault);
        if (status == OK)
            status = statement_run(records->statements[i], fault);
    }
    return status;
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

static enum status put_channel(struct record_store *records, const char *run,
                               const struct merged_run *merged, size_t i, size_t *covaried,
                               struct fault *fault)
{
    struct statement *statement = records->statements[PUT_CHANNEL];
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

static enum status make_blob(struct record_store *records, size_t channels, struct fault *fault)
{
    size_t wanted = channels * STATISTICS_PER_CHANNEL * sizeof(double) + 1;
    if (wanted <= records->blob_size)
        return OK;
    unsigned char *blob = realloc(records->blob, wanted);
    if (blob == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to store a point");
    records->blob = blob;
    records->blob_size = wanted;
    return OK;
}

static enum status bind_blobs(struct record_store *records, const struct log_record *record,
                              const struct log_point *point, struct fault *fault)
{
    struct statement *statement = records->statements[PUT_POINT];
    size_t n = record->n_channels;
    size_t k = record->n_covaried;
    enum status status = make_blob(records, n, fault);
    if (status != OK)
        return status;
    point_statistics_pack(point->statistics, n, records->blob);
    status = statement_bind_blob(statement, 9, records->blob,
                                 n * STATISTICS_PER_CHANNEL * sizeof(double), fault);
    if (status == OK && point->covariance != NULL)
        status = statement_bind_blob(statement, 10, point->covariance,
                                     k * k * sizeof *point->covariance, fault);
    return status;
}

static enum status put_point(struct record_store *records, const char *run,
                             const struct log_record *record, size_t i, struct fault *fault)
{
    struct statement *statement = records->statements[PUT_POINT];
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
        status = bind_blobs(records, record, point, fault);
    return status != OK ? status : statement_run(statement, fault);
}

enum status record_store_put(struct record_store *records, const char *run,
                             const struct merged_run *merged, struct fault *fault)
{
    const struct log_record *record = merged->record;
    size_t covaried = 0;
    enum status status = OK;
    for (size_t i = 0; i < record->n_channels && status == OK; i++)
        status = put_channel(records, run, merged, i, &covaried, fault);
    for (size_t i = 0; i < record->n_points && status == OK; i++)
        status = put_point(records, run, record, i, fault);
    return status;
}
