/* file_write.c - writing beside and renaming; see file_write.h. */
#include "schema/file_write.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct file_writer {
    FILE *file;
    char *path;   /* wanted */
    char *beside; /* written to until commit; NULL: path itself is written to */
};

static enum status refuse(const struct file_writer *writer, int error, struct fault *fault)
{
    const char *advice = "check the folder and its permissions";
    if (error == ENOSPC || error == EDQUOT)
        advice = "free some space and run again";
    else if (error == EBUSY)
        advice = "another program writes it at this time: let it end and run again";
    return FAIL(fault, WRITE_FAILED, "cannot write %s: %s; %s", writer->path, strerror(error),
                advice);
}

static void release(struct file_writer *writer)
{
    free(writer->path);
    free(writer->beside);
    free(writer);
}

void file_writer_abandon(struct file_writer *writer)
{
    if (writer == NULL)
        return;
    if (writer->file != NULL) {
        (void)fclose(writer->file);
        if (writer->beside != NULL)
            (void)unlink(writer->beside);
    }
    release(writer);
}

/* Something other than a regular file must not be replaced by one. */
static int is_special(const char *path)
{
    struct stat found;
    return stat(path, &found) == 0 && !S_ISREG(found.st_mode);
}

static int name_paths(struct file_writer *writer, const char *path)
{
    size_t size = strlen(path) + sizeof ".part";
    writer->path = strdup(path);
    if (writer->path == NULL)
        return 0;
    if (is_special(path))
        return 1;
    writer->beside = malloc(size);
    if (writer->beside == NULL)
        return 0;
    (void)snprintf(writer->beside, size, "%s.part", path);
    return 1;
}

static enum status open_stream(struct file_writer *writer, mode_t mode, struct fault *fault)
{
    int flags = O_WRONLY | O_CLOEXEC;
    const char *path = writer->path;
    if (writer->beside != NULL) {
        path = writer->beside;
        flags |= O_CREAT | O_EXCL;
        (void)unlink(path); /* left by a killed process */
    }
    int descriptor = open(path, flags, mode);
    if (descriptor < 0)
        return refuse(writer, errno, fault);
    writer->file = fdopen(descriptor, "wb");
    if (writer->file == NULL) {
        enum status status = refuse(writer, errno, fault);
        (void)close(descriptor);
        if (writer->beside != NULL)
            (void)unlink(path);
        return status;
    }
    return OK;
}

static enum status open_with(const char *path, mode_t mode, struct file_writer **writer,
                             struct fault *fault)
{
    *writer = NULL;
    struct file_writer *made = calloc(1, sizeof *made);
    if (made == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to write %s", path);
    enum status status = OK;
    if (!name_paths(made, path))
        status = FAIL(fault, NO_MEMORY, "no memory to write %s", path);
    else
        status = open_stream(made, mode, fault);
    if (status != OK) {
        release(made);
        return status;
    }
    *writer = made;
    return OK;
}

enum status file_writer_open(const char *path, struct file_writer **writer, struct fault *fault)
{
    return open_with(path, 0666, writer, fault);
}

enum status file_writer_open_private(const char *path, struct file_writer **writer,
                                     struct fault *fault)
{
    return open_with(path, 0600, writer, fault);
}

enum status file_writer_write(struct file_writer *writer, const void *bytes, size_t size,
                              struct fault *fault)
{
    if (fwrite(bytes, 1, size, writer->file) != size)
        return refuse(writer, errno, fault);
    return OK;
}

/* Without this the new name may be lost by a power cut, though never the old file's bytes; a file
 * system that cannot do it is no reason to fail. */
static void settle_folder(const char *path)
{
    const char *slash = strrchr(path, '/');
    char *folder = slash == NULL ? strdup(".") : strdup(path);
    if (folder == NULL)
        return;
    if (slash != NULL)
        folder[slash == path ? 1 : slash - path] = '\0';
    int descriptor = open(folder, O_RDONLY | O_CLOEXEC);
    if (descriptor >= 0) {
        (void)fsync(descriptor);
        (void)close(descriptor);
    }
    free(folder);
}

/* 0 when the file beside, by its name, is no longer the one this writer opened: two programs write the
 * same page, and a rename would give the page's name to the other's half. */
static int is_own(const struct file_writer *writer)
{
    struct stat opened;
    struct stat named;
    return fstat(fileno(writer->file), &opened) == 0 && lstat(writer->beside, &named) == 0 &&
           opened.st_dev == named.st_dev && opened.st_ino == named.st_ino;
}

/* 0, or the error that kept the bytes from the disk; the stream is closed either way. */
static int finish(struct file_writer *writer)
{
    int error = 0;
    if (fflush(writer->file) != 0)
        error = errno;
    if (error == 0 && writer->beside != NULL && fsync(fileno(writer->file)) != 0)
        error = errno;
    if (error == 0 && writer->beside != NULL && !is_own(writer))
        error = EBUSY;
    if (fclose(writer->file) != 0 && error == 0)
        error = errno;
    writer->file = NULL;
    return error;
}

enum status file_writer_commit(struct file_writer *writer, struct fault *fault)
{
    enum status status = OK;
    int error = finish(writer);
    if (error == 0 && writer->beside != NULL && rename(writer->beside, writer->path) != 0)
        error = errno;
    if (error != 0) {
        status = refuse(writer, error, fault);
        if (writer->beside != NULL && error != EBUSY)
            (void)unlink(writer->beside);
    } else if (writer->beside != NULL) {
        settle_folder(writer->path);
    }
    release(writer);
    return status;
}
