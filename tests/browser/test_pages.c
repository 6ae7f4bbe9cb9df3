/* test_pages.c - every page, in every light and width: quiet, whole, safe, and readable without its
 * script. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/browser/browser.h"
#include "tests/browser/pages.h"
#include "tests/browser/tab.h"
#include "tests/check.h"

/* 320 CSS pixels are a window of 1280 at 400 % (WCAG 2.2, 1.4.10). */
static const struct view views[] = {{"light", 1400, 900, "light", "screen"},
                                    {"dark", 1400, 900, "dark", "screen"},
                                    {"narrow", 420, 900, "light", "screen"},
                                    {"zoomed", 320, 256, "light", "screen"}};
enum { VIEWS = sizeof views / sizeof views[0] };

/* A4 landscape less the margins of the style sheet, in CSS pixels of 1/96 inch. */
static const struct view on_paper = {"paper", 1032, 710, "light", "print"};

/* Says of which page, and how far. */
static void check_within(const char *what, double found, double least, double most)
{
    char wanted[120], got[120];

    (void)snprintf(wanted, sizeof wanted, "%s: within %g to %g", what, least, most);
    (void)snprintf(got, sizeof got, "%s: %g", what, found);
    CHECK_TEXT(found >= least && found <= most ? wanted : got, wanted);
}

/* look.FUNCTION() finds nothing; what names page and view. */
static void check_none(const char *function, const char *what)
{
    char wanted[200], got[1200];
    char *found = tab_look(function, "");

    (void)snprintf(wanted, sizeof wanted, "%s %s: ", what, function);
    (void)snprintf(got, sizeof got, "%s%s", wanted, found != NULL ? found : "");
    CHECK_TEXT(got, wanted);
    free(found);
}

/* For a person to look at, where PICTURES names a folder. */
static void keep(void (*picture)(const char *folder, const char *name), const char *name)
{
    const char *folder = getenv("PICTURES");

    if (folder != NULL && folder[0] != '\0')
        picture(folder, name);
}

static void every_view_is_quiet_and_fits(void)
{
    static const char *const nothing[] = {"doubles", "lost",     "sideways",  "cut",   "overlaps",
                                          "outside", "headings", "landmarks", "plots", "strange"};

    for (int kind = 0; kind < PAGE_COUNT; kind++) {
        for (int v = 0; v < VIEWS; v++) {
            char what[80];
            (void)snprintf(what, sizeof what, "%s %s", page_name((enum page_kind)kind),
                           views[v].name);
            tab_view(&views[v]);
            if (!tab_open(page_path((enum page_kind)kind)))
                return;
            for (size_t i = 0; i < sizeof nothing / sizeof nothing[0]; i++)
                check_none(nothing[i], what);
            keep(tab_picture, what);
            free(tab_look("unfold", ""));
            (void)snprintf(what, sizeof what, "%s %s, unfolded", page_name((enum page_kind)kind),
                           views[v].name);
            check_none("sideways", what);
            tab_check_quiet(what);
        }
    }
}

/* The page names no resource, so a request would be somebody else's; this shows that one is seen. */
static void a_request_and_a_complaint_would_be_seen(void)
{
    tab_view(&views[0]);
    if (!tab_open(page_path(PAGE_FIXTURE)))
        return;
    free(tab_ask(
        "var image = document.createElement('img'); image.src = 'https://example.invalid/'; "
        "document.body.appendChild(image); 1"));
    free(tab_ask("var script = document.createElement('script'); script.textContent = 'alert(1)'; "
                 "document.body.appendChild(script); 1"));
    free(tab_ask("new Promise(function (done) { setTimeout(done, 200); })"));
    CHECK(browser_seen()->errors + browser_seen()->requests >= 2);
    CHECK(browser_seen()->dialogs == 0);
    free(tab_ask("alert('ours'); 1"));
    CHECK(browser_seen()->dialogs == 1);
    CHECK(tab_number("document.querySelectorAll('script').length") == 2);
}

