/* workbook_save.c - from the library's file to the report's; see workbook.h. */
#include <unistd.h>

#include "report/report_files.h"
#include "report/workbook.h"
#include "schema/file_read.h"

enum status workbook_refuse(const char *path, const char *what, struct fault *fault)
{
    return FAIL(fault, WRITE_FAILED,
                "cannot write %s: %s; free some space, check the folder, and run again", path,
                what);
}

static enum status read_bytes(const char *path, struct buffer *bytes, struct fault *fault)
{
    struct file_stamp stamp;
    char some[16384];
    size_t got = 0;
    int descriptor = -1;

    enum status status = file_open_plain(path, path, &descriptor, &stamp, fault);
    if (status != OK)
        return status;
    do {
        status = file_read_some(descriptor, path, some, sizeof some, &got, fault);
        buffer_add(bytes, some, status == OK ? got : 0);
    } while (status == OK && got > 0);
    (void)close(descriptor);
    return status == OK ? buffer_status(bytes, path, fault) : status;
}

enum status workbook_settle(const char *beside, const char *path, struct fault *fault)
{
    struct buffer bytes = {0};

    enum status status = read_bytes(beside, &bytes, fault);
    if (status == OK &&
        !workbook_is_whole((const unsigned char *)buffer_string(&bytes), bytes.length))
        status = workbook_refuse(path, "it did not reach the disk in full", fault);
    if (status == OK)
        status = report_save(path, &bytes, fault);
    buffer_free(&bytes);
    return status;
}
