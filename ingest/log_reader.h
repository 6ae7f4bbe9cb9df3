/* log_reader.h - one log being read: what channel_reader.c shares with the files that make its points
 * (log_points.c) and read its cells (log_cells.c). Nobody else includes it.                        */
#ifndef LAPWING_LOG_READER_H
#define LAPWING_LOG_READER_H

#include "ingest/cell_value.h"
#include "ingest/column_binding.h"
#include "ingest/decoded_source.h"
#include "ingest/header.h"
#include "ingest/hold_watch.h"
#include "ingest/label_index.h"
#include "ingest/log_record.h"
#include "ingest/point_samples.h"
#include "ingest/point_watch.h"
#include "ingest/row_time.h"
#include "ingest/sentinel_watch.h"
#include "ingest/sweep_watch.h"
#include "ingest/text_table.h"

/* One log being read. */
struct log_reader {
    const struct log_reading *reading;
    struct units *units;
    struct problems *problems;
    size_t most;   /* problems after which reading stops */
    size_t before; /* problems there were already */
    struct decoded_source *decoded;
    struct text_table *table;
    struct header *header;
    struct column_binding *binding;
    struct log_record *record;
    struct point_samples *samples;
    struct cell_reader cells;
    struct row_time time;
    struct sentinel_watch sentinels;
    struct hold_watch holds;
    struct point_watch watch;
    struct sweep_watch sweep;
    size_t stay;               /* of the sweep, that the point is made of */
    double recorded;           /* state of the recording flag in the last row, 0: off */
    size_t fullest;            /* rows of the longest short point */
    double *row;               /* the row's values, one a channel */
    struct label_index labels; /* of the points so far, where rows have labels */
    size_t capacity;           /* points there is room for */
    struct log_point *point;   /* that is being filled; NULL between points */
    size_t returned;           /* first line of the point whose return is told; 0 when none is */
    char counted[24];          /* label of a point that is numbered and not named */
};

/* The row's point becomes the last one of the record, and reader->point; NULL when the row, not recorded or
 * not settled, belongs to none. BAD_INPUT: no label or one that stood further up already, or a cell that
 * does not tell whether the row is recorded or where the sweep is. The row's time has been read. */
enum status log_points_enter(struct log_reader *reader, const struct table_row *row,
                             struct fault *fault);

/* Ends the point that is being filled, when there is one: its time and its statistics. One of a sweep
 * that is too short is taken out of the record again. */
enum status log_points_finish(struct log_reader *reader, struct fault *fault);

/* BAD_INPUT: the log is at its end and no row belonged to a point; says why. */
enum status log_points_none(const struct log_reader *reader, struct fault *fault);

/* Takes the row's cells into the point that is being filled, as one sample of every channel or as
 * averages. BAD_INPUT: a cell is no number. */
enum status log_cells_samples(struct log_reader *reader, const struct table_row *row,
                              struct fault *fault);
enum status log_cells_averages(struct log_reader *reader, const struct table_row *row,
                               struct fault *fault);

/* NO_MEMORY, named after the log. */
enum status log_reader_no_memory(const struct log_reader *reader, struct fault *fault);

#endif
