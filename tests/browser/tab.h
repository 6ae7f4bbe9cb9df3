/* tab.h - what a reader does with a page: opens it, looks, points, types; by the browser of browser.h.
 *
 * Numbers of a screen are CSS pixels. Failures are failed checks. Texts are the caller's to free.     */
#ifndef LAPWING_BROWSER_TAB_H
#define LAPWING_BROWSER_TAB_H

#include <stddef.h>

struct view {
    const char *name;
    int width, height;
    const char *scheme; /* "light" or "dark" */
    const char *media;  /* "screen" or "print" */
};
void tab_view(const struct view *view);

/* Scripts of pages that are opened from now on: 1 run, 0 not. */
void tab_scripts(int run);

/* Opens a file by its whole path and waits for it; 0 when that failed, which has failed a check. What the page does from
 * here on is counted (browser_seen()). */
int tab_open(const char *path);

/* The value of an expression in the page, whose file look.js gives it the functions of `look`. */
char *tab_ask(const char *expression);
double tab_number(const char *expression);

/* The value of look.NAME(text). */
char *tab_look(const char *function, const char *text);

/* Presses and lets go of a key: "ArrowRight", "Home", "Escape", "Tab". */
void tab_key(const char *key);
void tab_point_at(double x, double y);
void tab_click(double x, double y);

/* Nothing outside was asked for, nothing was complained about, no foreign script ran. */
void tab_check_quiet(const char *what);

/* The page as it looks into folder/name.png; in a view of print as paper into folder/name.pdf. */
void tab_picture(const char *folder, const char *name);
void tab_paper(const char *folder, const char *name);

/* Pages on paper, A4 landscape as the style sheet asks. */
size_t tab_paper_pages(void);

#endif
