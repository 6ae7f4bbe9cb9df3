/* test_axe.c - what axe-core, the accessibility checker, finds on every page: nothing serious.
 *
 * axe-core is fetched by `make browser` and is no part of the repository; without it this suite says so
 * and passes; with AXE_ALL=1 in the environment everything it finds is a failure. It is given to the page past its content policy, which tests of their own look at.     */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>

#include "tests/browser/browser.h"
#include "tests/browser/pages.h"
#include "tests/browser/tab.h"
#include "tests/check.h"
#include "tests/scratch.h"

static const struct view views[] = {{"light", 1400, 900, "light", "screen"},
                                    {"dark", 1400, 900, "dark", "screen"},
                                    {"narrow", 420, 900, "light", "screen"}};

static void check_page(enum page_kind kind, const struct view *view, const char *axe)
{
    char wanted[120], got[2000];

    tab_view(view);
    if (!tab_open(page_path(kind)))
        return;
    free(tab_look("unfold", ""));
    free(tab_ask(axe));
    char *found = tab_look("axe", getenv("AXE_ALL") != NULL ? "all" : "");
    (void)snprintf(wanted, sizeof wanted, "%s %s: ", page_name(kind), view->name);
    (void)snprintf(got, sizeof got, "%s%s", wanted, found);
    CHECK_TEXT(got, wanted);
    free(found);
}

static void nothing_serious_is_found(void)
{
    const char *folder = getenv("AXE");
    char *axe = folder != NULL ? scratch_read(folder, "axe.min.js") : NULL;

    if (axe == NULL) {
        (void)printf("\n    axe-core is not there: not checked with it ");
        return;
    }
    browser_do("Page.setBypassCSP", "{\"enabled\":true}");
    for (int kind = 0; kind < PAGE_COUNT; kind++) {
        int has_kin =
            kind != PAGE_NIGHT && kind != PAGE_GLANCE; /* the same panels with other texts */
        for (size_t v = 0; v < (has_kin ? 1 : sizeof views / sizeof views[0]); v++)
            check_page((enum page_kind)kind, &views[v], axe);
    }
    browser_do("Page.setBypassCSP", "{\"enabled\":false}");
    free(axe);
}

CU_TestInfo browser_axe_tests[] = {{"nothing serious is found", nothing_serious_is_found},
                                   CU_TEST_INFO_NULL};
