/* log_points.c - which point a row belongs to; see log_reader.h. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/cell_refusal.h"
#include "ingest/log_reader.h"
#include "ingest/recording_flag.h"

enum status log_reader_no_memory(const struct log_reader *reader, struct fault *fault)
{
    return FAIL(fault, NO_MEMORY, "no memory for the points of '%s'",
                text_table_name(reader->table));
}

static int is_sweep(const struct log_reader *reader)
{
    return reader->binding->sweep_channel != NO_CELL;
}

static void leave_out(struct log_reader *reader, struct log_point *point)
{
    struct log_record *record = reader->record;
    if (point->rows > reader->fullest)
        reader->fullest = point->rows;
    record->short_points++;
    record->rows_outside += point->rows;
    log_point_free(point);
    record->n_points--;
}

enum status log_points_finish(struct log_reader *reader, struct fault *fault)
{
    struct log_point *point = reader->point;
    enum status status = OK;
    if (point == NULL)
        return OK;
    reader->point = NULL;
    row_time_finish(&reader->time, point);
    if (reader->reading->map->rows == ROWS_POINTS)
        return OK;
    int is_left_out =
        is_sweep(reader) && (double)point->rows < reader->reading->map->sweep.least_rows;
    reader->watch.point = reader->record->n_points - 1;
    reader->watch.step =
        point->rows > 1 ? point->duration / (double)(point->rows - 1) : (double)NAN;
    status = point_samples_finish(reader->samples, is_left_out ? NULL : &reader->watch,
                                  point->statistics, point->covariance, fault);
    if (status != OK)
        return status;
    hold_watch_finish(&reader->holds, point->statistics);
    if (is_left_out)
        leave_out(reader, point);
    return OK;
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

/* Label of a point that has no name: its number. */
static struct table_cell number(struct log_reader *reader, size_t n)
{
    int length = snprintf(reader->counted, sizeof reader->counted, "%zu", n);
    return (struct table_cell){reader->counted, (size_t)length};
}

static struct table_cell row_label(struct log_reader *reader, const struct table_row *row)
{
    if (!reader->reading->map->point_by_row)
        return row->cells[reader->binding->point_cell];
    return number(reader, reader->record->rows + 1);
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
                      "point '%.80s' comes back after '%.80s'; it was on lines %zu to %zu; limit: "
                      "the rows of a point follow each other; give the repeat its own label",
                      same->label, reader->record->points[reader->record->n_points - 1].label,
                      same->first_line, same->last_line);
    text_table_place(reader->table, reader->binding->point_cell, fault);
    return status;
}

/* The rows of a point that stood further up already are no point of their own: they are told once. */
static enum status come_back(struct log_reader *reader, const struct log_point *same,
                             struct fault *fault)
{
    int is_told = reader->returned == same->first_line;
    enum status status = log_points_finish(reader, fault);
    reader->returned = same->first_line;
    return status != OK || is_told ? status : bad_label(reader, same, fault);
}

static enum status enter_labelled(struct log_reader *reader, const struct table_row *row,
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
        same = label_index_find(&reader->labels, record->points, label.text, label.length);
    if (same != NULL && is_sample)
        return come_back(reader, same, fault);
    if (same != NULL)
        return bad_label(reader, same, fault);
    reader->returned = 0;
    enum status status =
        cell_refusal_label(reader->table, reader->binding->point_cell, &label, fault);
    if (status == OK)
        status = log_points_finish(reader, fault);
    if (status == OK)
        status = begin_point(reader, row, &label, fault);
    if (status == OK && !label_index_add(&reader->labels, record->points, record->n_points - 1))
        status = log_reader_no_memory(reader, fault);
    return status;
}

/* The row belongs to a point without a name, or to none; is_new: not to the one that is being filled. */
static enum status enter_numbered(struct log_reader *reader, const struct table_row *row,
                                  int belongs, int is_new, struct fault *fault)
{
    enum status status = OK;
    if (!belongs || is_new)
        status = log_points_finish(reader, fault);
    if (status != OK || !belongs || reader->point != NULL)
        return status;
    struct table_cell label = number(reader, reader->record->n_points + 1);
    return begin_point(reader, row, &label, fault);
}

