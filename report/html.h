/* html.h - writes one HTML page into memory: elements that always close, text that is always safe.
 *
 * Tags and attribute names are constants of the program; values and text may come from anywhere and
 * are escaped here and nowhere else. Bytes that are not UTF-8 and marks that turn the direction of
 * writing become U+FFFD, other control characters are dropped. Text is never a printf format: html_format() takes a constant format and escapes what
 * comes out. A zero-initialised struct is an empty page; failures are kept in its buffer and asked
 * for once, by html_status().                                                                      */
#ifndef LAPWING_REPORT_HTML_H
#define LAPWING_REPORT_HTML_H

#include <stddef.h>

#include "report/buffer.h"

enum { HTML_DEPTH = 32 };

struct html {
    struct buffer out;
    const char *open[HTML_DEPTH]; /* tags not yet closed, outermost first */
    size_t depth;
    unsigned next_id; /* ids given out so far */
    int unbalanced;   /* 1: opened too deep, or closed once too often */
};

/* Ends a list of pairs; typed, because a plain NULL may not be as wide as a pointer there. */
#define HTML_END ((const char *)0)

/* <tag name="value" ...>; pairs end with HTML_END. A pair with value NULL is left out. */
void html_open(struct html *page, const char *tag, ...) __attribute__((sentinel));

/* </tag> of the innermost open element. */
void html_close(struct html *page);

/* <tag name="value" .../>: meta, br, and SVG shapes without children. */
void html_empty(struct html *page, const char *tag, ...) __attribute__((sentinel));

/* <tag name="value" ...>text</tag> */
void html_element(struct html *page, const char *tag, const char *text, ...)
    __attribute__((sentinel));

void html_text(struct html *page, const char *text);
void html_format(struct html *page, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Bytes as they are: for constants of the program only, never for anything read. */
void html_raw(struct html *page, const char *constant);

/* Escaped text into any buffer: & < > " ' and the rules above. */
void html_escape(struct buffer *out, const char *text);

/* "c1", "c2", ...: an id that no other call gave out on this page. */
struct html_id {
    char text[16];
};
struct html_id html_next_id(struct html *page);

/* OK when every element is closed and no allocation failed; else NO_MEMORY, or NO_RESULT for an
 * unbalanced page, which is a bug of ours. */
enum status html_status(const struct html *page, struct fault *fault);
void html_free(struct html *page);

#endif
