/* row_time.c - see row_time.h. */
#include "ingest/row_time.h"

#include <math.h>

#include "ingest/iso_time.h"

enum { RUN_SECONDS_MAX = 86400, DAY = 86400, HALF_A_DAY = 43200 };

struct row_time row_time_for(const struct column_binding *binding, const struct channel_map *map)
{
    struct row_time time = {
        .now = NAN, .previous = NAN, .first = NAN, .last = NAN, .watch = gap_watch_ready()};
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

/* now is of the day, where the log has a clock. */
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
                      "time goes back: %.9g s after %.9g s on line %zu; limit: no row earlier than "
                      "the one before; repair the log",
                      now, time->previous - time->days, time->at_line);
    text_table_place(table, cell, fault);
    return status;
}

static enum status stands_still(const struct text_table *table, size_t cell, double now,
                                struct fault *fault)
{
    enum status status =
        FAIL(fault, BAD_INPUT,
             "time stands still: %.9g s in more than %d rows; limit: %d rows of one time; look for "
             "a finer time in the log, or leave this one out of the map and declare rate",
             now, TIME_ROWS_MAX, TIME_ROWS_MAX);
    text_table_place(table, cell, fault);
    return status;
}

/* A count of milliseconds read as seconds, or seconds since 1970, would pass for a time. */
static enum status out_of_a_day(const struct text_table *table, size_t line, size_t cell,
                                double now, struct fault *fault)
{
    int has_no_column = cell == NO_CELL;
    enum status status =
        FAIL(fault, BAD_INPUT, "time %.9g s since the run began; limit: %d; check the %s", now,
             RUN_SECONDS_MAX, has_no_column ? "rate in the channel map" : "unit, or map a clock");
    if (has_no_column)
        fault_where(fault, "%s:%zu", text_table_name(table), line);
    else
        text_table_place(table, cell, fault);
    return status;
}

/* A clock that goes back by more than half a day has passed midnight, where the map says so. */
static double unwrapped(struct row_time *time, const struct channel_map *map, double now)
{
    if (time->clock != LOG_SINCE_MIDNIGHT || !map->clock_wraps)
        return now;
    if (time->previous - (now + time->days) > HALF_A_DAY) /* false while previous is NAN */
        time->days += DAY;
    return now + time->days;
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

static enum status check_order(struct row_time *time, const struct column_binding *binding,
                               const struct text_table *table, const struct table_row *row,
                               double now, struct fault *fault)
{
    int is_clock = time->clock == LOG_SINCE_MIDNIGHT;
    size_t cell = is_clock ? binding->clock_cell : binding->time_cell;
    if (!is_clock && fabs(now) > RUN_SECONDS_MAX)
        return out_of_a_day(table, row->line, cell, now, fault);
    if (now < time->previous) /* false while previous is NAN */
        return out_of_order(time, table, cell, now - time->days, fault);
    time->same = now == time->previous ? time->same + 1 : 0;
    if (!is_clock && cell != NO_CELL && time->same == TIME_ROWS_MAX)
        return stands_still(table, cell, now, fault);
    return OK;
}

static int is_counted(const struct row_time *time, const struct column_binding *binding)
{
    return time->clock == LOG_SINCE_START && binding->time_cell == NO_CELL;
}

enum status row_time_read(struct row_time *time, const struct column_binding *binding,
                          const struct cell_reader *reader, const struct text_table *table,
                          const struct table_row *row, struct fault *fault)
{
    double now = NAN;
    enum status status = OK;
    time->now = NAN;
    if (time->clock == LOG_WITHOUT_TIME)
        return OK;
    if (is_counted(time, binding))
        now = isnan(time->previous) ? 0 : time->previous + 1 / reader->map->rate;
    else
        status = read_time(time, binding, reader, table, row, &now, fault);
    if (status != OK || isnan(now))
        return status;
    now = unwrapped(time, reader->map, now);
    status = check_order(time, binding, table, row, now, fault);
    int is_back = now < time->previous; /* told once: the rows after it follow this one */
    if (status == OK)
        time->now = now;
    if (status == OK || is_back) {
        time->previous = now;
        time->at_line = row->line;
    }
    return status;
}

enum status row_time_add(struct row_time *time, const struct column_binding *binding, size_t line,
                         struct fault *fault)
{
    if (isnan(time->now))
        return OK;
    if (time->n++ == 0)
        time->first = time->now;
    time->last = time->now;
    time->sum += time->now - time->first;
    return is_counted(time, binding) ? OK : gap_watch_take(&time->watch, time->now, line, fault);
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
