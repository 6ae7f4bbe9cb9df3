/* compare_report.h - the page of a comparison: what was asked for, and nothing else of the season. */
#ifndef LAPWING_REPORT_COMPARE_REPORT_H
#define LAPWING_REPORT_COMPARE_REPORT_H

#include "report/html.h"
#include "schema/store.h"

/* Writes the page from the tables of schema/asked.h as path, whole or not at all; NULL: to standard output. */
enum status compare_report(struct store *store, const char *path, struct fault *fault);

/* The page in memory; *page is zero-initialised by the caller, who ends it with html_free(). */
enum status page_compare(struct html *page, struct store *store, struct fault *fault);

#endif
