/* csv_out.h - the one writer of the tables that leave the program.
 *
 * A column is one row of a table: its name with the unit's suffix, its unit in words with the sign,
 * and what it holds. As CSV: UTF-8, LF, comma and point (or semicolon and decimal comma, on request), a
 * units row under the header. Text is always quoted, so that a run named 007 stays a text; a text that a
 * spreadsheet would run as a formula (schema/csv_cell.h) gets a leading apostrophe. As JSON: one object
 * with the columns and an array of rows (RFC 8259); texts as they are, quoted by SQLite's json_quote().
 * Numbers are the shortest that read back the same double; what is missing is empty, or null.
 * Columns of kind CSV_NOTE are there, but empty, unless notes are asked for.                        */
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
    csv_exclusions, csv_channels, csv_budget, csv_ratios, csv_equal_balance, csv_packages,
    csv_traces, csv_observations, csv_left_out, csv_flags, csv_notes;

enum table_format { TABLE_CSV, TABLE_CSV_SEMICOLON, TABLE_JSON };

struct table_form {
    enum table_format format;
    int with_notes; /* 1: columns of kind CSV_NOTE have their text */
};

/* The whole table in its form into *out. */
enum status table_write(struct store *store, const struct csv_table *table,
                        const struct table_form *form, struct buffer *out, struct fault *fault);

/* table_write() with comma and point, without notes. */
enum status csv_write(struct store *store, const struct csv_table *table, struct buffer *out,
                      struct fault *fault);

/* The same as JSON; called by table_write(). */
enum status json_write(struct store *store, const struct csv_table *table, int with_notes,
                       struct buffer *out, struct fault *fault);

/* The file of a table in a format: "points.csv", "points.json". */
enum { TABLE_FILE = 64 };
void table_file(const struct csv_table *table, enum table_format format, char out[TABLE_FILE]);

/* One text cell, quoted and made harmless. */
void csv_text(struct buffer *out, const char *text);

#endif
