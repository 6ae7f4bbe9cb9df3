/* page.h - the shell of every page: head, policy, style sheet, script, bar, foot.
 *
 * A page is one file that asks nothing of the network. Its content policy names the hashes of the
 * one style sheet (page.css) and the one script (page.js), so nothing else can run, whatever a name
 * in a campaign says; pictures are part of the page itself; style attributes are not used. All of it reads without the script.           */
#ifndef LAPWING_REPORT_PAGE_H
#define LAPWING_REPORT_PAGE_H

#include <stddef.h>

#include "report/html.h"

struct page_link {
    const char *id;    /* of the section; or a file beside the page, which has a dot */
    const char *title; /* in the bar */
};

/* Doctype to <main>. links tells the bar what to offer, n of them. */
enum status page_begin(struct html *page, const char *title, const char *name,
                       const struct page_link *links, size_t n, struct fault *fault);

/* The same for a page that is one sheet of paper, upright. */
enum status page_begin_sheet(struct html *page, const char *title, const char *name,
                             const struct page_link *links, size_t n, struct fault *fault);

/* </main> to the end. */
void page_end(struct html *page, const char *foot);

/* A section with its heading and one line that says why it is there; closed by html_close(). */
void page_section(struct html *page, const char *id, const char *title, const char *why);

/* <div> for what may be wider or longer than its place; the keyboard reaches it, to scroll. label names
 * it; closed by html_close(). */
void page_scroller(struct html *page, const char *class, const char *label);

/* A chip: a symbol and a word on a tint. */
enum chip { CHIP_GOOD, CHIP_BAD, CHIP_LOOK, CHIP_PLAIN };
void page_chip(struct html *page, enum chip chip, const char *symbol, const char *word);

#endif
