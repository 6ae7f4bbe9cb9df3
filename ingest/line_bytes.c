/* line_bytes.c - see line_bytes.h. */
#include "ingest/line_bytes.h"

#include <string.h>

#include "schema/utf8.h"

static void place_byte(const struct text_line *line, const char *file, size_t offset,
                       struct fault *fault)
{
    fault_where(fault, "%s:%zu:%zu", file, line->number, utf8_characters(line->text, offset) + 1);
}

static enum status bad_nul(const struct text_line *line, const char *file, size_t at,
                           struct fault *fault)
{
    size_t end = at;
    while (end < line->length && line->text[end] == '\0')
        end++;
    enum status status = OK;
    if (end == line->length && end - at > 1)
        status = FAIL(fault, BAD_INPUT,
                      "%zu NUL bytes to the end of the line: the file was made larger than its "
                      "text, or was cut while it was written; limit: nothing after the last row; "
                      "cut the NUL bytes off, or export it again",
                      end - at);
    else
        status = FAIL(fault, BAD_INPUT,
                      "a NUL byte; limit: plain text; the file is no text, or was cut while it was "
                      "written: export it again");
    place_byte(line, file, at, fault);
    return status;
}

static enum status bad_utf8(const struct text_line *line, const char *file, const char *map,
                            size_t at, struct fault *fault)
{
    unsigned byte = (unsigned char)line->text[at];
    enum status status = OK;
    if (map != NULL)
        status = FAIL(fault, BAD_INPUT,
                      "byte 0x%02X is not UTF-8; limit: UTF-8 text; save the file as UTF-8, or "
                      "declare encoding: windows-1252 in map '%.60s' if that wrote it (a degree or "
                      "micro sign is the usual cause)",
                      byte, map);
    else
        status = FAIL(fault, BAD_INPUT,
                      "byte 0x%02X is not UTF-8; limit: UTF-8 text; save the file as UTF-8 (a "
                      "degree sign of an older encoding is the usual cause)",
                      byte);
    place_byte(line, file, at, fault);
    return status;
}

enum status line_bytes_check(const struct text_line *line, const char *file, const char *map,
                             struct fault *fault)
{
    const char *text = line->text;
    size_t length = line->length;

    const char *bad = memchr(text, '\0', length);
    if (bad != NULL)
        return bad_nul(line, file, (size_t)(bad - text), fault);
    bad = memchr(text, '\r', length);
    if (bad != NULL) {
        enum status status =
            FAIL(fault, BAD_INPUT,
                 "a carriage return that no line feed follows; limit: lines end in LF or CR "
                 "LF; convert the line ends");
        place_byte(line, file, (size_t)(bad - text), fault);
        return status;
    }
    size_t valid = utf8_valid_length(text, length);
    return valid == length ? OK : bad_utf8(line, file, map, valid, fault);
}
