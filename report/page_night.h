/* page_night.h - the report of a night: one self-contained HTML page. */
#ifndef LAPWING_REPORT_PAGE_NIGHT_H
#define LAPWING_REPORT_PAGE_NIGHT_H

#include "report/panel.h"

/* Writes the whole page into *page, which the caller zero-initialised and ends with html_free(),
 * whatever the status. The same store gives the same bytes. */
enum status page_night(struct html *page, const struct night_page *night, struct fault *fault);

#endif
