/* column_binding.c - see column_binding.h. */
#include "ingest/column_binding.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/column_unit.h"

void column_binding_free(struct column_binding *binding)
{
    if (binding == NULL)
        return;
    for (size_t i = 0; i < binding->n; i++)
        log_channel_free(&binding->channels[i].about);
    free(binding->channels);
    free(binding);
}

/* One binding in the making. */
struct maker {
    const struct header *header;
    const struct log_reading *reading;
    struct units *units;
    struct problems *problems;
    size_t before; /* problems there were already */
    struct column_binding *binding;
    struct fault *fault;
};

static enum status add_channel(struct maker *maker, const struct bound_channel *channel,
                               const char *column, const char *tap, const char *unit,
                               const char *written)
{
    struct column_binding *binding = maker->binding;
    struct bound_channel *to = &binding->channels[binding->n];
    *to = *channel;
    to->about.column = strdup(column);
    to->about.tap = tap != NULL ? strdup(tap) : NULL;
    to->about.unit = strdup(unit);
    to->about.written_unit = strdup(written);
    binding->n++;
    if (to->about.column == NULL || (tap != NULL && to->about.tap == NULL) ||
        to->about.unit == NULL || to->about.written_unit == NULL)
        return FAIL(maker->fault, NO_MEMORY, "no memory for a channel of '%s'",
                    maker->header->file);
    return OK;
}

/* The unit of a numeric column by its role; *kept is the unit its values are kept in. */
static enum status find_unit(struct maker *maker, size_t cell, enum role role, const char *map_unit,
                             struct column_unit *unit, const char **kept)
{
    *kept = role_unit(role);
    int is_output = role >= ROLE_BALANCE_OUTPUT_1 && role <= ROLE_BALANCE_OUTPUT_6;
    int is_plain_output =
        is_output && maker->reading->output_unit == NULL && maker->reading->is_recorded_only;
    if (role == ROLE_OTHER || is_plain_output)
        return column_unit_of_any(maker->header, cell, map_unit, maker->units, unit, kept,
                                  maker->fault);
    if (!is_output)
        return column_unit_find(maker->header, cell, map_unit, *kept, maker->units, unit,
                                maker->fault);
    *kept = maker->reading->output_unit;
    if (*kept != NULL)
        return column_unit_of_output(maker->header, cell, map_unit, *kept, unit, maker->fault);
    enum status status = FAIL(maker->fault, BAD_INPUT,
                              "column '%.80s' is a balance output, but the run sheet names no "
                              "balance for this run; name it",
                              maker->header->cells[cell].name);
    header_place(maker->header, cell, maker->fault);
    return status;
}

static size_t *role_cell(struct column_binding *binding, enum role role)
{
    switch ((int)role) {
    case ROLE_POINT:
        return &binding->point_cell;
    case ROLE_CLOCK:
        return &binding->clock_cell;
    case ROLE_TIME:
        return &binding->time_cell;
    case ROLE_SAMPLE_COUNT:
        return &binding->count_cell;
    case ROLE_RECORDING:
        return &binding->recording_cell;
    default:
        return NULL;
    }
}

static struct bound_channel *find_role(struct column_binding *binding, enum role role)
{
    for (size_t i = 0; i < binding->n; i++)
        if (binding->channels[i].about.role == role)
            return &binding->channels[i];
    return NULL;
}

static int has_sweep(const struct channel_map *map)
{
    return map->sweep.window > 0;
}

/* The channel of the column that a statistic with the role other names. */
static struct bound_channel *find_other(const struct maker *maker, const char *name)
{
    size_t cell = 0;
    if (name == NULL || header_find(maker->header, name, &cell, NULL) != OK)
        return NULL;
    for (size_t i = 0; i < maker->binding->n; i++)
        if (maker->binding->channels[i].about.role == ROLE_OTHER &&
            maker->binding->channels[i].cell == cell)
            return &maker->binding->channels[i];
    return NULL;
}

static enum status at_column(struct maker *maker, const struct map_column *column,
                             enum status status)
{
    fault_where(maker->fault, "campaign.yaml:%zu", column->line);
    return status;
}

static enum status twice(struct maker *maker, const struct map_column *column)
{
    return at_column(maker, column,
                     FAIL(maker->fault, BAD_INPUT,
                          "map '%.80s' gives the role %s to '%.80s' and to another column; limit: "
                          "one column a role; take one out",
                          maker->reading->map->name, role_name(column->role), column->column));
}

