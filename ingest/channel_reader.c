/* channel_reader.c - see channel_reader.h. */
#include "ingest/channel_reader.h"

#include <stdlib.h>

#include "ingest/decoded_source.h"
#include "ingest/log_reader.h"

static int is_full(const struct log_reader *reader)
{
    return reader->problems->n - reader->before >= reader->most;
}

/* Hands the channels' descriptions over to the record. */
static enum status describe_channels(struct log_reader *reader, struct fault *fault)
{
    struct log_record *record = reader->record;
    size_t n = reader->binding->n;
    record->channels = calloc(n, sizeof *record->channels);
    record->covaried = calloc(n, sizeof *record->covaried);
    reader->row = calloc(n, sizeof *reader->row);
    if (record->channels == NULL || record->covaried == NULL || reader->row == NULL)
        return log_reader_no_memory(reader, fault);
    record->n_channels = n;
    for (size_t i = 0; i < n; i++) {
        record->channels[i] = reader->binding->channels[i].about;
        reader->binding->channels[i].about = (struct log_channel){.role = record->channels[i].role};
        if (role_in_covariance(record->channels[i].role))
            record->covaried[record->n_covaried++] = i;
    }
    return point_samples_make(n, NULL, record->covaried, record->n_covaried, POINT_SAMPLES_MAX,
                              &reader->samples, fault);
}

static enum status check_marks(const struct log_reader *reader, struct fault *fault)
{
    if (reader->reading->map->decimal_mark != text_table_delimiter(reader->table))
        return OK;
    enum status status = FAIL(fault, BAD_INPUT,
                              "the comma is both delimiter and decimal mark here; limit: one of "
                              "them; export with semicolons, or correct the channel map");
    header_place(reader->header, 0, fault);
    return status;
}

static enum status read_head(struct log_reader *reader, struct fault *fault)
{
    enum status status = header_read(reader->table, reader->reading->map, &reader->header, fault);
    if (status == OK)
        status = check_marks(reader, fault);
    if (status != OK)
        return problems_take(reader->problems, status, fault);
    status = column_binding_make(reader->header, reader->reading, reader->units, reader->problems,
                                 &reader->binding, fault);
    if (status != OK || reader->binding == NULL)
        return status;
    status = describe_channels(reader, fault);
    if (status == OK)
        status = sentinel_watch_make(&reader->sentinels, reader->binding->n, fault);
    if (status == OK)
        status = hold_watch_make(&reader->holds, reader->binding->n, fault);
    if (status == OK)
        status = spike_watch_make(&reader->watch.spikes, reader->binding->n, fault);
    if (status == OK)
        status = lag_watch_make(&reader->watch.lags, reader->record->channels, reader->binding->n,
                                fault);
    if (status == OK)
        status = trace_watch_make(&reader->watch.traces, reader->record->channels,
                                  reader->binding->n, reader->reading->keep_samples, fault);
    for (size_t i = 0; i < reader->binding->n && status == OK; i++)
        hold_watch_declare(&reader->holds, i, reader->binding->channels[i].hold);
    reader->sweep =
        sweep_watch_for(reader->reading->map->sweep.window, reader->reading->map->sweep.settle);
    reader->cells = cell_reader_for(reader->reading->map);
    reader->time = row_time_for(reader->binding, reader->reading->map);
    reader->record->clock = reader->time.clock;
    return status;
}

static enum status repeated_header(const struct log_reader *reader, const struct table_row *row,
                                   struct fault *fault)
{
    enum status status = FAIL(
        fault, BAD_INPUT,
        "line %zu is the header of line %zu over again: two logs were put together; limit: one "
        "log a file; take them apart and name both in the run sheet",
        row->line, reader->header->line);
    text_table_place(reader->table, 0, fault);
    return status;
}

/* The row's time and cells into its point; a row of no point is counted, and its cells mean nothing. */
static enum status take_values(struct log_reader *reader, const struct table_row *row,
                               struct fault *fault)
{
    if (reader->point == NULL) {
        reader->record->rows_outside++;
        return OK;
    }
    reader->record->rows_read++;
    enum status status = row_time_add(&reader->time, reader->binding, row->line, fault);
    if (status == OK && reader->reading->map->rows == ROWS_POINTS)
        status = log_cells_averages(reader, row, fault);
    else if (status == OK)
        status = log_cells_samples(reader, row, fault);
    reader->point->rows++;
    reader->point->last_line = row->line;
    return status;
}

