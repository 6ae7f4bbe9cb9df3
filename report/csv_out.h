/* csv_out.h - the one writer of CSV tables: UTF-8, LF, comma, point, a units row under the header.
 *
 * A column is one row of a table: its name with the unit's suffix, its unit in words with the sign,
 * and whether it holds text. Text is always quoted, so that a run named 007 stays a text; a text
 * that a spreadsheet would run as a formula (= + - @, tab, carriage return) gets a leading
 * apostrophe. Numbers are the shortest that read back the same; what is missing is empty.          */
#ifndef LAPWING_REPORT_CSV_OUT_H
#define LAPWING_REPORT_CSV_OUT_H

#include <stddef.h>

#include "report/buffer.h"
#include "schema/delta_columns.h"
#include "schema/store.h"

struct csv_table {
    const char *file; /* "points.csv" */
    const char *sql;  /* gives the columns in their order */
    const struct csv_column *columns;
    size_t n;
};

extern const struct csv_table csv_deltas, csv_points, csv_taps, csv_tap_changes, csv_loads,
    csv_exclusions, csv_channels, csv_budget;

/* Header, units and every row into *out. */
enum status csv_write(struct store *store, const struct csv_table *table, struct buffer *out,
                      struct fault *fault);

/* One text cell, quoted and made harmless. */
void csv_text(struct buffer *out, const char *text);

#endif
