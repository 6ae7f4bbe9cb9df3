/* byte_source.h - where the reader's bytes come from: a file, or memory in the tests.
 *
 * A file is read once: its SHA-256 is made of the very bytes that are parsed. The memory source can
 * hand out pieces of 1, 2, 3 ... bytes, which is how the reader's carry is tested.                  */
#ifndef LAPWING_BYTE_SOURCE_H
#define LAPWING_BYTE_SOURCE_H

#include <stddef.h>
#include <stdint.h>

#include "schema/digest.h"
#include "schema/fault.h"
#include "schema/file_read.h"

struct byte_source {
    /* Fills at most size bytes; *got is 0 at the end and only there. */
    enum status (*read)(void *context, unsigned char *buffer, size_t size, size_t *got,
                        struct fault *fault);
    void *context; /* belongs to whoever made the source */
};

struct file_source;

/* Opens path for one pass; name and statuses as of file_open_plain(). On OK the caller owns *source and ends it with
 * file_source_close(); name is copied. */
enum status file_source_open(const char *path, const char *name, struct file_source **source,
                             struct fault *fault);
struct byte_source file_source_bytes(struct file_source *source);

/* The stamp at the time of opening. */
struct file_stamp file_source_stamp(const struct file_source *source);

/* Reads what is left, so that the digest is of the whole file, and ends the digest. Once only. */
enum status file_source_digest(struct file_source *source, char out[DIGEST_TEXT],
                               struct fault *fault);
/* BAD_INPUT when the file's size is no longer that of the opening, or other than the bytes handed out:
 * it is still being written. After file_source_digest(), which reads to the end. */
enum status file_source_settled(const struct file_source *source, struct fault *fault);
void file_source_close(struct file_source *source); /* NULL is fine */

struct memory_source {
    const unsigned char *bytes;
    size_t size;
    size_t position; /* 0 to begin with */
    size_t piece;    /* bytes a call; 0: as many as asked for */
};

struct byte_source memory_source_bytes(struct memory_source *source);

#endif
