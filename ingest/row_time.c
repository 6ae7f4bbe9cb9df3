/* row_time.c - see row_time.h. */
#include "ingest/row_time.h"

#include <math.h>

#include "ingest/iso_time.h"

enum { RUN_SECONDS_MAX = 86400, DAY = 86400, HALF_A_DAY = 43200 };

struct row_time row_time_for(const struct column_binding *binding, const struct channel_map *map)
{
    struct row_time time = {.previous = NAN, .first = NAN, .last = NAN, .watch = gap_watch_ready()};
    if (binding->time_cell != NO_CELL || (binding->clock_cell == NO_CELL && map->rate > 0))
        time.clock = LOG_SINCE_START;
    else if (binding->clock_cell != NO_CELL)
        time.clock = LOG_SINCE_MIDNIGHT;
    return time;
}

void row_time_end(struct row_time *time)
{
    gap_watch_free(&time->watch);
}

static enum status wrong_cell(const struct text_table *table, const struct table_row *row,
                              size_t cell, const char *what, struct fault *fault)
{
    size_t length = row->cells[cell].length;
    enum status status = FAIL(fault, BAD_INPUT, "'%.*s' is not %s; correct the log or the map",
                              (int)(length < 60 ? length : 60), row->cells[cell].text, what);
    text_table_place(table, cell, fault);
    return status;
}

static enum status out_of_order(const struct row_time *time, const struct text_table *table,
                                size_t cell, double now, struct fault *fault)
{
    enum status status = OK;
    if (time->clock == LOG_SINCE_MIDNIGHT && time->previous - time->days - now > HALF_A_DAY)
        status =
            FAIL(fault, BAD_INPUT,
                 "the clock passes midnight (%.0f s after %.0f s of the day); limit: one day a "
                 "log; declare clock_wraps: yes in the channel map, or cut the run there",
                 now, time->previous - time->days);
    else
        status = FAIL(fault, BAD_INPUT,
                      "time does not increase: %.9g s after %.9g s on line %zu; limit: every row "
                      "later than the one before; repair the log or take the doubled rows out",
                      now, time->previous, time->at_line);
    text_table_place(table, cell, fault);
    return status;
}

/* A count of milliseconds read as seconds, or seconds since 1970, would pass for a time. */
static enum status out_of_a_day(const struct text_table *table, size_t line, size_t cell,
                                double now, struct fault *fault)
{
    int is_counted = cell == NO_CELL;
    enum status status =
        FAIL(fault, BAD_INPUT, "time %.9g s since the run began; limit: %d; check the %s", now,
             RUN_SECONDS_MAX, is_counted ? "rate in the channel map" : "unit, or map a clock");
    if (is_counted)
        fault_where(fault, "%s:%zu", text_table_name(table), line);
    else
        text_table_place(table, cell, fault);
    return status;
}

/* A clock that goes back by more than half a day has passed midnight: once, where the map says so. */
static double unwrapped(struct row_time *time, const struct channel_map *map, double now)
{
    if (time->clock != LOG_SINCE_MIDNIGHT || !map->clock_wraps)
        return now;
    if (time->days == 0 && time->previous - now > HALF_A_DAY) /* false while previous is NAN */
        time->days = DAY;
    return now + time->days;
}

static void take(struct row_time *time, double now, size_t line)
{
    time->previous = now;
    time->at_line = line;
    if (time->n++ == 0)
        time->first = now;
    time->last = now;
    time->sum += now - time->first;
}

/* Missing (a declared word) is NAN; BAD_INPUT when it is no time. */
static enum status read_time(const struct row_time *time, const struct column_binding *binding,
                             const struct cell_reader *reader, const struct text_table *table,
                             const struct table_row *row, double *now, struct fault *fault)
{
    if (time->clock == LOG_SINCE_START) {
        enum cell_outcome outcome = cell_value(reader, &row->cells[binding->time_cell], now);
        *now = binding->time_factor * *now + binding->time_offset;
        if (outcome >= CELL_OUT_OF_RANGE)
            return wrong_cell(table, row, binding->time_cell, "a time in numbers", fault);
        return OK;
    }
    const struct table_cell *cell = &row->cells[binding->clock_cell];
    *now = NAN;
    if (cell_is_missing(reader, cell) || clock_parse(cell->text, cell->length, now))
        return OK;
    return wrong_cell(table, row, binding->clock_cell, "a clock time H:M:S", fault);
}

enum status row_time_take(struct row_time *time, const struct column_binding *binding,
                          const struct cell_reader *reader, const struct text_table *table,
                          const struct table_row *row, struct fault *fault)
{
    double now = NAN;
    if (time->clock == LOG_WITHOUT_TIME)
        return OK;
    int is_counted = time->clock == LOG_SINCE_START && binding->time_cell == NO_CELL;
    enum status status = OK;
    if (is_counted)
        now = isnan(time->previous) ? 0 : time->previous + 1 / reader->map->rate;
    else
        status = read_time(time, binding, reader, table, row, &now, fault);
    if (status != OK || isnan(now))
        return status;
    now = unwrapped(time, reader->map, now);
    if (time->clock == LOG_SINCE_START && fabs(now) > RUN_SECONDS_MAX)
        return out_of_a_day(table, row->line, binding->time_cell, now, fault);
    int repeats = time->clock == LOG_SINCE_MIDNIGHT && now == time->previous;
    if (now <= time->previous && !repeats) /* false while previous is NAN */
        return out_of_order(
            time, table, time->clock == LOG_SINCE_START ? binding->time_cell : binding->clock_cell,
            now - time->days, fault);
    take(time, now, row->line);
    return is_counted ? OK : gap_watch_take(&time->watch, now, row->line, fault);
}

void row_time_finish(struct row_time *time, struct log_point *point)
{
    point->time = time->n > 0 ? time->first + time->sum / (double)time->n : (double)NAN;
    point->duration = time->n > 0 ? time->last - time->first : (double)NAN;
    gap_watch_finish(&time->watch);
    time->first = time->last = NAN;
    time->sum = 0;
    time->n = 0;
}
