/* utf8.c - see utf8.h. */
#include "ingest/utf8.h"

/* One row of the ABNF: lead bytes from..to, then `more` continuation bytes, of which the first is
 * within low..high and the others within 0x80..0xBF. */
struct lead {
    unsigned char from, to;
    unsigned char more;
    unsigned char low, high;
};

static const struct lead leads[] = {
    {0x00, 0x7F, 0, 0, 0},       {0xC2, 0xDF, 1, 0x80, 0xBF}, {0xE0, 0xE0, 2, 0xA0, 0xBF},
    {0xE1, 0xEC, 2, 0x80, 0xBF}, {0xED, 0xED, 2, 0x80, 0x9F}, {0xEE, 0xEF, 2, 0x80, 0xBF},
    {0xF0, 0xF0, 3, 0x90, 0xBF}, {0xF1, 0xF3, 3, 0x80, 0xBF}, {0xF4, 0xF4, 3, 0x80, 0x8F},
};

/* Bytes of the character at p with `left` bytes to read, 0 when it is not well-formed. */
static size_t character_length(const unsigned char *p, size_t left)
{
    for (size_t i = 0; i < sizeof leads / sizeof leads[0]; i++) {
        const struct lead *lead = &leads[i];
        if (p[0] < lead->from || p[0] > lead->to)
            continue;
        if (lead->more >= left && lead->more > 0)
            return 0;
        if (lead->more > 0 && (p[1] < lead->low || p[1] > lead->high))
            return 0;
        for (size_t k = 2; k <= lead->more; k++)
            if (p[k] < 0x80 || p[k] > 0xBF)
                return 0;
        return 1 + (size_t)lead->more;
    }
    return 0;
}

size_t utf8_valid_length(const char *text, size_t length)
{
    const unsigned char *p = (const unsigned char *)text;
    size_t i = 0;
    while (i < length) {
        size_t n = character_length(p + i, length - i);
        if (n == 0)
            return i;
        i += n;
    }
    return length;
}

size_t utf8_characters(const char *text, size_t length)
{
    size_t n = 0;
    for (size_t i = 0; i < length; i++)
        n += ((unsigned char)text[i] & 0xC0U) != 0x80U;
    return n;
}
