/* glance_report.h - what `lapwing glance` shows: text on standard output, and one page. */
#ifndef LAPWING_REPORT_GLANCE_REPORT_H
#define LAPWING_REPORT_GLANCE_REPORT_H

#include "schema/glance.h"

struct glance_output {
    const char *folder; /* the campaign's */
    const char *page;   /* file of the page; NULL: folder/report/glance_RUN.html */
    int no_page;        /* 1: text only */
    int quiet;          /* 1: print the verdict's line only */
};

/* Prints, then writes the page, which appears whole or not at all. The same glance gives the same
 * bytes. WRITE_FAILED when either cannot be written; NO_MEMORY. */
enum status glance_report(const struct glance *glance, const struct glance_output *output,
                          struct fault *fault);

#endif
