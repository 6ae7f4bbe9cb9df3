/* channel_reader.c - see channel_reader.h. */
#include "ingest/channel_reader.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/cell_refusal.h"
#include "ingest/decoded_source.h"
#include "ingest/point_samples.h"
#include "ingest/row_time.h"
#include "ingest/sample_statistics.h"
#include "ingest/sentinel_watch.h"

/* One log being read. */
struct log_reader {
    const struct log_reading *reading;
    struct units *units;
    struct problems *problems;
    size_t most;   /* problems after which reading stops */
    size_t before; /* problems there were already */
    struct decoded_source *decoded;
    struct text_table *table;
    struct header *header;
    struct column_binding *binding;
    struct log_record *record;
    struct point_samples *samples;
    struct cell_reader cells;
    struct row_time time;
    struct sentinel_watch sentinels;
    double *row;             /* the row's values, one a channel */
    size_t capacity;         /* points there is room for */
    struct log_point *point; /* that is being filled; NULL between points */
    char by_row[24];         /* label of a point numbered by row */
};

static int is_full(const struct log_reader *reader)
{
    return reader->problems->n - reader->before >= reader->most;
}

static enum status no_memory(const struct log_reader *reader, struct fault *fault)
{
    return FAIL(fault, NO_MEMORY, "no memory for the points of '%s'",
                text_table_name(reader->table));
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
        return no_memory(reader, fault);
    record->n_channels = n;
    for (size_t i = 0; i < n; i++) {
        record->channels[i] = reader->binding->channels[i].about;
        reader->binding->channels[i].about = (struct log_channel){.role = record->channels[i].role};
        if (role_in_covariance(record->channels[i].role))
            record->covaried[record->n_covaried++] = i;
    }
    return point_samples_make(n, record->covaried, record->n_covaried, POINT_SAMPLES_MAX,
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
    reader->cells = cell_reader_for(reader->reading->map);
    reader->time = row_time_for(reader->binding, reader->reading->map);
    reader->record->clock = reader->time.clock;
    return status;
}

static enum status finish_point(struct log_reader *reader, struct fault *fault)
{
    struct log_point *point = reader->point;
    if (point == NULL)
        return OK;
    reader->point = NULL;
    row_time_finish(&reader->time, point);
    if (reader->reading->map->rows == ROWS_POINTS)
        return OK;
    return point_samples_finish(reader->samples, point->statistics, point->covariance, fault);
}

static enum status make_room(struct log_reader *reader, struct fault *fault)
{
    struct log_record *record = reader->record;
    if (record->points != NULL && record->n_points < reader->capacity)
        return OK;
    size_t capacity = reader->capacity > 0 ? 2 * reader->capacity : 64;
    struct log_point *points = realloc(record->points, capacity * sizeof *points);
    if (points == NULL)
        return no_memory(reader, fault);
    record->points = points;
    reader->capacity = capacity;
    return OK;
}

static enum status begin_point(struct log_reader *reader, const struct table_row *row,
                               const struct table_cell *label, struct fault *fault)
{
    struct log_record *record = reader->record;
    size_t k = record->n_covaried;
    enum status status = make_room(reader, fault);
    if (status != OK)
        return status;
    struct log_point *point = &record->points[record->n_points++];
    *point = (struct log_point){.first_line = row->line};
    point->label = strndup(label->text, label->length);
    point->statistics = calloc(record->n_channels, sizeof *point->statistics);
    if (reader->reading->map->rows == ROWS_SAMPLES && k > 0) {
        point->covariance = calloc(k * k, sizeof *point->covariance);
        if (point->covariance == NULL)
            return no_memory(reader, fault);
    }
    if (point->label == NULL || point->statistics == NULL)
        return no_memory(reader, fault);
    reader->point = point;
    return OK;
}

static struct table_cell row_label(struct log_reader *reader, const struct table_row *row)
{
    if (!reader->reading->map->point_by_row)
        return row->cells[reader->binding->point_cell];
    int length = snprintf(reader->by_row, sizeof reader->by_row, "%zu", reader->record->rows + 1);
    return (struct table_cell){reader->by_row, (size_t)length};
}

static enum status bad_label(const struct log_reader *reader, const struct log_point *same,
                             struct fault *fault)
{
    enum status status = OK;
    if (same == NULL)
        status =
            FAIL(fault, BAD_INPUT,
                 "the row has no point label; limit: every row belongs to a point; label it or "
                 "take it out");
    else if (reader->reading->map->rows == ROWS_POINTS)
        status = FAIL(fault, BAD_INPUT,
                      "point '%.80s' is on line %zu already; limit: one row a point; rename one",
                      same->label, same->first_line);
    else
        status = FAIL(fault, BAD_INPUT,
                      "point '%.80s' comes back; it was on lines %zu to %zu; limit: the rows of a "
                      "point follow each other; give the repeat its own label",
                      same->label, same->first_line, same->last_line);
    text_table_place(reader->table, reader->binding->point_cell, fault);
    return status;
}

/* The row's point becomes the last one of the record. */
static enum status enter_point(struct log_reader *reader, const struct table_row *row,
                               struct fault *fault)
{
    struct log_record *record = reader->record;
    struct table_cell label = row_label(reader, row);
    const struct log_point *last = reader->point;
    int is_sample = reader->reading->map->rows == ROWS_SAMPLES;
    if (label.length == 0)
        return bad_label(reader, NULL, fault);
    if (is_sample && last != NULL && strncmp(last->label, label.text, label.length) == 0 &&
        last->label[label.length] == '\0')
        return OK;
    const struct log_point *same = NULL;
    if (!reader->reading->map->point_by_row)
        same = log_record_point(record, label.text, label.length);
    if (same != NULL)
        return bad_label(reader, same, fault);
    enum status status =
        cell_refusal_label(reader->table, reader->binding->point_cell, &label, fault);
    if (status == OK)
        status = finish_point(reader, fault);
    return status != OK ? status : begin_point(reader, row, &label, fault);
}

static enum status bad_number(const struct log_reader *reader, const struct table_row *row,
                              size_t cell, struct fault *fault)
{
    return cell_refusal_number(&reader->cells, reader->header, reader->table, row, cell, fault);
}

static enum status take_samples(struct log_reader *reader, const struct table_row *row,
                                struct fault *fault)
{
    for (size_t i = 0; i < reader->binding->n; i++) {
        const struct bound_channel *channel = &reader->binding->channels[i];
        double value = NAN;
        if (cell_value(&reader->cells, &row->cells[channel->cell], &value) >= CELL_OUT_OF_RANGE)
            return bad_number(reader, row, channel->cell, fault);
        if (sentinel_is_possible(value))
            sentinel_watch_take(&reader->sentinels, i, value);
        reader->row[i] = channel->factor * value + channel->offset;
    }
    return point_samples_add(reader->samples, reader->row, fault);
}

/* The number of samples behind an averaged row; 1 when the log does not say. */
static enum status take_count(const struct log_reader *reader, const struct table_row *row,
                              double *count, struct fault *fault)
{
    size_t cell = reader->binding->count_cell;
    *count = 1;
    if (cell == NO_CELL)
        return OK;
    enum cell_outcome outcome = cell_value(&reader->cells, &row->cells[cell], count);
    if (outcome >= CELL_OUT_OF_RANGE || (outcome == CELL_NUMBER && !(*count >= 1)))
        return bad_number(reader, row, cell, fault);
    if (outcome == CELL_MISSING)
        *count = 1;
    return OK;
}

static enum status take_averages(struct log_reader *reader, const struct table_row *row,
                                 struct fault *fault)
{
    struct log_point *point = reader->point;
    double count = 1;
    enum status status = take_count(reader, row, &count, fault);
    for (size_t i = 0; i < reader->binding->n && status == OK; i++) {
        const struct bound_channel *channel = &reader->binding->channels[i];
        double value = NAN;
        double sd = NAN;
        if (cell_value(&reader->cells, &row->cells[channel->cell], &value) >= CELL_OUT_OF_RANGE)
            return bad_number(reader, row, channel->cell, fault);
        if (sentinel_is_possible(value))
            sentinel_watch_take(&reader->sentinels, i, value);
        if (channel->sd_cell != NO_CELL &&
            (cell_value(&reader->cells, &row->cells[channel->sd_cell], &sd) >= CELL_OUT_OF_RANGE ||
             sd < 0))
            return bad_number(reader, row, channel->sd_cell, fault);
        point->statistics[i] = averaged_statistics(channel->factor * value + channel->offset,
                                                   fabs(channel->sd_factor) * sd, count);
    }
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

static enum status take_row(struct log_reader *reader, const struct table_row *row,
                            struct fault *fault)
{
    if (header_is_repeated(reader->header, row))
        return repeated_header(reader, row, fault);
    enum status status = enter_point(reader, row, fault);
    if (status == OK)
        status = row_time_take(&reader->time, reader->binding, &reader->cells, reader->table, row,
                               fault);
    if (status == OK && reader->reading->map->rows == ROWS_POINTS)
        status = take_averages(reader, row, fault);
    else if (status == OK)
        status = take_samples(reader, row, fault);
    struct log_record *record = reader->record;
    record->rows++;
    record->unterminated_line = row->terminated ? 0 : row->line;
    if (reader->point != NULL) {
        reader->point->rows++;
        reader->point->last_line = row->line;
    }
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
    enum status status = finish_point(reader, fault);
    reader->record->gaps = reader->time.watch.so_far;
    sentinel_watch_finish(&reader->sentinels, reader->record);
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
                                            reading->map->trailing_cells_ignored};

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
