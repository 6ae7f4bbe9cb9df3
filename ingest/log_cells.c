/* log_cells.c - the cells of a row as samples or averages; see log_reader.h. */
#include <math.h>

#include "ingest/cell_refusal.h"
#include "ingest/log_reader.h"
#include "ingest/sample_statistics.h"

static enum status bad_number(const struct log_reader *reader, const struct table_row *row,
                              size_t cell, struct fault *fault)
{
    return cell_refusal_number(&reader->cells, reader->header, reader->table, row, cell, fault);
}

enum status log_cells_samples(struct log_reader *reader, const struct table_row *row,
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
    }
    return status;
}
