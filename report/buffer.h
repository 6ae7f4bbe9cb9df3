/* buffer.h - a growing text: what pages, paths, sentences and CSV files are built in.
 *
 * Zero-initialised it is empty and ready. A failed allocation is remembered and turns every later
 * call into nothing, so that building code needs no check a line; the one who writes the result out
 * asks buffer_status(). The bytes always end in a NUL that is not counted.                         */
#ifndef LAPWING_REPORT_BUFFER_H
#define LAPWING_REPORT_BUFFER_H

#include <stddef.h>

#include "schema/fault.h"

struct buffer {
    char *bytes;
    size_t length, capacity;
    int failed; /* 1: an allocation failed, the text is incomplete */
};

void buffer_add(struct buffer *buffer, const char *bytes, size_t length);
void buffer_text(struct buffer *buffer, const char *text);
void buffer_format(struct buffer *buffer, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* The text; "" while nothing was added. Valid until the next call that adds. */
const char *buffer_string(const struct buffer *buffer);

/* Empties it and keeps the allocation. */
void buffer_clear(struct buffer *buffer);

/* NO_MEMORY when an allocation failed on the way; what names the text in the fault. */
enum status buffer_status(const struct buffer *buffer, const char *what, struct fault *fault);

/* Frees the bytes and leaves it empty and ready. */
void buffer_free(struct buffer *buffer);

#endif
