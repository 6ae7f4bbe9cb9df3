/* row_time.h - the time of a log's rows: read, checked for order, averaged over a point. */
#ifndef LAPWING_ROW_TIME_H
#define LAPWING_ROW_TIME_H

#include "ingest/cell_value.h"
#include "ingest/column_binding.h"
#include "ingest/gap_watch.h"
#include "ingest/log_record.h"
#include "ingest/text_table.h"

enum { TIME_ROWS_MAX = 100 }; /* of one time in a time column; common practice, no source */

struct row_time {
    enum log_clock clock;
    double now;         /* of the last row; NAN when it has none */
    double previous;    /* of the last row that has one; NAN before it */
    size_t at_line;     /* of that row */
    size_t same;        /* rows before it with the same time */
    double first, last; /* of the point; NAN before its first */
    double sum;         /* of times minus first */
    size_t n;
    double days; /* s that the clock has gone round: a day for every midnight */
    struct gap_watch watch;
};

/* The caller ends it with row_time_end(). */
struct row_time row_time_for(const struct column_binding *binding, const struct channel_map *map);

/* Reads the time of the next row of the log into time->now, whether or not the row belongs to a point.
 * BAD_INPUT: no time, earlier than the row before, the same in more than TIME_ROWS_MAX rows (of a time
 * column; a clock of whole seconds may stand longer), or more than a day from the run's start. A clock
 * that goes back by more than half a day has passed midnight: that is named, or, where the map says
 * clock_wraps, counted, as often as it happens. With neither clock nor time column the map's rate
 * counts rows; without rate there is no time. */
enum status row_time_read(struct row_time *time, const struct column_binding *binding,
                          const struct cell_reader *reader, const struct text_table *table,
                          const struct table_row *row, struct fault *fault);

/* The row that was read belongs to the point. NO_MEMORY. */
enum status row_time_add(struct row_time *time, const struct column_binding *binding, size_t line,
                         struct fault *fault);

/* Mean and duration of the point's rows, and ready for the next point. */
void row_time_finish(struct row_time *time, struct log_point *point);
void row_time_end(struct row_time *time); /* frees what it holds */

#endif
