/* report_tables.h - the tables beside the page: which there are, and writing them all. */
#ifndef LAPWING_REPORT_TABLES_H
#define LAPWING_REPORT_TABLES_H

#include "report/csv_out.h"
#include "report/report_options.h"

/* The tables that every report has, in the order they are named; the list ends with NULL. */
extern const struct csv_table *const report_tables[];

/* Called for each file that is there after report_tables_write(), by its name. */
typedef int report_file_said(void *context, const char *name);

/* Writes into the folder the tables in the forms that are asked for, each whole or not at all, and
 * removes what an earlier report left in forms that are not: a file that nobody renews, or with notes in
 * it, must not be sent by mistake. WRITE_FAILED. */
enum status report_tables_write(struct store *store, const char *folder,
                                const struct report_options *options, struct fault *fault);

/* Names the files that report_tables_write() writes; 0 when said gave 0. */
int report_tables_say(const struct report_options *options, report_file_said *said, void *context);

#endif