static enum status take_row(struct log_reader *reader, const struct table_row *row,
                            struct fault *fault)
{
    if (header_is_repeated(reader->header, row))
        return repeated_header(reader, row, fault);
    enum status status =
        row_time_read(&reader->time, reader->binding, &reader->cells, reader->table, row, fault);
    if (status == OK)
        status = log_points_enter(reader, row, fault);
    if (status == OK)
        status = take_values(reader, row, fault);
    reader->record->rows++;
    reader->record->unterminated_line = row->terminated ? 0 : row->line;
    return status;
}

/* A row without line feed may have lost digits. One sample more or less does not matter; a row that is
 * a whole point, or all there is, does: it is taken, and flagged. */
static int may_leave_out(const struct log_reader *reader)
{
    return reader->reading->map->rows == ROWS_SAMPLES && reader->record->rows > 0;
}

static enum status finish_log(struct log_reader *reader, struct fault *fault)
{
    enum status status = log_points_finish(reader, fault);
    if (status != OK || reader->problems->n > reader->before)
        return status;
    if (reader->record->n_points == 0)
        return problems_take(reader->problems, log_points_none(reader, fault), fault);
    hold_watch_finish_log(&reader->holds, reader->record);
    lag_watch_finish_log(&reader->watch.lags, reader->record);
    reader->record->gaps = reader->time.watch.so_far;
    sentinel_watch_finish(&reader->sentinels, reader->record);
    status = spike_watch_finish_log(&reader->watch.spikes, reader->record, fault);
    if (status == OK)
        status = trace_watch_finish_log(&reader->watch.traces, reader->record, fault);
    return status;
}

static enum status read_rows(struct log_reader *reader, struct fault *fault)
{
    for (;;) {
        struct table_row row;
        int got = 0;
        enum status status = text_table_next(reader->table, &row, &got, fault);
        if (status == OK && !got)
            break;
        if (status == OK && !row.terminated && may_leave_out(reader)) {
            reader->record->unterminated_line = row.line;
            reader->record->left_out = 1;
            continue;
        }
        if (status == OK)
            status = take_row(reader, &row, fault);
        status = problems_take(reader->problems, status, fault);
        if (status != OK || is_full(reader))
            return status;
    }
    if (reader->record->rows > 0)
        return finish_log(reader, fault);
    if (reader->problems->n > reader->before) /* why there is none has been told */
        return OK;
    enum status status =
        FAIL(fault, BAD_INPUT, "the log has no row of data; limit: one at least; check the file");
    fault_where(fault, "%s:%zu", text_table_name(reader->table), reader->header->line);
    return problems_take(reader->problems, status, fault);
}

static void reader_end(struct log_reader *reader)
{
    text_table_close(reader->table);
    header_free(reader->header);
    column_binding_free(reader->binding);
    log_record_free(reader->record);
    point_samples_free(reader->samples);
    sentinel_watch_free(&reader->sentinels);
    hold_watch_free(&reader->holds);
    spike_watch_free(&reader->watch.spikes);
    lag_watch_free(&reader->watch.lags);
    trace_watch_free(&reader->watch.traces);
    label_index_end(&reader->labels);
    row_time_end(&reader->time);
    decoded_source_close(reader->decoded);
    free(reader->row);
}

enum status channel_reader_read(struct byte_source source, const char *name,
                                const struct log_reading *reading, struct units *units, size_t most,
                                struct problems *problems, struct log_record **record,
                                struct fault *fault)
{
    struct fault own = {.status =
                            OK}; /* a problem needs its sentence even when the caller wants none */
    struct log_reader reader = {.reading = reading,
                                .units = units,
                                .problems = problems,
                                .most = most,
                                .before = problems->n};
    const struct table_format format = {.name = name,
                                        .delimiter = reading->map->delimiter,
                                        .preamble_rows = reading->map->preamble_rows,
                                        .map = reading->map->name,
                                        .trailing_cells_ignored =
                                            reading->map->trailing_cells_ignored,
                                        .columns = reading->map->n_names,
                                        .comment = reading->map->comment,
                                        .blocks = reading->map->blocks,
                                        .block = reading->block};

    *record = NULL;
    if (fault == NULL)
        fault = &own;
    reader.record = calloc(1, sizeof *reader.record);
    if (reader.record == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to read '%s'", name);
    enum status status =
        decoded_source_open(source, reading->map->encoding, name, &reader.decoded, fault);
    if (status == OK)
        status =
            text_table_open(decoded_source_bytes(reader.decoded), &format, &reader.table, fault);
    if (status == OK)
        status = read_head(&reader, fault);
    if (status == OK && reader.binding != NULL)
        status = read_rows(&reader, fault);
    if (status == OK && problems->n == reader.before) {
        *record = reader.record;
        reader.record = NULL; /* handed over */
    }
    reader_end(&reader);
    return status;
}