static void attacks_are_shown_as_they_are_written(void)
{
    tab_view(&views[0]);
    if (!tab_open(page_path(PAGE_HOSTILE)))
        return;
    CHECK(tab_number("document.querySelectorAll('script').length") == 1);
    CHECK(
        tab_number("document.querySelectorAll('img, iframe, object, embed, link, base, form, main "
                   "style, a:not([href^=\"#\"]):not([href=\"index.html\"])').length") == 0);
    CHECK(
        tab_number("Array.prototype.filter.call(document.querySelectorAll('*'), function (node) { "
                   "return Array.prototype.some.call(node.attributes, function (one) { return "
                   "/^on|^style$/i.test(one.name); }) && node.id !== 'tip'; }).length") == 0);
    CHECK(tab_number("/[\\u202a-\\u202e\\u2066-\\u2069\\u0000-\\u0008]/.test("
                     "document.documentElement.outerHTML) ? 1 : 0") == 0);
    char *text = tab_ask("document.body.textContent");
    CHECK_CONTAINS(text, hostile_name);
    CHECK_CONTAINS(text, "\"><img src=x onerror=alert(2)>");
    CHECK_CONTAINS(text, "javascript:alert(3)");
    CHECK_CONTAINS(text, "]]><script>alert(9)</script><!--");
    CHECK_CONTAINS(text, "\xEF\xBF\xBD(");
    free(text);
    text = tab_ask("document.title");
    CHECK_CONTAINS(text, "</title><script>alert(6)</script>");
    free(text);
    /* Marks speak for taps: hovering one is where a name could still act. */
    char *place = tab_look("place", "tap T001");
    double x = strtod(place, NULL);
    const char *blank = strchr(place, ' ');
    tab_point_at(x, blank != NULL ? strtod(blank, NULL) : 0);
    char *tip = tab_look("tip", "");
    CHECK_CONTAINS(tip, "\" onload=\"alert(7)\"");
    free(tip);
    free(place);
    tab_check_quiet("hostile, hovered");
}

/* Words of the page as laid out, and what its marks say. */
static char *words_without(int scripts, enum page_kind kind)
{
    tab_scripts(scripts);
    if (!tab_open(page_path(kind)))
        return NULL;
    free(tab_look("unfold", ""));
    char *words = tab_look("words", "h1, h2, h3, p, li, dt, dd, th, td, summary, figcaption");
    tab_scripts(1);
    return words;
}

static void all_is_there_without_scripts(void)
{
    tab_view(&views[0]);
    for (int kind = 0; kind < PAGE_COUNT; kind++) {
        char *with = words_without(1, (enum page_kind)kind);
        double marks = tab_number("document.querySelectorAll('[data-says]').length");
        char *without = words_without(0, (enum page_kind)kind);
        CHECK(with != NULL && without != NULL && strlen(with) > 200);
        CHECK(with != NULL && without != NULL && strcmp(with, without) == 0);
        CHECK(tab_number("document.querySelectorAll('svg title').length") == marks);
        CHECK(tab_number("document.querySelectorAll('[data-says]').length") == 0);
        CHECK(
            tab_number("Array.prototype.filter.call(document.querySelectorAll('button'), function "
                       "(one) { return one.offsetParent !== null; }).length") == 0);
        free(with);
        free(without);
    }
}

static void the_result_is_on_page_one(void)
{
    static const enum page_kind nights[] = {PAGE_NIGHT, PAGE_FIXTURE};

    for (size_t i = 0; i < sizeof nights / sizeof nights[0]; i++) {
        tab_view(&on_paper);
        if (!tab_open(page_path(nights[i])))
            return;
        double bottom = tab_number("look.bottom('#result')");
        CHECK(bottom > 100 && bottom <= on_paper.height);
        check_none("sideways", page_name(nights[i]));
        CHECK(tab_number("document.querySelector('header.bar').offsetParent === null ? 1 : 0") ==
              1);
        size_t pages = tab_paper_pages();
        keep(tab_paper, page_name(nights[i]));
        check_within(page_name(nights[i]), (double)pages, 2, 9);
        tab_check_quiet("paper");
    }
}

