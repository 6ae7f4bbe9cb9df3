/* scope.h - which entry a page is about, in one place: the latest of the season.
 *
 * A season holds many entries, and the same configuration may have been run in several; a page that
 * mixed them would compare what was never run together. scope_set() puts temporary views and tables on the
 * store's connection, which hold the page's entry only, and every query of a page reads these:
 *
 *   page_run        rows of run
 *   page_reduction  current rows of reduction: of its runs, and of its configurations and families
 *   page_delta      rows of delta_result
 *   page_ratio, page_trimmed, page_package   rows of delta_ratio, trimmed_delta, package_delta
 *   page_flag       rows of flag_row; those about no run are the page's when their reduction is, or
 *                   when they belong to none and so to the campaign
 *   page_scope      one row: facility, entry
 *
 * Nothing is written to the season itself, and a store opened for reading will do.                 */
#ifndef LAPWING_REPORT_SCOPE_H
#define LAPWING_REPORT_SCOPE_H

#include "schema/entry.h"

/* Sets the views to one entry; may be called again. */
enum status scope_set(struct store *store, const char *facility, const char *entry,
                      struct fault *fault);

#endif
