/* html.c - see html.h. */
#include "report/html.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char replacement[] = "\xEF\xBF\xBD"; /* U+FFFD */

static int is_continuation(unsigned char byte)
{
    return (byte & 0xC0U) == 0x80U;
}

/* Length of the well-formed UTF-8 sequence at text, 0 when there is none. Overlong forms,
 * surrogates and values above U+10FFFF are not well formed (Unicode, table 3-7). */
static size_t sequence_length(const unsigned char *text)
{
    unsigned char lead = text[0];

    if (lead < 0x80)
        return 1;
    if (lead >= 0xC2 && lead <= 0xDF)
        return is_continuation(text[1]) ? 2 : 0;
    if (lead >= 0xE0 && lead <= 0xEF) {
        unsigned char least = lead == 0xE0 ? 0xA0 : 0x80;
        unsigned char most = lead == 0xED ? 0x9F : 0xBF;
        int ok = text[1] >= least && text[1] <= most && is_continuation(text[2]);
        return ok ? 3 : 0;
    }
    if (lead >= 0xF0 && lead <= 0xF4) {
        unsigned char least = lead == 0xF0 ? 0x90 : 0x80;
        unsigned char most = lead == 0xF4 ? 0x8F : 0xBF;
        int ok = text[1] >= least && text[1] <= most && is_continuation(text[2]) &&
                 is_continuation(text[3]);
        return ok ? 4 : 0;
    }
    return 0;
}

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

/* C0 and C1 controls, and delete; line ends and tabs separate words, so they become blanks. */
static int is_control(const unsigned char *text, size_t length)
{
    if (length == 1)
        return text[0] < 0x20 || text[0] == 0x7F;
    return length == 2 && text[0] == 0xC2 && text[1] < 0xA0;
}

static size_t escape_one(struct buffer *out, const unsigned char *text)
{
    size_t length = sequence_length(text);
    const char *named = entity(text[0]);

    if (length == 0)
        buffer_text(out, replacement);
    else if (named != NULL)
        buffer_text(out, named);
    else if (text[0] == '\n' || text[0] == '\t')
        buffer_text(out, " ");
    else if (!is_control(text, length))
        buffer_add(out, (const char *)text, length);
    return length > 0 ? length : 1;
}

void html_escape(struct buffer *out, const char *text)
{
    const unsigned char *at = (const unsigned char *)text;

    while (*at != '\0')
        at += escape_one(out, at);
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
