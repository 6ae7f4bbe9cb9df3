/* cut_text.c - see cut_text.h. */
#include "report/cut_text.h"

#include <string.h>

#include "schema/utf8.h"

static const char ellipsis[] = "\xE2\x80\xA6";

/* Bytes of the first n characters, or of all when there are fewer. */
static size_t bytes_of(const char *text, size_t whole, size_t n)
{
    size_t at = 0;

    for (size_t i = 0; i < n && at < whole; i++) {
        unsigned point = 0;
        size_t bytes = utf8_character(text + at, whole - at, &point);
        at += bytes > 0 ? bytes : 1;
    }
    return at;
}

struct cut_text cut_text(const char *text, size_t most)
{
    size_t whole = strlen(text);
    struct cut_text out = {""};

    if (most == 0)
        return out;
    if (most > CUT_TEXT_MOST)
        most = CUT_TEXT_MOST;
    size_t length = bytes_of(text, whole, most);
    if (length == whole) {
        memcpy(out.text, text, length);
        return out;
    }
    length = bytes_of(text, whole, most - 1);
    memcpy(out.text, text, length);
    memcpy(out.text + length, ellipsis, sizeof ellipsis);
    return out;
}
