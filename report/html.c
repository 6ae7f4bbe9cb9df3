/* html.c - see html.h. */
#include "report/html.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/utf8.h"

static const char replacement[] = "\xEF\xBF\xBD"; /* U+FFFD */

static const char *entity(unsigned char byte)
{
    switch (byte) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    default:
        return NULL;
    }
}

/* What ends a line or separates words in other places; a page has lines of its own. */
static int is_blank(unsigned point)
{
    return point == '\n' || point == '\t' || point == 0x2028 || point == 0x2029;
}

/* Marks that turn the direction of writing would show the text after them, which is the program's, in
 * another order than it has; what was there is shown in their place, as with bytes that are no UTF-8. */
static size_t escape_one(struct buffer *out, const char *text, size_t length)
{
    unsigned point = 0;
    size_t bytes = utf8_character(text, length, &point);
    const char *named = entity((unsigned char)text[0]);
    int turns = point >= 0x202A && utf8_is_control(point);

    if (bytes == 0 || turns)
        buffer_text(out, replacement);
    else if (named != NULL)
        buffer_text(out, named);
    else if (is_blank(point))
        buffer_text(out, " ");
    else if (!utf8_is_control(point))
        buffer_add(out, text, bytes);
    return bytes > 0 ? bytes : 1;
}

void html_escape(struct buffer *out, const char *text)
{
    size_t length = strlen(text);

    for (size_t at = 0; at < length;)
        at += escape_one(out, text + at, length - at);
}

static void attributes(struct html *page, va_list pairs)
{
    const char *name = NULL;

    while ((name = va_arg(pairs, const char *)) != NULL) {
        const char *value = va_arg(pairs, const char *);
        if (value == NULL)
            continue;
        buffer_text(&page->out, " ");
        buffer_text(&page->out, name);
        buffer_text(&page->out, "=\"");
        html_escape(&page->out, value);
        buffer_text(&page->out, "\"");
    }
}

static void begin_tag(struct html *page, const char *tag, va_list pairs)
{
    buffer_text(&page->out, "<");
    buffer_text(&page->out, tag);
    attributes(page, pairs);
}

static void push(struct html *page, const char *tag)
{
    if (page->depth == HTML_DEPTH) {
        page->unbalanced = 1;
        return;
    }
    page->open[page->depth++] = tag;
}

void html_open(struct html *page, const char *tag, ...)
{
    va_list pairs;

    va_start(pairs, tag);
    begin_tag(page, tag, pairs);
    va_end(pairs);
    buffer_text(&page->out, ">");
    push(page, tag);
}

/* Lines end after these, so that two pages can be compared with diff. */
static int ends_line(const char *tag)
{
    static const char *const inside[] = {"b", "span", "small", "a", "code", "title", "text"};

    for (size_t i = 0; i < sizeof inside / sizeof inside[0]; i++)
        if (strcmp(tag, inside[i]) == 0)
            return 0;
    return 1;
}

void html_close(struct html *page)
{
    if (page->depth == 0) {
        page->unbalanced = 1;
        return;
    }
    const char *tag = page->open[--page->depth];
    buffer_text(&page->out, "</");
    buffer_text(&page->out, tag);
    buffer_text(&page->out, ends_line(tag) ? ">\n" : ">");
}

void html_empty(struct html *page, const char *tag, ...)
{
    va_list pairs;

    va_start(pairs, tag);
    begin_tag(page, tag, pairs);
    va_end(pairs);
    buffer_text(&page->out, "/>");
}

void html_element(struct html *page, const char *tag, const char *text, ...)
{
    va_list pairs;

    va_start(pairs, text);
    begin_tag(page, tag, pairs);
    va_end(pairs);
    buffer_text(&page->out, ">");
    push(page, tag);
    html_text(page, text);
    html_close(page);
}

void html_text(struct html *page, const char *text)
{
    html_escape(&page->out, text);
}

/* Formatted aside first: escaping changes the length. */
void html_format(struct html *page, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    char *whole = length >= 0 ? malloc((size_t)length + 1) : NULL;
    if (whole == NULL) {
        page->out.failed = 1;
        return;
    }
    va_start(arguments, format);
    (void)vsnprintf(whole, (size_t)length + 1, format, arguments);
    va_end(arguments);
    html_text(page, whole);
    free(whole);
}

void html_raw(struct html *page, const char *constant)
{
    buffer_text(&page->out, constant);
}

struct html_id html_next_id(struct html *page)
{
    struct html_id id;

    page->next_id++;
    (void)snprintf(id.text, sizeof id.text, "c%u", page->next_id);
    return id;
}

enum status html_status(const struct html *page, struct fault *fault)
{
    if (page->unbalanced || page->depth != 0)
        return FAIL(fault, NO_RESULT, "the page has elements that do not close; this is a bug");
    return buffer_status(&page->out, "the page", fault);
}

void html_free(struct html *page)
{
    buffer_free(&page->out);
    *page = (struct html){0};
}
