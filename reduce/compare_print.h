/* compare_print.h - one delta of a comparison as a line of text or of CSV.
 *
 * The query and the columns it gives stand in one file with what prints them. Every function takes
 * the row that the query is at and adds to *text.                                                  */
#ifndef LAPWING_COMPARE_PRINT_H
#define LAPWING_COMPARE_PRINT_H

#include <stddef.h>

#include "reduce/key_text.h"
#include "schema/delta_columns.h"
#include "schema/statement.h"

/* Deltas of one entry, family by family, the main measure first. ?1 and ?2 configurations, ?3 a
 * metric's name or a quantity's symbol, "" for all; ?4 facility, ?5 entry; ?6 attitude, "" for all. One
 * configuration alone that is a baseline gives its family. A query is both, the columns of
 * schema/delta_columns.h before the rows of the table. */
extern const char compare_print_columns[], compare_print_rows[];

/* Valid until the row's next step. */
const char *compare_print_baseline(struct statement *row);

/* A delta (with its sign) or the half of an interval, with the decimals of the quantity; "n/a" for NAN. */
void compare_print_number(const char *quantity, double value, int with_sign, char *out,
                          size_t size);

/* Quoted, so that a run named 007 stays a text; a text that a spreadsheet would run as a formula gets an
 * apostrophe. */
void compare_print_csv_text(struct key_text *text, const char *cell);

/* A row of names and a row of units. */
void compare_print_csv_titles(const struct csv_column *columns, size_t n, struct key_text *text);

void compare_print_csv_head(struct key_text *text);
void compare_print_csv(struct statement *row, struct key_text *text);

/* Facility, entry, baseline and what the numbers are: before the first row of each family. */
void compare_print_family(struct statement *row, struct key_text *text);
void compare_print_text(struct statement *row, struct key_text *text);

/* The same of a difference of two configurations, the second standing in the baseline's column. */
void compare_print_pair(struct statement *row, struct key_text *text);
void compare_print_pair_row(struct statement *row, struct key_text *text);

enum { COMPARE_LINE = 100 }; /* columns of a terminal that lines are kept to */

/* Adds words, broken at blanks before that column, every line after indent blanks. */
void compare_print_wrapped(struct key_text *text, int indent, const char *words);

#endif
