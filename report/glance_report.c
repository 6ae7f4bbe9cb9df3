/* glance_report.c - see glance_report.h. */
#include "report/glance_report.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

#include "report/glance_text.h"
#include "report/page_glance.h"
#include "report/report_files.h"

static enum status print(const struct buffer *text, struct fault *fault)
{
    enum status status = buffer_status(text, "the text of the run", fault);

    if (status != OK)
        return status;
    if (fputs(buffer_string(text), stdout) < 0 || fflush(stdout) != 0)
        return FAIL(fault, WRITE_FAILED, "cannot write to standard output: %s", strerror(errno));
    return OK;
}

static enum status print_glance(const struct glance *glance, int quiet, struct fault *fault)
{
    struct buffer text = {0};

    if (quiet)
        glance_text_verdict(glance, &text);
    else
        glance_text(glance, &text);
    enum status status = print(&text, fault);
    buffer_free(&text);
    return status;
}

/* A run's name holds neither '/' nor control characters: the run sheet refuses them. */
static enum status choose_page(const struct glance *glance, const struct glance_output *output,
                               char path[REPORT_PATH], struct fault *fault)
{
    char folder[REPORT_PATH];
    char name[320];

    if (output->page != NULL) {
        int length = snprintf(path, REPORT_PATH, "%s", output->page);
        if (length < 0 || length >= REPORT_PATH)
            return FAIL(fault, BAD_INPUT, "the page's path has %d characters; the limit is %d",
                        length, REPORT_PATH - 1);
        return OK;
    }
    enum status status = report_folder(output->folder, folder, fault);
    int length = snprintf(name, sizeof name, "glance_%s.html", glance->run);
    if (status == OK && (length < 0 || (size_t)length >= sizeof name))
        status = FAIL(fault, BAD_INPUT, "the run's name makes no file name; give one with --html");
    return status == OK ? report_path(folder, name, path, fault) : status;
}

static enum status write_page(const struct glance *glance, const struct glance_output *output,
                              struct fault *fault)
{
    char path[REPORT_PATH];
    struct html page = {0};

    enum status status = choose_page(glance, output, path, fault);
    if (status == OK)
        status = page_glance(&page, glance, fault);
    if (status == OK)
        status = report_save(path, &page.out, fault);
    if (status == OK && !output->quiet && (printf("%s\n", path) < 0 || fflush(stdout) != 0))
        status = FAIL(fault, WRITE_FAILED, "cannot write to standard output: %s", strerror(errno));
    html_free(&page);
    return status;
}

enum status glance_report(const struct glance *glance, const struct glance_output *output,
                          struct fault *fault)
{
    enum status status = print_glance(glance, output->quiet, fault);

    if (status != OK || output->no_page)
        return status;
    return write_page(glance, output, fault);
}
