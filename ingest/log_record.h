/* log_record.h - what one log becomes: its channels, and its points with their statistics. */
#ifndef LAPWING_LOG_RECORD_H
#define LAPWING_LOG_RECORD_H

#include <stddef.h>

#include "ingest/log_channel.h"
#include "ingest/log_trace.h"
#include "schema/point_statistics.h"

/* What the times of a record's points count from. */
enum log_clock {
    LOG_WITHOUT_TIME,  /* no time at all */
    LOG_SINCE_START,   /* s since the run began */
    LOG_SINCE_MIDNIGHT /* s since midnight of the run's day */
};

struct log_point {
    char *label;
    double time;     /* s, mean of its rows; NAN without time */
    double duration; /* s, last row minus first; NAN without time */
    size_t rows;
    size_t first_line, last_line;          /* in the file */
    struct channel_statistics *statistics; /* one a channel */
    double *covariance;                    /* n_covaried squared; NULL for averaged points */
};

/* What is uneven about the times of a log, within its points; all 0 when nothing is. */
struct time_gaps {
    size_t repeats; /* rows with the time of the row before */
    size_t gaps;    /* steps longer than 1.5 times the point's median step */
    double longest; /* s, of them */
    double usual;   /* s, median step of the point that has the longest */
    size_t line;    /* at the end of the longest */
    size_t doubled; /* rows with the time and every channel of the row before, in a time column */
};

enum { LOG_SUSPECTS_MAX = 4, LOG_COLUMN_MAX = 100 };

/* A column that repeats a number which loggers use for "no value". */
struct log_suspect {
    char column[LOG_COLUMN_MAX];
    double value; /* as written in the log */
    size_t rows;
};

struct log_record {
    struct log_channel *channels;
    size_t n_channels;
    size_t *covaried; /* channels in the covariance matrix */
    size_t n_covaried;
    struct log_point *points;
    size_t n_points;
    enum log_clock clock;
    size_t rows;         /* of data, taken */
    size_t rows_read;    /* of them with cells that were looked at, in points left out too */
    size_t rows_outside; /* of them in no point: not recorded, not settled, or in a short one */
    size_t short_points; /* of a sweep, left out because they had fewer rows than the map wants */
    size_t unterminated_line; /* of the last row when it has no line feed: the file may be cut; 0 */
    int left_out;             /* 1: that row was not taken */
    struct time_gaps gaps;
    struct log_suspect suspects[LOG_SUSPECTS_MAX];
    size_t n_suspects; /* may be more than are kept */
    struct log_trace *traces;
    size_t n_traces;
};

void log_record_free(struct log_record *record); /* NULL is fine */
void log_point_free(struct log_point *point);    /* frees what it holds */

/* The point of this label (of the given length); NULL when there is none. */
struct log_point *log_record_point(const struct log_record *record, const char *label,
                                   size_t length);

#endif
