/* terminal_text.c - see terminal_text.h. */
#include "report/terminal_text.h"

#include <stdio.h>
#include <string.h>

#include "schema/utf8.h"

/* One character as it is shown; gives its bytes in text. */
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

void terminal_text(struct buffer *out, const char *text)
{
    size_t length = strlen(text);
    char shown[16];
    for (size_t i = 0; i < length;) {
        i += show(text + i, length - i, shown);
        buffer_text(out, shown);
    }
}

size_t terminal_width(const char *text)
{
    size_t length = strlen(text);
    size_t width = 0;
    char shown[16];
    for (size_t i = 0; i < length;) {
        i += show(text + i, length - i, shown);
        width += utf8_characters(shown, strlen(shown));
    }
    return width;
}

void terminal_cell(struct buffer *out, const char *text, size_t width, int is_number)
{
    size_t wide = terminal_width(text);
    size_t blanks = wide < width ? width - wide : 0;
    if (!is_number)
        terminal_text(out, text);
    for (size_t i = 0; i < blanks; i++)
        buffer_text(out, " ");
    if (is_number)
        terminal_text(out, text);
    buffer_text(out, " ");
}
