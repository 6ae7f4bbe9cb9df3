/* page_glance.h - one run at a glance: the verdict, its reasons, and the two plots that show why.
 *
 * The page has the look and the parts of the night's (report/page.h): one file, light and dark,
 * nothing asked of the network, every plot with its numbers in a table.                            */
#ifndef LAPWING_REPORT_PAGE_GLANCE_H
#define LAPWING_REPORT_PAGE_GLANCE_H

#include "report/html.h"
#include "schema/glance.h"

/* Writes the whole page into *page, which the caller zero-initialised and ends with html_free(),
 * whatever the status. */
enum status page_glance(struct html *page, const struct glance *glance, struct fault *fault);

/* The sections with the plots; called by page_glance(). */
enum status panel_glance_points(struct html *page, const struct glance *glance,
                                struct fault *fault);
enum status panel_glance_record(struct html *page, const struct glance *glance,
                                struct fault *fault);

#endif
