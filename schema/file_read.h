/* file_read.h - opening what must be a plain file.
 *
 * A pipe, a device or a folder in place of a log or a sheet is refused at once; a plain open() would
 * wait for a pipe's writer for ever.                                                               */
#ifndef LAPWING_FILE_READ_H
#define LAPWING_FILE_READ_H

#include <stdint.h>

#include "schema/fault.h"

/* What tells an untouched file without reading it. */
struct file_stamp {
    int64_t bytes;
    int64_t mtime_ns; /* modification time, ns since 1970 */
};

/* NOT_FOUND when there is no such file, BAD_INPUT when it is not a plain file or may not be read. name
 * is the path as the user knows it, for the message. */
enum status file_stamp_read(const char *path, const char *name, struct file_stamp *stamp,
                            struct fault *fault);

/* Opens path for reading; statuses and name as above. On OK the caller closes *descriptor, and *stamp
 * (may be NULL) is the open file's. Otherwise *descriptor is -1. */
enum status file_open_plain(const char *path, const char *name, int *descriptor,
                            struct file_stamp *stamp, struct fault *fault);

/* Reads on; *got is 0 at the end and only there. BAD_INPUT when the device fails. */
enum status file_read_some(int descriptor, const char *name, void *buffer, size_t size, size_t *got,
                           struct fault *fault);

#endif
