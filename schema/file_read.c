/* file_read.c - see file_read.h. */
#include "schema/file_read.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static enum status cannot_open(const char *name, int error, struct fault *fault)
{
    if (error == ENOENT || error == ENOTDIR)
        return FAIL(fault, NOT_FOUND, "there is no file '%s'; correct the path or put it there",
                    name);
    return FAIL(fault, BAD_INPUT, "cannot open '%s': %s; make it readable", name, strerror(error));
}

static enum status take_stamp(const struct stat *about, const char *name, struct file_stamp *stamp,
                              struct fault *fault)
{
    if (S_ISDIR(about->st_mode))
        return FAIL(fault, BAD_INPUT, "'%s' is a folder; a file is needed there", name);
    if (!S_ISREG(about->st_mode))
        return FAIL(fault, BAD_INPUT, "'%s' is not a plain file; put the file itself there", name);
    if (stamp != NULL)
        *stamp = (struct file_stamp){
            .bytes = (int64_t)about->st_size,
            .mtime_ns =
                (int64_t)about->st_mtim.tv_sec * 1000000000 + (int64_t)about->st_mtim.tv_nsec,
        };
    return OK;
}

enum status file_stamp_read(const char *path, const char *name, struct file_stamp *stamp,
                            struct fault *fault)
{
    struct stat about;
    if (stat(path, &about) != 0)
        return cannot_open(name, errno, fault);
    return take_stamp(&about, name, stamp, fault);
}

enum status file_open_plain(const char *path, const char *name, int *descriptor,
                            struct file_stamp *stamp, struct fault *fault)
{
    struct stat about;
    *descriptor = -1;
    int opened = open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK);
    if (opened < 0)
        return cannot_open(name, errno, fault);
    enum status status = OK;
    if (fstat(opened, &about) != 0)
        status = cannot_open(name, errno, fault);
    else
        status = take_stamp(&about, name, stamp, fault);
    if (status == OK)
        *descriptor = opened;
    else
        (void)close(opened);
    return status;
}

enum status file_read_some(int descriptor, const char *name, void *buffer, size_t size, size_t *got,
                           struct fault *fault)
{
    ssize_t n = 0;
    do
        n = read(descriptor, buffer, size);
    while (n < 0 && errno == EINTR);
    *got = n > 0 ? (size_t)n : 0;
    if (n < 0)
        return FAIL(fault, BAD_INPUT, "cannot read '%s': %s; copy the file again", name,
                    strerror(errno));
    return OK;
}
