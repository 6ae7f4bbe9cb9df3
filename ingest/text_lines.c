/* text_lines.c - see text_lines.h. */
#include "ingest/text_lines.h"

#include <stdlib.h>
#include <string.h>

#include "schema/utf8.h"

enum { BUFFER_SIZE = LINE_LENGTH_MAX + 2 }; /* the longest line and CR LF */

struct text_lines {
    struct byte_source source;
    char *name;
    char *buffer;
    size_t begin;   /* of the bytes not yet handed out */
    size_t end;     /* of the bytes read */
    size_t scanned; /* bytes after begin known to hold no line feed */
    size_t number;  /* lines handed out */
    char end_mark;  /* line feed, or carriage return when there is no line feed */
    int started;    /* the byte-order mark has been looked at */
    int exhausted;  /* the source has no more */
};

enum status text_lines_open(struct byte_source source, const char *name, struct text_lines **out,
                            struct fault *fault)
{
    struct text_lines *lines = calloc(1, sizeof *lines);

    *out = NULL;
    if (lines == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to read '%s'", name);
    lines->source = source;
    lines->end_mark = '\n';
    lines->name = strdup(name);
    lines->buffer = malloc(BUFFER_SIZE);
    if (lines->name == NULL || lines->buffer == NULL) {
        text_lines_close(lines);
        return FAIL(fault, NO_MEMORY, "no memory to read '%s'", name);
    }
    *out = lines;
    return OK;
}

const char *text_lines_name(const struct text_lines *lines)
{
    return lines->name;
}

void text_lines_close(struct text_lines *lines)
{
    if (lines == NULL)
        return;
    free(lines->name);
    free(lines->buffer);
    free(lines);
}

static enum status fill(struct text_lines *lines, struct fault *fault)
{
    size_t got = 0;
    if (lines->begin > 0) {
        memmove(lines->buffer, lines->buffer + lines->begin, lines->end - lines->begin);
        lines->end -= lines->begin;
        lines->begin = 0;
    }
    enum status status =
        lines->source.read(lines->source.context, (unsigned char *)lines->buffer + lines->end,
                           BUFFER_SIZE - lines->end, &got, fault);
    if (status != OK)
        return status;
    lines->end += got;
    lines->exhausted = got == 0;
    return OK;
}

static void give_up(struct text_lines *lines)
{
    lines->exhausted = 1;
    lines->begin = lines->end;
    lines->scanned = 0;
}

/* Three bytes tell every mark apart; a source may hand them out one by one. */
static enum status look_at_mark(struct text_lines *lines, struct fault *fault)
{
    lines->started = 1;
    while (lines->end < 3 && !lines->exhausted) {
        enum status status = fill(lines, fault);
        if (status != OK)
            return status;
    }
    const unsigned char *b = (const unsigned char *)lines->buffer;
    if (lines->end >= 2 && ((b[0] == 0xFF && b[1] == 0xFE) || (b[0] == 0xFE && b[1] == 0xFF))) {
        give_up(lines);
        enum status status =
            FAIL(fault, BAD_INPUT, "the file is UTF-16; limit: UTF-8; save it as UTF-8 text");
        fault_where(fault, "%s:1:1", lines->name);
        return status;
    }
    if (lines->end >= 3 && b[0] == 0xEF && b[1] == 0xBB && b[2] == 0xBF)
        lines->begin = 3;
    return OK;
}

/* A first line that does not end for a mebibyte, or for the whole file: do carriage returns end it? */
static int has_returns_only(const struct text_lines *lines)
{
    return lines->number == 0 && lines->end_mark == '\n' && lines->scanned > 0 &&
           memchr(lines->buffer + lines->begin, '\r', lines->scanned) != NULL;
}

/* Reads on until the buffer holds a whole line; *length is then its length with the line's end, or 0
 * when the file ends first. */
static enum status find_line(struct text_lines *lines, size_t *length, struct fault *fault)
{
    *length = 0;
    for (;;) {
        const char *from = lines->buffer + lines->begin + lines->scanned;
        const char *feed =
            memchr(from, lines->end_mark, lines->end - lines->begin - lines->scanned);
        if (feed != NULL) {
            *length = (size_t)(feed - (lines->buffer + lines->begin)) + 1;
            return OK;
        }
        lines->scanned = lines->end - lines->begin;
        int is_searched = lines->exhausted || lines->scanned > LINE_LENGTH_MAX + 1;
        if (is_searched && has_returns_only(lines)) {
            lines->end_mark = '\r';
            lines->scanned = 0;
            continue;
        }
        if (is_searched)
            return OK;
        enum status status = fill(lines, fault);
        if (status != OK)
            return status;
    }
}

static enum status too_long(struct text_lines *lines, struct fault *fault)
{
    enum status status = OK;
    if (lines->buffer[lines->begin] == '\0')
        status =
            FAIL(fault, BAD_INPUT,
                 "more than 1 MiB of NUL bytes: the file was made larger than its text; limit: "
                 "nothing after the last row; cut the NUL bytes off, or export it again");
    else
        status = FAIL(fault, BAD_INPUT,
                      "the line is longer than 1 MiB; limit: 1048576 bytes a line; check that this "
                      "is a text log with line feeds");
    give_up(lines);
    fault_where(fault, "%s:%zu:1", lines->name, lines->number + 1);
    return status;
}

static enum status mixed_ends(struct text_lines *lines, const char *text, const char *feed,
                              struct fault *fault)
{
    give_up(lines);
    enum status status =
        FAIL(fault, BAD_INPUT,
             "a line feed, after lines that end in a carriage return alone; limit: one kind "
             "of line end; two files may have been put together: convert the line ends");
    fault_where(fault, "%s:%zu:%zu", lines->name, lines->number + 1,
                utf8_characters(text, (size_t)(feed - text)) + 1);
    return status;
}

/* Bytes of the line without its end. */
static size_t content_length(const char *text, size_t size, int terminated)
{
    if (!terminated)
        return size;
    return size >= 2 && text[size - 2] == '\r' ? size - 2 : size - 1;
}

enum status text_lines_next(struct text_lines *lines, struct text_line *line, int *got,
                            struct fault *fault)
{
    enum status status = OK;
    size_t size = 0;

    *got = 0;
    if (!lines->started)
        status = look_at_mark(lines, fault);
    if (status == OK)
        status = find_line(lines, &size, fault);
    if (status != OK)
        return status;
    int terminated = size > 0;
    if (!terminated)
        size = lines->end - lines->begin;
    if (size == 0)
        return OK;
    char *text = lines->buffer + lines->begin;
    size_t length = content_length(text, size, terminated);
    if (length > LINE_LENGTH_MAX)
        return too_long(lines, fault);
    const char *feed = lines->end_mark == '\r' ? memchr(text, '\n', length) : NULL;
    if (feed != NULL)
        return mixed_ends(lines, text, feed, fault);
    lines->begin += size;
    lines->scanned = 0;
    lines->number++;
    *line = (struct text_line){text, length, lines->number, terminated};
    *got = 1;
    return OK;
}
