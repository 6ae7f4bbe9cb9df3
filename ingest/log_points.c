/* log_points.c - which point a row belongs to; see log_reader.h. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/cell_refusal.h"
#include "ingest/log_reader.h"

enum status log_reader_no_memory(const struct log_reader *reader, struct fault *fault)
{
    return FAIL(fault, NO_MEMORY, "no memory for the points of '%s'",
                text_table_name(reader->table));
}

enum status log_points_finish(struct log_reader *reader, struct fault *fault)
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
        return log_reader_no_memory(reader, fault);
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
            return log_reader_no_memory(reader, fault);
    }
    if (point->label == NULL || point->statistics == NULL)
        return log_reader_no_memory(reader, fault);
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
enum status log_points_enter(struct log_reader *reader, const struct table_row *row,
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
        status = log_points_finish(reader, fault);
    return status != OK ? status : begin_point(reader, row, &label, fault);
}
