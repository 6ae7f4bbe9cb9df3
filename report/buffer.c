/* buffer.c - see buffer.h. */
#include "report/buffer.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Room for extra more bytes and the closing NUL; doubles, so that a page costs few copies. */
static int reserve(struct buffer *buffer, size_t extra)
{
    size_t need = buffer->length + extra + 1;
    size_t capacity = buffer->capacity > 0 ? buffer->capacity : 256;

    if (buffer->failed || need <= buffer->capacity)
        return !buffer->failed;
    while (capacity < need)
        capacity *= 2;
    char *bytes = realloc(buffer->bytes, capacity);
    if (bytes == NULL) {
        buffer->failed = 1;
        return 0;
    }
    buffer->bytes = bytes;
    buffer->capacity = capacity;
    return 1;
}

void buffer_add(struct buffer *buffer, const char *bytes, size_t length)
{
    if (length == 0 || !reserve(buffer, length))
        return;
    memcpy(buffer->bytes + buffer->length, bytes, length);
    buffer->length += length;
    buffer->bytes[buffer->length] = '\0';
}

void buffer_text(struct buffer *buffer, const char *text)
{
    buffer_add(buffer, text, strlen(text));
}

void buffer_format(struct buffer *buffer, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    if (length < 0) {
        buffer->failed = 1;
        return;
    }
    if (!reserve(buffer, (size_t)length))
        return;
    va_start(arguments, format);
    (void)vsnprintf(buffer->bytes + buffer->length, (size_t)length + 1, format, arguments);
    va_end(arguments);
    buffer->length += (size_t)length;
}

const char *buffer_string(const struct buffer *buffer)
{
    return buffer->length > 0 ? buffer->bytes : "";
}

void buffer_clear(struct buffer *buffer)
{
    buffer->length = 0;
    if (buffer->bytes != NULL)
        buffer->bytes[0] = '\0';
}

enum status buffer_status(const struct buffer *buffer, const char *what, struct fault *fault)
{
    if (buffer->failed)
        return FAIL(fault, NO_MEMORY, "no memory for %s", what);
    return OK;
}

void buffer_free(struct buffer *buffer)
{
    free(buffer->bytes);
    *buffer = (struct buffer){0};
}
