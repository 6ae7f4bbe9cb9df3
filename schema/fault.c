/* fault.c - filling and printing a fault; see fault.h. */
#include "schema/fault.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "schema/utf8.h"

/* Bytes of a character that begins at text and lacks its end; 0 when there is none. Of another
 * encoding's letter only one byte can be such a beginning, and it counts as cut too. */
static size_t cut_character(const char *text, size_t length)
{
    const unsigned char *p = (const unsigned char *)text;
    size_t n = 1;
    if (p[0] < 0xC2 || p[0] > 0xF4)
        return 0;
    while (n < length && (p[n] & 0xC0U) == 0x80U)
        n++;
    return n < 4 ? n : 0;
}

/* Takes out the characters that are cut in two, wherever a %.*s left them. */
static void leave_out_cut(char *text)
{
    size_t length = strlen(text);
    size_t to = 0;
    size_t from = 0;
    while (from < length) {
        unsigned point = 0;
        size_t n = utf8_character(text + from, length - from, &point);
        size_t cut = n == 0 ? cut_character(text + from, length - from) : 0;
        if (n == 0)
            n = 1;
        if (cut == 0) {
            memmove(text + to, text + from, n);
            to += n;
        }
        from += cut > 0 ? cut : n;
    }
    text[to] = '\0';
}

void fault_set(struct fault *fault, enum status status, const char *file, int line,
               const char *format, ...)
{
    if (fault == NULL)
        return;
    fault->status = status;
    fault->where[0] = '\0';
    (void)snprintf(fault->source, sizeof fault->source, "%s:%d", file, line);
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(fault->text, sizeof fault->text, format, arguments);
    va_end(arguments);
    leave_out_cut(fault->text);
}

void fault_where(struct fault *fault, const char *format, ...)
{
    if (fault == NULL || fault->where[0] != '\0')
        return;
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(fault->where, sizeof fault->where, format, arguments);
    va_end(arguments);
    leave_out_cut(fault->where);
}

/* One character of text as it is shown; gives its bytes in text. */
static size_t show(const char *text, size_t length, char shown[16])
{
    unsigned point = 0;
    size_t n = utf8_character(text, length, &point);
    if (n == 0 || (utf8_is_control(point) && point < 0x100))
        (void)snprintf(shown, 16, "\\x%02x", point);
    else if (utf8_is_control(point))
        (void)snprintf(shown, 16, "\\u%04x", point);
    else
        (void)snprintf(shown, 16, "%.*s", (int)n, text);
    return n > 0 ? n : 1;
}

/* Adds text to out from *used on, as far as whole characters fit. */
static void add_shown(const char *text, char *out, size_t size, size_t *used)
{
    size_t length = strlen(text);
    size_t i = 0;
    while (i < length) {
        char shown[16];
        i += show(text + i, length - i, shown);
        size_t wanted = strlen(shown);
        if (*used + wanted + 1 > size)
            break;
        memcpy(out + *used, shown, wanted);
        *used += wanted;
    }
    if (size > 0)
        out[*used] = '\0';
}

void fault_line(const struct fault *fault, char *out, size_t size)
{
    size_t used = 0;
    add_shown(fault->where, out, size, &used);
    if (fault->where[0] != '\0')
        add_shown(": ", out, size, &used);
    add_shown(fault->text, out, size, &used);
}

int fault_exit_code(enum status status)
{
    switch (status) {
    case OK:
        return 0;
    case BAD_INPUT:
    case NOT_FOUND:
    case NO_RESULT:
        return 2;
    case NO_MEMORY:
    case STORE_FAILED:
    case WRITE_FAILED:
        break;
    }
    return 3;
}