/* Time, clock, point, recording and sample count: not channels, but what orders and weighs them. */
static enum status bind_helper(struct maker *maker, const struct map_column *column, size_t cell,
                               size_t *place)
{
    struct column_unit unit = {"", {1, 0}};
    if (*place != NO_CELL)
        return twice(maker, column);
    *place = cell;
    if (column->role != ROLE_TIME)
        return OK;
    enum status status =
        column_unit_find(maker->header, cell, column->unit, "s", maker->units, &unit, maker->fault);
    maker->binding->time_factor = unit.conversion.factor;
    maker->binding->time_offset = unit.conversion.offset;
    return status;
}

static enum status bind_value(struct maker *maker, const struct map_column *column, size_t cell)
{
    struct column_unit unit;
    const char *kept = NULL;
    if (column->role != ROLE_OTHER && find_role(maker->binding, column->role) != NULL)
        return twice(maker, column);
    enum status status = find_unit(maker, cell, column->role, column->unit, &unit, &kept);
    if (status != OK)
        return status;
    double sign = column->sign * (column->role == ROLE_YAW ? maker->reading->yaw_sign : 1);
    const struct bound_channel channel = {.about = {.role = column->role, .sign = sign},
                                          .cell = cell,
                                          .factor = sign * unit.conversion.factor,
                                          .offset = sign * unit.conversion.offset,
                                          .sd_cell = NO_CELL,
                                          .stated_cell = NO_CELL,
                                          .hold = column->hold};
    return add_channel(maker, &channel, maker->header->cells[cell].name, NULL, kept, unit.written);
}

/* 1 when the map names a column for the value of this role, whether or not the log has it. */
static int maps_value(const struct channel_map *map, enum role role)
{
    for (size_t i = 0; i < map->n_columns; i++)
        if (map->columns[i].role == role && map->columns[i].statistic == COLUMN_VALUE)
            return 1;
    return 0;
}

/* Two-sided normal quantile of 95 %: from a standard uncertainty of unstated degrees of freedom to an
 * expanded one. GUM (JCGM 100:2008), table G.1. */
static const double NORMAL_95 = 1.959963984540054;

/* The same kind of scatter, in words for a sentence. */
static const char *statistic_words(enum map_statistic statistic)
{
    return statistic == COLUMN_SD ? "sd" : "uncertainty";
}

static void set_statistic(struct bound_channel *channel, enum map_statistic statistic, size_t cell,
                          double factor)
{
    if (statistic == COLUMN_SD) {
        channel->sd_cell = cell;
        channel->sd_factor = factor;
        return;
    }
    channel->about.has_stated = 1;
    channel->stated_cell = cell;
    channel->stated_factor =
        fabs(factor) * (statistic == COLUMN_STANDARD_UNCERTAINTY ? NORMAL_95 : 1);
}

/* A standard deviation or an uncertainty has the size of its unit, but neither its offset nor its sign. */
static enum status bind_statistic(struct maker *maker, const struct map_column *column)
{
    struct column_unit unit;
    const char *kept = NULL;
    size_t cell = 0;
    struct bound_channel *channel = column->role == ROLE_OTHER
                                        ? find_other(maker, column->of)
                                        : find_role(maker->binding, column->role);
    if (channel == NULL && maker->problems->n > maker->before &&
        maps_value(maker->reading->map, column->role))
        return OK; /* what is wrong with its value has been told */
    if (channel == NULL)
        return at_column(maker, column,
                         FAIL(maker->fault, BAD_INPUT,
                              "column '%.80s' is the %s of %s, but no column holds its value; map "
                              "that too",
                              column->column, statistic_words(column->statistic),
                              column->of != NULL ? column->of : role_name(column->role)));
    enum status status = header_find(maker->header, column->column, &cell, maker->fault);
    if (status == OK)
        status = find_unit(maker, cell, column->role, column->unit, &unit, &kept);
    if (status == OK && strcmp(kept, channel->about.unit) != 0)
        status =
            at_column(maker, column,
                      FAIL(maker->fault, BAD_INPUT,
                           "column '%.80s' is the %s of '%.80s', but one is in %s and the other "
                           "in %s; limit: the same kind of unit; correct the wrong one",
                           column->column, statistic_words(column->statistic),
                           channel->about.column, kept, channel->about.unit));
    if (status == OK)
        set_statistic(channel, column->statistic, cell, unit.conversion.factor);
    return status;
}

static enum status bind_column(struct maker *maker, const struct map_column *column)
{
    size_t cell = 0;
    if (column->statistic != COLUMN_VALUE)
        return bind_statistic(maker, column);
    enum status status = header_find(maker->header, column->column, &cell, maker->fault);
    if (status != OK)
        return status;
    size_t *helper = role_cell(maker->binding, column->role);
    if (helper != NULL)
        return bind_helper(maker, column, cell, helper);
    return bind_value(maker, column, cell);
}

