/* workbook.h - the page's entry as a workbook (Office Open XML, ECMA-376), by libxlsxwriter.
 *
 * Sheets: Deltas, Observations, Points, Needs your eyes, Budget where there is one, How it was made. Two
 * heads, names and units, stay in sight. Texts are cells of text, whatever they start with; numbers show
 * two figures of their own uncertainty and hold sixteen, so one may differ from the database's by the last
 * bit: CSV and JSON don't. Nothing is said by colour. The date of the document is the start of the
 * entry's last run, so the same store gives the same bytes.                                         */
#ifndef LAPWING_REPORT_WORKBOOK_H
#define LAPWING_REPORT_WORKBOOK_H

#include "report/csv_out.h"

/* Writes path whole or not at all. with_notes as in csv_out.h. WRITE_FAILED; NO_MEMORY. */
enum status workbook_write(struct store *store, const char *path, int with_notes,
                           struct fault *fault);

/* Sheets that are no table of the CSV files; they read the scope of the page (report/scope.h). */
extern const struct csv_table workbook_flags, workbook_method;

/* Column of the table that says how uncertain column i is; -1: none does. */
int workbook_uncertainty(const struct csv_table *table, size_t i);

/* 1 when every part of the packed file unpacks to XML that ends where it should. The library does not
 * look whether its own temporary files could be written in full. */
int workbook_is_whole(const unsigned char *bytes, size_t size);

/* What the library made at beside becomes path, when it is whole. */
enum status workbook_settle(const char *beside, const char *path, struct fault *fault);

/* WRITE_FAILED, with what to do. */
enum status workbook_refuse(const char *path, const char *what, struct fault *fault);

#endif
