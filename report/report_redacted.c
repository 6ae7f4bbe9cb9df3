/* report_redacted.c - see report_redacted.h. */
#include "report/report_redacted.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>

#include "report/redact.h"
#include "report/report_files.h"

enum { LEVELS_UP = 256 };

static int is_same(const struct stat *a, const struct stat *b)
{
    return a->st_dev == b->st_dev && a->st_ino == b->st_ino;
}

/* 1 when path lies in the folder or below it, links followed; -1 when its own folder can't be found. */
static int lies_in(const char *path, const struct stat *folder)
{
    struct buffer at = {0};
    struct stat here;
    struct stat above;
    const char *slash = strrchr(path, '/');
    int found = -1;

    buffer_add(&at, path, slash != NULL ? (size_t)(slash - path) + 1 : 0);
    buffer_text(&at, ".");
    if (!at.failed && stat(buffer_string(&at), &here) == 0)
        found = is_same(&here, folder);
    for (int i = 0; found == 0 && i < LEVELS_UP; i++) {
        buffer_text(&at, "/..");
        if (at.failed || stat(buffer_string(&at), &above) != 0)
            found = -1;
        else if (is_same(&above, &here))
            break;
        else
            found = is_same(&above, folder);
        here = above;
    }
    buffer_free(&at);
    return found;
}

/* Nobody mails the key with what it opens. */
static enum status check_key(const char *report, const char *key, struct fault *fault)
{
    struct stat folder;

    int found = stat(report, &folder) == 0 ? lies_in(key, &folder) : -1;
    if (found < 0)
        return FAIL(fault, BAD_INPUT, "the folder of the key %s cannot be found: %s", key,
                    strerror(errno));
    if (found > 0)
        return FAIL(fault, BAD_INPUT,
                    "the key %s would lie among the files that are given away; name a file "
                    "outside %s",
                    key, report);
    return OK;
}

static enum status write_key(struct store *redacted, const char *path, struct fault *fault)
{
    struct buffer text = {0};

    enum status status = redact_key(redacted, &text, fault);
    if (status == OK)
        status = report_save(path, &text, fault);
    buffer_free(&text);
    return status;
}

enum status report_redacted(struct store *season, const char *folder,
                            const struct report_options *options, struct report_summary *summary,
                            struct fault *fault)
{
    struct store *redacted = NULL;
    char report[REPORT_PATH];

    enum status status = report_folder_named(folder, REPORT_REDACTED_FOLDER, report, fault);
    if (status == OK && options->key_file != NULL)
        status = check_key(report, options->key_file, fault);
    if (status == OK)
        status = redact_open(season, options->redaction, &redacted, fault);
    if (status == OK)
        status = report_write_into(redacted, report, NULL, options, summary, fault);
    if (status == OK && options->key_file != NULL)
        status = write_key(redacted, options->key_file, fault);
    enum status closed = store_close(redacted, status == OK ? fault : NULL);
    return status != OK ? status : closed;
}
