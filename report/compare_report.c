/* compare_report.c - see compare_report.h. */
#include "report/compare_report.h"

#include <stdio.h>

#include "report/report_files.h"

enum status compare_report(struct store *store, const char *path, struct fault *fault)
{
    struct html page = {0};

    enum status status = page_compare(&page, store, fault);
    if (status == OK && path != NULL)
        status = report_save(path, &page.out, fault);
    else if (status == OK)
        (void)fputs(buffer_string(&page.out), stdout); /* whether it arrived is asked at the end */
    html_free(&page);
    return status;
}