/* A4 upright less its margins; whatever the names and however many the runs. */
static void a_sheet_is_one_page(void)
{
    static const enum page_kind sheets[] = {PAGE_PROOF, PAGE_HOSTILE_PROOF};
    const struct view upright = {"paper", 703, 1047, "light", "print"};

    for (size_t i = 0; i < sizeof sheets / sizeof sheets[0]; i++) {
        tab_view(&upright);
        if (!tab_open(page_path(sheets[i])))
            return;
        check_none("sideways", page_name(sheets[i]));
        keep(tab_paper, page_name(sheets[i]));
        CHECK(tab_paper_pages() == 1);
        tab_check_quiet("sheet");
    }
    tab_view(&views[0]);
    if (!tab_open(page_path(PAGE_PROOF)))
        return;
    CHECK(tab_number("document.querySelectorAll('img[src^=\"data:image/png;base64,\"]').length") ==
          1);
    CHECK(tab_number("document.querySelector('img').naturalWidth") == 300);
}

/* On paper a dark window is light too. */
static void paper_is_light(void)
{
    const struct view dark_paper = {"paper", 1032, 710, "dark", "print"};

    tab_view(&dark_paper);
    if (!tab_open(page_path(PAGE_FIXTURE)))
        return;
    char *colour = tab_look("colour", "body");
    CHECK_TEXT(colour, "rgb(255, 255, 255)");
    free(colour);
    free(tab_ask("document.documentElement.dataset.theme = 'dark'; 1"));
    colour = tab_look("colour", "body");
    CHECK_TEXT(colour, "rgb(255, 255, 255)");
    free(colour);
}

/* A window of 1400 by 900 holds the answer: headline, facts, and the table to its last row. */
static void eight_configurations_fit_the_first_screen(void)
{
    static const enum page_kind nights[] = {PAGE_NIGHT, PAGE_FIXTURE, PAGE_EIGHT, PAGE_MANY};

    for (size_t i = 0; i < sizeof nights / sizeof nights[0]; i++) {
        tab_view(&views[0]);
        if (!tab_open(page_path(nights[i])))
            return;
        check_within(page_name(nights[i]), tab_number("look.bottom('table.deltas')"), 300,
                     views[0].height);
        CHECK(tab_number("document.querySelectorAll('table.deltas')[0].tBodies[0].rows.length") <=
              9);
    }
}

/* Names of 45 characters and changes of three lines: no row is low, but the best part's is in sight. */
static void long_names_leave_the_answer_in_sight(void)
{
    tab_view(&views[0]);
    if (!tab_open(page_path(PAGE_LARGE)))
        return;
    double bottom = tab_number("look.bottom('table.deltas tbody tr')");
    CHECK(bottom > 300 && bottom <= views[0].height);
    CHECK(tab_number("document.querySelectorAll('table.deltas')[0].tBodies[0].rows.length") <= 9);
}

CU_TestInfo browser_pages_tests[] = {
    {"eight configurations fit the first screen", eight_configurations_fit_the_first_screen},
    {"long names leave the answer in sight", long_names_leave_the_answer_in_sight},
    {"every view is quiet and fits", every_view_is_quiet_and_fits},
    {"a request and a complaint would be seen", a_request_and_a_complaint_would_be_seen},
    {"attacks are shown as they are written", attacks_are_shown_as_they_are_written},
    {"all is there without scripts", all_is_there_without_scripts},
    {"the result is on page one", the_result_is_on_page_one},
    {"a sheet is one page", a_sheet_is_one_page},
    {"paper is light", paper_is_light},
    CU_TEST_INFO_NULL};
