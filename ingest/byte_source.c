/* byte_source.c - see byte_source.h. */
#include "ingest/byte_source.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct file_source {
    int descriptor;
    char *name;
    struct digest *digest; /* NULL once ended */
    struct file_stamp stamp;
    int64_t position;
};

static struct file_stamp stamp_of(const struct stat *about)
{
    return (struct file_stamp){
        .bytes = (int64_t)about->st_size,
        .mtime_ns = (int64_t)about->st_mtim.tv_sec * 1000000000 + (int64_t)about->st_mtim.tv_nsec,
    };
}

static enum status cannot_open(const char *name, int error, struct fault *fault)
{
    if (error == ENOENT || error == ENOTDIR)
        return FAIL(fault, NOT_FOUND, "there is no file '%s'; correct the path or put it there",
                    name);
    return FAIL(fault, BAD_INPUT, "cannot open '%s': %s; make it readable", name, strerror(error));
}

enum status file_stamp_read(const char *path, const char *name, struct file_stamp *stamp,
                            struct fault *fault)
{
    struct stat about;
    if (stat(path, &about) != 0)
        return cannot_open(name, errno, fault);
    if (!S_ISREG(about.st_mode))
        return FAIL(fault, BAD_INPUT, "'%s' is not a plain file; name the file itself", name);
    *stamp = stamp_of(&about);
    return OK;
}

static enum status open_descriptor(struct file_source *source, const char *path,
                                   struct fault *fault)
{
    struct stat about;
    source->descriptor = open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY);
    if (source->descriptor < 0)
        return cannot_open(source->name, errno, fault);
    if (fstat(source->descriptor, &about) != 0)
        return cannot_open(source->name, errno, fault);
    if (!S_ISREG(about.st_mode))
        return FAIL(fault, BAD_INPUT, "'%s' is not a plain file; name the file itself",
                    source->name);
    source->stamp = stamp_of(&about);
    return digest_begin(&source->digest, fault);
}

enum status file_source_open(const char *path, const char *name, struct file_source **out,
                             struct fault *fault)
{
    enum status status = OK;
    struct file_source *source = calloc(1, sizeof *source);

    *out = NULL;
    if (source == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to open '%s'", name);
    source->descriptor = -1;
    source->name = strdup(name);
    if (source->name == NULL) {
        status = FAIL(fault, NO_MEMORY, "no memory to open '%s'", name);
        goto done;
    }
    status = open_descriptor(source, path, fault);
    if (status != OK)
        goto done;
    *out = source;
    source = NULL; /* handed over */
done:
    file_source_close(source);
    return status;
}

static enum status read_file(void *context, unsigned char *buffer, size_t size, size_t *got,
                             struct fault *fault)
{
    struct file_source *source = context;
    ssize_t n = 0;
    do
        n = read(source->descriptor, buffer, size);
    while (n < 0 && errno == EINTR);
    *got = 0;
    if (n < 0)
        return FAIL(fault, BAD_INPUT, "cannot read '%s': %s; copy the file again", source->name,
                    strerror(errno));
    *got = (size_t)n;
    source->position += n;
    if (source->digest == NULL || n == 0)
        return OK;
    return digest_add(source->digest, buffer, (size_t)n, fault);
}

struct byte_source file_source_bytes(struct file_source *source)
{
    return (struct byte_source){.read = read_file, .context = source};
}

struct file_stamp file_source_stamp(const struct file_source *source)
{
    return source->stamp;
}

int64_t file_source_position(const struct file_source *source)
{
    return source->position;
}

enum status file_source_digest(struct file_source *source, char out[DIGEST_TEXT],
                               struct fault *fault)
{
    unsigned char rest[16384];
    size_t got = 0;
    do {
        enum status status = read_file(source, rest, sizeof rest, &got, fault);
        if (status != OK)
            return status;
    } while (got > 0);
    struct digest *digest = source->digest;
    source->digest = NULL; /* digest_end() frees it, whatever it gives */
    return digest_end(digest, out, fault);
}

void file_source_close(struct file_source *source)
{
    if (source == NULL)
        return;
    digest_free(source->digest);
    if (source->descriptor >= 0)
        (void)close(source->descriptor); /* read only: nothing can be lost */
    free(source->name);
    free(source);
}

static enum status read_memory(void *context, unsigned char *buffer, size_t size, size_t *got,
                               struct fault *fault)
{
    struct memory_source *source = context;
    size_t left = source->size - source->position;
    size_t n = size < left ? size : left;
    (void)fault;
    if (source->piece > 0 && n > source->piece)
        n = source->piece;
    if (n > 0)
        memcpy(buffer, source->bytes + source->position, n);
    source->position += n;
    *got = n;
    return OK;
}

struct byte_source memory_source_bytes(struct memory_source *source)
{
    return (struct byte_source){.read = read_memory, .context = source};
}
