/* test_manners.c - what the page's own script adds: sorting, the light switch, stops of the Tab key. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/browser/pages.h"
#include "tests/browser/tab.h"
#include "tests/check.h"

static const struct view wide = {"light", 1400, 900, "light", "screen"};

static void click(const char *selector)
{
    char *place = tab_look("middle", selector);
    const char *blank = strchr(place, ' ');

    CHECK(blank != NULL);
    tab_click(strtod(place, NULL), blank != NULL ? strtod(blank, NULL) : 0);
    free(place);
}

static void check_rows(const char *wanted)
{
    char *rows = tab_look("rows", "table.deltas tbody tr");

    CHECK_TEXT(rows, wanted);
    free(rows);
}

static void a_head_sorts_its_column(void)
{
    tab_view(&wide);
    if (!tab_open(page_path(PAGE_FIXTURE)))
        return;
    check_rows("W2|W1|W3|C0|W4|W5"); /* a baseline is its own change of nothing */
    click("th[data-key=k0] button");
    check_rows("W2|W1|W3|C0|W4|W5");
    click("th[data-key=k0] button");
    check_rows("W5|W4|C0|W3|W1|W2");
    CHECK(tab_number("document.querySelectorAll('th[aria-sort=ascending]').length") == 1);
    click("th[data-key=k1] button");
    check_rows("W2|W1|W4|C0|W3|W5");
    tab_check_quiet("sorted");
}

static void check_paper(const char *wanted)
{
    char *colour = tab_look("colour", "body");

    CHECK_TEXT(colour, wanted);
    free(colour);
}

static void the_light_can_be_switched(void)
{
    static const struct view dark = {"dark", 1400, 900, "dark", "screen"};

    tab_view(&wide);
    if (!tab_open(page_path(PAGE_FIXTURE)))
        return;
    check_paper("rgb(247, 246, 242)");
    click("#theme");
    check_paper("rgb(17, 20, 24)");
    click("#theme");
    check_paper("rgb(247, 246, 242)");
    tab_view(&dark);
    if (!tab_open(page_path(PAGE_FIXTURE)))
        return;
    check_paper("rgb(17, 20, 24)");
    click("#theme");
    check_paper("rgb(247, 246, 242)");
}

/* The colours that carry data are the same in both. */
static void data_colours_do_not_change(void)
{
    static const char ask[] = "getComputedStyle(document.querySelector('circle.tap')).fill + "
                              "getComputedStyle(document.querySelector('path.band')).fill";
    static const struct view dark = {"dark", 1400, 900, "dark", "screen"};

    tab_view(&wide);
    if (!tab_open(page_path(PAGE_FIXTURE)))
        return;
    char *first = tab_ask(ask);
    tab_view(&dark);
    char *second = tab_ask(ask);
    CHECK(strstr(first, "rgb(") != NULL);
    CHECK_TEXT(second, first);
    free(first);
    free(second);
}

/* From the top: the way past the bar first; then everything by Tab alone, each seen, and back to the
 * page's start without a trap. Pictures within the table are no stops. */
static void tab_reaches_every_plot_and_nothing_twice(void)
{
    size_t stops = 0;

    tab_view(&wide);
    if (!tab_open(page_path(PAGE_FIXTURE)))
        return;
    tab_key("Tab");
    char *first = tab_ask("document.activeElement.textContent");
    CHECK_TEXT(first, "Skip to the result");
    free(first);
    double plots = tab_number("document.querySelectorAll('svg.plot').length");
    for (; stops < 120 && tab_number("document.activeElement === document.body ? 1 : 0") == 0;
         stops++) {
        (void)tab_number("(document.activeElement.dataset.reached = 1)");
        CHECK(tab_number("document.activeElement.matches('svg.cell') ? 1 : 0") == 0);
        CHECK(tab_number("(function () { var box = document.activeElement.getBoundingClientRect(); "
                         "return box.width > 0 && box.bottom > 0 && box.top < innerHeight ? 1 : 0; "
                         "})()") == 1);
        tab_key("Tab");
    }
    CHECK(tab_number("document.querySelectorAll('svg.plot[data-reached]').length") == plots);
    CHECK(stops < 60);
}

/* A point under the finger or pointer near the window's edge keeps its words inside. */
static void a_tip_stays_inside_a_narrow_window(void)
{
    static const struct view narrow = {"narrow", 420, 900, "light", "screen"};

    tab_view(&narrow);
    if (!tab_open(page_path(PAGE_FIXTURE)))
        return;
    for (int end = 0; end < 2; end++) {
        free(tab_look("focus", "change from the baseline of CL"));
        tab_key(end ? "End" : "Home");
        char *tip = tab_look("tip", "");
        char *stray = tab_look("stray", "");
        CHECK(tip[0] != '\0');
        CHECK_TEXT(stray, "");
        free(tip);
        free(stray);
    }
    free(tab_ask("scrollBy(0, 2000); new Promise(function (done) { setTimeout(done, 100); })"));
    char *tip = tab_look("tip", "");
    CHECK_TEXT(tip, ""); /* it would point at nothing */
    free(tip);
}

static void wait_ms(int milliseconds)
{
    char text[120];

    (void)snprintf(text, sizeof text, "new Promise(function (done) { setTimeout(done, %d); })",
                   milliseconds);
    free(tab_ask(text));
}

static void check_tip(int is_shown)
{
    char *tip = tab_look("tip", "");

    CHECK((tip[0] != '\0') == is_shown);
    free(tip);
}

static void point_at(char *place)
{
    const char *blank = strchr(place, ' ');

    CHECK(blank != NULL);
    tab_point_at(strtod(place, NULL), blank != NULL ? strtod(blank, NULL) : 0);
    free(place);
}

/* WCAG 2.2, 1.4.13: what a pointer brings up can be moved onto, can be dismissed, and else stays as
 * long as the pointer does. */
static void words_stay_under_the_pointer(void)
{
    const int longer_than_the_grace = 700;

    tab_view(&wide);
    if (!tab_open(page_path(PAGE_FIXTURE)))
        return;
    point_at(tab_look("place", "tap T017"));
    check_tip(1);
    point_at(tab_look("centre", "#tip"));
    wait_ms(longer_than_the_grace);
    check_tip(1);
    tab_key("Escape");
    check_tip(0);
    point_at(tab_look("place", "tap T017"));
    check_tip(1);
    wait_ms(longer_than_the_grace);
    check_tip(1);
    tab_point_at(2, 2);
    wait_ms(longer_than_the_grace);
    check_tip(0);
}

CU_TestInfo browser_manners_tests[] = {
    {"words stay under the pointer", words_stay_under_the_pointer},
    {"a head sorts its column", a_head_sorts_its_column},
    {"the light can be switched", the_light_can_be_switched},
    {"data colours do not change", data_colours_do_not_change},
    {"Tab reaches every plot and nothing twice", tab_reaches_every_plot_and_nothing_twice},
    {"a tip stays inside a narrow window", a_tip_stays_inside_a_narrow_window},
    CU_TEST_INFO_NULL};
