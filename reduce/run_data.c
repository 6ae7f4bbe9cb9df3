/* run_data.c - reading a run's channels and statistics; see run_data.h. */
#include "reduce/run_data.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

static enum map_taps map_taps(const struct night *night, const char *map)
{
    const struct channel_map *found = map == NULL ? NULL : campaign_map(night->campaign, map);
    return found != NULL ? found->taps_measured : TAPS_RELATIVE;
}

static enum status read_channel(const struct night *night, struct statement *statement,
                                struct channel_row *channel, struct fault *fault)
{
    const char *role = statement_text(statement, 1);
    channel->role = role_from_name(role == NULL ? "" : role);
    channel->sign = statement_real(statement, 7);
    channel->covariance_position =
        statement_is_null(statement, 4) ? -1 : (int)statement_integer(statement, 4);
    channel->lag =
        (struct channel_lag){statement_real(statement, 8), statement_real(statement, 9),
                             statement_real(statement, 10), statement_real(statement, 11)};
    channel->measured = map_taps(night, statement_text(statement, 5));
    enum status status = rows_text(statement, 0, &channel->column, fault);
    if (status == OK)
        status = rows_text(statement, 2, &channel->tap, fault);
    if (status == OK)
        status = rows_text(statement, 3, &channel->unit, fault);
    if (status == OK)
        status = rows_text(statement, 6, &channel->written_unit, fault);
    return status;
}

static enum status read_channels(const struct night *night, const char *run, struct run_data *data,
                                 struct fault *fault)
{
    struct statement *statement = NULL;
    size_t capacity = 0;
    int row = 0;
    enum status status = rows_open(
        night->store,
        "SELECT c.column_name, c.role, c.tap, c.unit, c.covariance_position, l.map, "
        "c.written_unit, c.sign, c.lag_s, c.lag_correlation, c.unlagged_correlation, "
        "c.lag_samples "
        "FROM channel AS c LEFT JOIN log AS l ON l.run = c.run AND l.position = c.log_position "
        "WHERE c.run = ?1 ORDER BY c.position",
        &run, 1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        void *array = data->channels;
        status =
            array_reserve(&array, &capacity, data->n_channels + 1, sizeof *data->channels, fault);
        data->channels = array;
        if (status != OK)
            break;
        struct channel_row *channel = &data->channels[data->n_channels++];
        memset(channel, 0, sizeof *channel);
        status = read_channel(night, statement, channel, fault);
        if (channel->covariance_position >= (int)data->n_covariance)
            data->n_covariance = (size_t)channel->covariance_position + 1;
    }
    statement_free(statement);
    return status;
}

static enum status read_covariance(struct statement *statement, size_t n, struct point_row *point,
                                   struct fault *fault)
{
    size_t size = 0;
    const void *blob = statement_blob(statement, 3, &size);
    if (blob == NULL || size == 0 || n == 0)
        return OK;
    if (size != n * n * sizeof(double))
        return FAIL(fault, BAD_INPUT,
                    "covariance of %zu bytes, %zu channels need %zu; read the "
                    "run again",
                    size, n, n * n * sizeof(double));
    void *array = NULL;
    enum status status = array_make(&array, n * n, sizeof *point->covariance, fault);
    if (status != OK)
        return status;
    point->covariance = array;
    memcpy(point->covariance, blob, size);
    return OK;
}

static enum status read_point(struct statement *statement, const struct run_data *data,
                              struct point_row *point, struct fault *fault)
{
    void *array = NULL;
    enum status status = rows_text(statement, 0, &point->point, fault);
    if (status == OK)
        status = array_make(&array, data->n_channels, sizeof *point->channels, fault);
    if (status != OK)
        return status;
    point->channels = array;
    point->time = statement_real(statement, 1);
    size_t size = 0;
    const void *blob = statement_blob(statement, 2, &size);
    status = point_statistics_unpack(blob, size, point->channels, data->n_channels, fault);
    if (status == OK)
        status = read_covariance(statement, data->n_covariance, point, fault);
    if (status != OK)
        fault_where(fault, "point %s", point->point);
    return status;
}

static enum status read_points(const struct night *night, const char *run, struct run_data *data,
                               struct fault *fault)
{
    struct statement *statement = NULL;
    size_t capacity = 0;
    int row = 0;
    enum status status = rows_open(night->store,
                                   "SELECT point, time_s, statistics, covariance FROM point "
                                   "WHERE run = ?1 ORDER BY sequence, point",
                                   &run, 1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        void *array = data->points;
        status = array_reserve(&array, &capacity, data->n_points + 1, sizeof *data->points, fault);
        data->points = array;
        if (status != OK)
            break;
        struct point_row *point = &data->points[data->n_points++];
        memset(point, 0, sizeof *point);
        status = read_point(statement, data, point, fault);
    }
    statement_free(statement);
    return status;
}

enum status run_data_read(const struct night *night, const char *run, struct run_data *data,
                          struct fault *fault)
{
    memset(data, 0, sizeof *data);
    enum status status = read_channels(night, run, data, fault);
    if (status == OK)
        status = read_points(night, run, data, fault);
    if (status != OK)
        run_data_end(data);
    return status;
}

void run_data_end(struct run_data *data)
{
    for (size_t i = 0; i < data->n_channels; i++) {
        free(data->channels[i].column);
        free(data->channels[i].tap);
        free(data->channels[i].unit);
        free(data->channels[i].written_unit);
    }
    for (size_t i = 0; i < data->n_points; i++) {
        free(data->points[i].point);
        free(data->points[i].channels);
        free(data->points[i].covariance);
    }
    free(data->channels);
    free(data->points);
    memset(data, 0, sizeof *data);
}

int run_data_channel(const struct run_data *data, enum role role)
{
    for (size_t i = 0; i < data->n_channels; i++)
        if (data->channels[i].role == role)
            return (int)i;
    return -1;
}

int run_data_tap(const struct run_data *data, const char *tap)
{
    for (size_t i = 0; i < data->n_channels; i++)
        if (data->channels[i].role == ROLE_TAP && strcmp(data->channels[i].tap, tap) == 0)
            return (int)i;
    return -1;
}

const struct point_row *run_data_point(const struct run_data *data, const char *point)
{
    for (size_t i = 0; i < data->n_points; i++)
        if (strcmp(data->points[i].point, point) == 0)
            return &data->points[i];
    return NULL;
}

double run_data_mean(const struct run_data *data, const struct point_row *point, enum role role)
{
    int channel = run_data_channel(data, role);
    return channel < 0 ? (double)NAN : point->channels[channel].mean;
}
