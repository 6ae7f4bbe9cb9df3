/* support_sheet.h - a table of what a support or a neighbour does to the coefficients.
 *
 * Columns: any of the six axes of an attitude; then coefficients (CD CY CL CRM CPM CYM, downforce
 * positive) or loads (Fx Fy Fz N, Mx My Mz N m; car axes, about the ground at mid-wheelbase) with the
 * dynamic_pressure that they were measured at. The row after the header holds the units. A table
 * without an axis has one row, which holds at every attitude.                                       */
#ifndef LAPWING_SUPPORT_SHEET_H
#define LAPWING_SUPPORT_SHEET_H

#include "ingest/problems.h"
#include "ingest/sheet.h"
#include "schema/campaign.h"
#include "schema/store.h"
#include "schema/units.h"

enum { SUPPORT_COLUMNS = ATTITUDE_COUNT + 13 };

struct support_sheet {
    const struct facility *facility; /* NULL: no table */
    enum table_kind kind;
    struct sheet *sheet;
    double factor[SUPPORT_COLUMNS]; /* to SI */
};

/* Reads path (name as the user knows it). What is wrong becomes problems; gives OK unless memory or the
 * like fails. On OK the caller ends *table with support_sheet_end(). */
enum status support_sheet_read(const char *path, const char *name, struct units *units,
                               struct problems *problems, struct support_sheet *table,
                               struct fault *fault);
void support_sheet_end(struct support_sheet *table); /* an empty one is fine */

/* Replaces all tables of the store. */
enum status support_sheets_store(struct store *store, const struct support_sheet *tables, size_t n,
                                 struct fault *fault);

#endif