static enum status bind_tap(struct maker *maker, const struct tap *tap)
{
    struct column_unit unit;
    size_t cell = 0;
    const char *kept = campaign_tap_unit(maker->reading->map);
    enum status status = header_find(maker->header, tap->column, &cell, maker->fault);
    if (status == OK)
        status = column_unit_find(maker->header, cell, maker->reading->map->tap_unit, kept,
                                  maker->units, &unit, maker->fault);
    if (status != OK)
        return status;
    const struct bound_channel channel = {.about = {.role = ROLE_TAP, .sign = 1},
                                          .cell = cell,
                                          .factor = unit.conversion.factor,
                                          .offset = unit.conversion.offset,
                                          .sd_cell = NO_CELL,
                                          .stated_cell = NO_CELL,
                                          .hold = maker->reading->map->tap_hold};
    return add_channel(maker, &channel, maker->header->cells[cell].name, tap->name, kept,
                       unit.written);
}

/* Values first, so that a statistic finds its channel wherever it stands in the map. */
static enum status bind_all(struct maker *maker)
{
    const struct channel_map *map = maker->reading->map;
    const struct tap_sheet *taps = maker->reading->taps;
    enum status status = OK;
    for (int statistic = COLUMN_VALUE; statistic <= COLUMN_EXPANDED_UNCERTAINTY; statistic++)
        for (size_t i = 0; i < map->n_columns && status == OK; i++)
            if ((int)map->columns[i].statistic == statistic)
                status = problems_take(maker->problems, bind_column(maker, &map->columns[i]),
                                       maker->fault);
    for (size_t i = 0; map->has_taps && taps != NULL && i < taps->n && status == OK; i++)
        status = problems_take(maker->problems, bind_tap(maker, &taps->taps[i]), maker->fault);
    return status;
}

static void find_sweep(struct column_binding *binding, const struct channel_map *map)
{
    if (!has_sweep(map))
        return;
    const struct bound_channel *channel = find_role(binding, attitude_axis_role(map->sweep.of));
    if (channel != NULL)
        binding->sweep_channel = (size_t)(channel - binding->channels);
}

static enum status check_whole(struct maker *maker)
{
    const struct channel_map *map = maker->reading->map;
    enum status status = OK;
    if (maker->problems->n > maker->before)
        return OK; /* what is missing has been told */
    int has_points = maker->binding->point_cell != NO_CELL || map->point_by_row ||
                     maker->binding->recording_cell != NO_CELL || has_sweep(map);
    if (!has_points)
        status = FAIL(maker->fault, BAD_INPUT,
                      "map '%.80s' has no column for the point; map one with role point or "
                      "recording, write sweep:, or number the points by row",
                      map->name);
    else if (has_sweep(map) && maker->binding->sweep_channel == NO_CELL)
        status = FAIL(maker->fault, BAD_INPUT,
                      "map '%.80s' has a sweep of %s, but no column with that role; map it",
                      map->name, attitude_axis_name(map->sweep.of));
    else if (maker->binding->n == 0)
        status = FAIL(maker->fault, BAD_INPUT, "map '%.80s' reads no channel; map one at least",
                      map->name);
    if (status != OK)
        fault_where(maker->fault, "campaign.yaml");
    return status;
}

enum status column_binding_make(const struct header *header, const struct log_reading *reading,
                                struct units *units, struct problems *problems,
                                struct column_binding **out, struct fault *fault)
{
    struct fault own = {
        .status = OK}; /* problems need the sentence even when the caller does not want it */
    struct maker maker = {.header = header,
                          .reading = reading,
                          .units = units,
                          .problems = problems,
                          .before = problems->n,
                          .fault = fault != NULL ? fault : &own};
    size_t most = reading->map->n_columns + (reading->taps != NULL ? reading->taps->n : 0) + 1;

    *out = NULL;
    maker.binding = calloc(1, sizeof *maker.binding);
    if (maker.binding == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the channels of '%s'", header->file);
    maker.binding->point_cell = maker.binding->clock_cell = NO_CELL;
    maker.binding->time_cell = maker.binding->count_cell = NO_CELL;
    maker.binding->recording_cell = maker.binding->sweep_channel = NO_CELL;
    maker.binding->channels = calloc(most, sizeof *maker.binding->channels);
    enum status status = OK;
    if (maker.binding->channels == NULL)
        status = FAIL(maker.fault, NO_MEMORY, "no memory for the channels of '%s'", header->file);
    if (status == OK)
        status = bind_all(&maker);
    if (status == OK) {
        find_sweep(maker.binding, reading->map);
        status = problems_take(problems, check_whole(&maker), maker.fault);
    }
    if (status != OK || problems->n > maker.before) {
        column_binding_free(maker.binding);
        return status;
    }
    *out = maker.binding;
    return OK;
}
