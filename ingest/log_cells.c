/* log_cells.c - the cells of a row as samples or averages; see log_reader.h. */
#include <math.h>
#include <string.h>

#include "ingest/cell_refusal.h"
#include "ingest/log_reader.h"
#include "ingest/sample_statistics.h"

static enum status bad_number(const struct log_reader *reader, const struct table_row *row,
                              size_t cell, struct fault *fault)
{
    return cell_refusal_number(&reader->cells, reader->header, reader->table, row, cell, fault);
}

/* One sample of a channel, kept in reader->row. */
static enum status take_sample(struct log_reader *reader, const struct table_row *row, size_t i,
                               struct fault *fault)
{
    const struct bound_channel *channel = &reader->binding->channels[i];
    const struct table_cell *cell = &row->cells[channel->cell];
    double value = NAN;
    if (channel->hold == HOLD_BLANK && cell->length == 0) {
        hold_watch_blank(&reader->holds, i);
        reader->row[i] = NAN;
        return OK;
    }
    if (cell_value(&reader->cells, cell, &value) >= CELL_OUT_OF_RANGE)
        return bad_number(reader, row, channel->cell, fault);
    if (sentinel_is_possible(value))
        sentinel_watch_take(&reader->sentinels, i, value);
    reader->row[i] = channel->factor * value + channel->offset;
    if (channel->hold != HOLD_NONE)
        return hold_watch_take(&reader->holds, i, reader->row[i], fault);
    return OK;
}

/* No reading is like no reading. */
static int is_same_reading(double a, double b)
{
    return isnan(a) ? isnan(b) : a == b;
}

enum status log_cells_samples(struct log_reader *reader, const struct table_row *row,
                              struct fault *fault)
{
    int repeats = reader->time.same > 0 && reader->time.clock == LOG_SINCE_START &&
                  reader->point->rows > 0 && !isnan(reader->time.now);
    int differs = 0;
    for (size_t i = 0; i < reader->binding->n; i++) {
        double before = reader->row[i];
        enum status status = take_sample(reader, row, i, fault);
        if (status != OK)
            return status;
        differs |= !is_same_reading(before, reader->row[i]);
    }
    reader->time.watch.so_far.doubled += repeats && !differs;
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

/* What the log states of a value that it has not is nothing. */
static enum status take_stated(const struct log_reader *reader, const struct table_row *row,
                               const struct bound_channel *channel,
                               struct channel_statistics *statistics, struct fault *fault)
{
    double stated = NAN;
    if (cell_value(&reader->cells, &row->cells[channel->stated_cell], &stated) >=
            CELL_OUT_OF_RANGE ||
        stated < 0)
        return bad_number(reader, row, channel->stated_cell, fault);
    if (statistics->n > 0)
        statistics->stated = channel->stated_factor * stated;
    return OK;
}

enum status log_cells_averages(struct log_reader *reader, const struct table_row *row,
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
        if (channel->stated_cell != NO_CELL)
            status = take_stated(reader, row, channel, &point->statistics[i], fault);
    }
    return status;
}
