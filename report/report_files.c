/* report_files.c - see report_files.h. */
#include "report/report_files.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "schema/file_write.h"

enum status report_path(const char *folder, const char *name, char out[REPORT_PATH],
                        struct fault *fault)
{
    int length = snprintf(out, REPORT_PATH, "%s/%s", folder, name);

    if (length < 0 || length >= REPORT_PATH)
        return FAIL(fault, BAD_INPUT, "the path of %.80s has %d characters; the limit is %d", name,
                    length, REPORT_PATH - 1);
    return OK;
}

enum status report_folder_named(const char *folder, const char *name, char out[REPORT_PATH],
                                struct fault *fault)
{
    enum status status = report_path(folder, name, out, fault);

    if (status != OK)
        return status;
    if (mkdir(out, 0777) != 0 && errno != EEXIST)
        return FAIL(fault, WRITE_FAILED, "cannot make the folder %s: %s", out, strerror(errno));
    return OK;
}

enum status report_folder(const char *folder, char out[REPORT_PATH], struct fault *fault)
{
    return report_folder_named(folder, "report", out, fault);
}

enum status report_remove(const char *path, struct fault *fault)
{
    if (unlink(path) != 0 && errno != ENOENT)
        return FAIL(fault, WRITE_FAILED,
                    "cannot remove %s, which an earlier report left and this one does not write: "
                    "%s; take it away",
                    path, strerror(errno));
    return OK;
}

static enum status finish(struct file_writer *writer, const struct buffer *text,
                          struct fault *fault)
{
    enum status status = file_writer_write(writer, buffer_string(text), text->length, fault);
    if (status != OK) {
        file_writer_abandon(writer);
        return status;
    }
    return file_writer_commit(writer, fault);
}

enum status report_save(const char *path, const struct buffer *text, struct fault *fault)
{
    struct file_writer *writer = NULL;

    enum status status = file_writer_open(path, &writer, fault);
    return status == OK ? finish(writer, text, fault) : status;
}

enum status report_save_private(const char *path, const struct buffer *text, struct fault *fault)
{
    struct file_writer *writer = NULL;

    enum status status = file_writer_open_private(path, &writer, fault);
    return status == OK ? finish(writer, text, fault) : status;
}
