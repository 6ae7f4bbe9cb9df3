/* byte_source.c - see byte_source.h. */
#include "ingest/byte_source.h"

#include <errno.h>
#include <inttypes.h>
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
    status = file_open_plain(path, name, &source->descriptor, &source->stamp, fault);
    if (status == OK)
        status = digest_begin(&source->digest, fault);
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
    enum status status = file_read_some(source->descriptor, source->name, buffer, size, got, fault);
    if (status != OK)
        return status;
    source->position += (int64_t)*got;
    if (source->digest == NULL || *got == 0)
        return OK;
    return digest_add(source->digest, buffer, *got, fault);
}

struct byte_source file_source_bytes(struct file_source *source)
{
    return (struct byte_source){.read = read_file, .context = source};
}

struct file_stamp file_source_stamp(const struct file_source *source)
{
    return source->stamp;
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

enum status file_source_settled(const struct file_source *source, struct fault *fault)
{
    struct stat about;
    if (fstat(source->descriptor, &about) != 0)
        return FAIL(fault, BAD_INPUT, "'%s' cannot be looked at: %s; make it readable",
                    source->name, strerror(errno));
    int64_t now = (int64_t)about.st_size;
    if (now == source->stamp.bytes && now == source->position)
        return OK;
    enum status status =
        FAIL(fault, BAD_INPUT,
             "the file is still being written: %" PRId64 " bytes when it was opened, %" PRId64
             " read, %" PRId64 " now; limit: a file at rest; wait for the logger and read it again",
             source->stamp.bytes, source->position, now);
    fault_where(fault, "%s", source->name);
    return status;
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
