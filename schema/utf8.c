/* utf8.c - see utf8.h. */
#include "schema/utf8.h"

#include <string.h>

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

size_t utf8_character(const char *text, size_t length, unsigned *point)
{
    static const unsigned char masks[] = {0x7F, 0x1F, 0x0F, 0x07};
    const unsigned char *p = (const unsigned char *)text;
    size_t n = character_length(p, length);
    *point = n == 0 ? p[0] : p[0] & masks[(n - 1) & 3];
    for (size_t i = 1; i < n; i++)
        *point = *point << 6 | (p[i] & 0x3FU);
    return n;
}

int utf8_is_control(unsigned point)
{
    return point < 0x20 || (point >= 0x7F && point <= 0x9F) ||
           (point >= 0x202A && point <= 0x202E) || (point >= 0x2066 && point <= 0x2069);
}

size_t utf8_find_control(const char *text, unsigned *point)
{
    size_t length = strlen(text);
    size_t i = 0;
    while (i < length) {
        size_t n = utf8_character(text + i, length - i, point);
        if (utf8_is_control(*point))
            return i;
        i += n > 0 ? n : 1;
    }
    *point = 0;
    return length;
}

int utf8_is_invisible(unsigned point)
{
    static const struct {
        unsigned from, to;
    } ranges[] = {{0xA0, 0xA0},     {0xAD, 0xAD},     {0x2000, 0x200F}, {0x202F, 0x202F},
                  {0x205F, 0x2060}, {0x3000, 0x3000}, {0xFEFF, 0xFEFF}};
    for (size_t i = 0; i < sizeof ranges / sizeof ranges[0]; i++)
        if (point >= ranges[i].from && point <= ranges[i].to)
            return 1;
    return 0;
}

size_t utf8_write(unsigned point, unsigned char out[4])
{
    static const unsigned char marks[] = {0, 0, 0xC0, 0xE0, 0xF0};
    size_t n = 1;
    if (point >= 0x80)
        n = point < 0x800 ? 2 : point < 0x10000 ? 3 : 4;
    for (size_t i = n - 1; i > 0; i--) {
        out[i] = (unsigned char)(0x80U | (point & 0x3FU));
        point >>= 6;
    }
    out[0] = (unsigned char)(marks[n] | point);
    return n;
}
