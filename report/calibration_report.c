/* calibration_report.c - see calibration_report.h. */
#include "report/calibration_report.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "report/report_files.h"

enum { FILES = 3 };

static const char *const endings[FILES] = {".csv", "_card.html", "_card.csv"};

static enum status path_of(const struct calibration_card *card, int file, char path[REPORT_PATH],
                           struct fault *fault)
{
    int length = snprintf(path, REPORT_PATH, "%s%s", card->request->prefix, endings[file]);
    if (length < 0 || length >= REPORT_PATH)
        return FAIL(fault, BAD_INPUT, "the path after --write is too long; the limit is %d",
                    REPORT_PATH - 16);
    return OK;
}

static enum status check_free(const struct calibration_card *card, struct fault *fault)
{
    struct stat found;
    char path[REPORT_PATH];
    enum status status = OK;
    for (int i = 0; i < FILES && status == OK; i++) {
        status = path_of(card, i, path, fault);
        if (status == OK && lstat(path, &found) == 0)
            status = FAIL(fault, BAD_INPUT,
                          "%.300s is there already and is not overwritten; choose another prefix, "
                          "or move it away",
                          path);
    }
    return status;
}

static enum status make_file(const struct calibration_card *card, int file, struct buffer *out,
                             struct fault *fault)
{
    struct html page = {0};
    if (file == 0)
        csv_calibration(card, out);
    else if (file == 2)
        csv_card(card, out);
    else {
        enum status status = page_card(&page, card, fault);
        *out = page.out; /* handed over */
        return status;
    }
    return buffer_status(out, "the calibration", fault);
}

static enum status write_files(const struct calibration_card *card, int quiet, struct fault *fault)
{
    enum status status = check_free(card, fault);
    for (int i = card->is_whole ? 0 : 1; i < FILES && status == OK; i++) {
        struct buffer text = {0};
        char path[REPORT_PATH];
        status = path_of(card, i, path, fault);
        if (status == OK)
            status = make_file(card, i, &text, fault);
        if (status == OK)
            status = report_save(path, &text, fault);
        if (status == OK && !quiet && (printf("%s\n", path) < 0))
            status =
                FAIL(fault, WRITE_FAILED, "cannot write to standard output: %s", strerror(errno));
        buffer_free(&text);
    }
    return status;
}

enum status calibration_report(const struct calibration_card *card, int quiet, struct fault *fault)
{
    struct buffer text = {0};
    card_text(card, &text);
    enum status status = buffer_status(&text, "the card", fault);
    if (status == OK && !quiet && fputs(buffer_string(&text), stdout) < 0)
        status = FAIL(fault, WRITE_FAILED, "cannot write to standard output: %s", strerror(errno));
    buffer_free(&text);
    if (status == OK && card->request->prefix != NULL)
        status = write_files(card, quiet, fault);
    return status;
}