static enum status enter_recorded(struct log_reader *reader, const struct table_row *row,
                                  struct fault *fault)
{
    size_t cell = reader->binding->recording_cell;
    double state = recording_flag_state(&reader->cells, &row->cells[cell]);
    if (state < 0)
        return cell_refusal_recording(reader->header, reader->table, row, cell, fault);
    int is_new = state != reader->recorded;
    reader->recorded = state;
    return enter_numbered(reader, row, state > 0, is_new, fault);
}

static enum status enter_settled(struct log_reader *reader, const struct table_row *row,
                                 struct fault *fault)
{
    const struct bound_channel *channel =
        &reader->binding->channels[reader->binding->sweep_channel];
    const struct table_cell *cell = &row->cells[channel->cell];
    double value = (double)NAN;
    int belongs = 0;
    if (channel->hold == HOLD_BLANK && cell->length == 0)
        belongs = sweep_watch_blank(&reader->sweep, reader->time.now);
    else if (cell_value(&reader->cells, cell, &value) >= CELL_OUT_OF_RANGE)
        return cell_refusal_number(&reader->cells, reader->header, reader->table, row,
                                   channel->cell, fault);
    else
        belongs = sweep_watch_take(&reader->sweep, channel->factor * value + channel->offset,
                                   reader->time.now);
    int is_new = reader->sweep.stay != reader->stay;
    reader->stay = reader->sweep.stay;
    return enter_numbered(reader, row, belongs, is_new, fault);
}

enum status log_points_enter(struct log_reader *reader, const struct table_row *row,
                             struct fault *fault)
{
    if (reader->binding->recording_cell != NO_CELL)
        return enter_recorded(reader, row, fault);
    if (is_sweep(reader))
        return enter_settled(reader, row, fault);
    return enter_labelled(reader, row, fault);
}

static enum status never_recorded(const struct log_reader *reader, struct fault *fault)
{
    size_t cell = reader->binding->recording_cell;
    enum status status =
        FAIL(fault, BAD_INPUT,
             "column '%.80s' is off in all %zu rows: the log has no point; limit: one row that is "
             "recorded; give the role recording to another column, or the run another log",
             reader->header->cells[cell].name, reader->record->rows);
    header_place(reader->header, cell, fault);
    return status;
}

/* A length or an angle as people write them. */
static const char *common_unit(enum attitude_axis axis, double *factor)
{
    int is_length = strcmp(attitude_axis_unit(axis), "m") == 0;
    *factor = is_length ? 1000 : 57.295779513082323; /* 180 / pi */
    return is_length ? "mm" : "deg";
}

static enum status never_settled(const struct log_reader *reader, struct fault *fault)
{
    const struct map_sweep *sweep = &reader->reading->map->sweep;
    const struct bound_channel *channel =
        &reader->binding->channels[reader->binding->sweep_channel];
    double factor = 1;
    const char *unit = common_unit(sweep->of, &factor);
    enum status status = OK;
    if (reader->record->short_points > 0)
        status =
            FAIL(fault, BAD_INPUT,
                 "sweep of %s: the log has no point, because nothing stays long enough in one "
                 "window of %.6g %s: after settle the longest of %zu stays has %zu rows; limit: "
                 "least_rows, %.0f; lower it, shorten settle, widen window, or move more slowly",
                 attitude_axis_words(sweep->of), factor * sweep->window, unit,
                 reader->record->short_points, reader->fullest, sweep->least_rows);
    else
        status = FAIL(fault, BAD_INPUT,
                      "sweep of %s: the log has no point, because nothing stays in one window of "
                      "%.6g %s for %.6g s; the longest stay is %.6g s; limit: settle; widen "
                      "window, shorten settle, or move more slowly",
                      attitude_axis_words(sweep->of), factor * sweep->window, unit, sweep->settle,
                      reader->sweep.longest);
    header_place(reader->header, channel->cell, fault);
    return status;
}

enum status log_points_none(const struct log_reader *reader, struct fault *fault)
{
    return is_sweep(reader) ? never_settled(reader, fault) : never_recorded(reader, fault);
}
