/* row_time.h - the time of a log's rows: read, checked for order, averaged over a point. */
#ifndef LAPWING_ROW_TIME_H
#define LAPWING_ROW_TIME_H

#include "ingest/cell_value.h"
#include "ingest/column_binding.h"
#include "ingest/gap_watch.h"
#include "ingest/log_record.h"
#include "ingest/text_table.h"

struct row_time {
    enum log_clock clock;
    double previous;    /* NAN before the first */
    size_t at_line;     /* of the previous one */
    double first, last; /* of the point; NAN before its first */
    double sum;         /* of times minus first */
    size_t n;
    double days; /* s that the clock has gone round: 0, or a day after its midnight */
    struct gap_watch watch;
};

/* The caller ends it with row_time_end(). */
struct row_time row_time_for(const struct column_binding *binding, const struct channel_map *map);

/* Takes the row's time. BAD_INPUT: no time, not later than the row before (a clock may repeat its
 * second; a wrap at midnight is named, or taken once where the map says clock_wraps), or more than a day from the run's start. With neither clock nor time column the map's rate counts
 * rows; without rate there is no time. */
enum status row_time_take(struct row_time *time, const struct column_binding *binding,
                          const struct cell_reader *reader, const struct text_table *table,
                          const struct table_row *row, struct fault *fault);

/* Mean and duration of the point's rows, and ready for the next point. */
void row_time_finish(struct row_time *time, struct log_point *point);
void row_time_end(struct row_time *time); /* frees what it holds */

#endif
