/* run.c - runs every browser suite; one plain line, and success, where there is no browser.
 *
 * Usage: run [SUITE ...]. With PICTURES=FOLDER in the environment every page is also kept there as it
 * looks, light, dark, narrow and on paper.                                                          */
#include <CUnit/Basic.h>
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <string.h>

#include "tests/browser/browser.h"
#include "tests/browser/pages.h"

extern CU_TestInfo browser_pages_tests[];
extern CU_TestInfo browser_values_tests[];
extern CU_TestInfo browser_manners_tests[];
extern CU_TestInfo browser_axe_tests[];

static CU_SuiteInfo suites[] = {{"every_page", NULL, NULL, NULL, NULL, browser_pages_tests},
                                {"values", NULL, NULL, NULL, NULL, browser_values_tests},
                                {"manners", NULL, NULL, NULL, NULL, browser_manners_tests},
                                {"axe", NULL, NULL, NULL, NULL, browser_axe_tests},
                                CU_SUITE_INFO_NULL};

static int is_wanted(const char *name, int argc, char **argv)
{
    for (int i = 1; i < argc; i++)
        if (strcmp(argv[i], name) == 0)
            return 1;
    return argc < 2;
}

static void pages_are_made(void)
{
    CU_ASSERT_TRUE(pages_make());
}

static CU_TestInfo first_tests[] = {{"pages are made", pages_are_made}, CU_TEST_INFO_NULL};
static CU_SuiteInfo first_suite[] = {{"pages", NULL, NULL, NULL, NULL, first_tests},
                                     CU_SUITE_INFO_NULL};

static int register_wanted(int argc, char **argv)
{
    if (CU_register_suites(first_suite) != CUE_SUCCESS)
        return 0;
    for (CU_SuiteInfo *suite = suites; suite->pName != NULL; suite++) {
        CU_SuiteInfo one[] = {*suite, CU_SUITE_INFO_NULL};
        if (is_wanted(suite->pName, argc, argv) && CU_register_suites(one) != CUE_SUCCESS)
            return 0;
    }
    return 1;
}

int main(int argc, char **argv)
{
    char why[200];

    if (CU_initialize_registry() != CUE_SUCCESS)
        return 3;
    if (!register_wanted(argc, argv)) {
        CU_cleanup_registry();
        return 3;
    }
    if (!browser_start(why)) {
        (void)printf("browser tests skipped: %s\n", why);
        CU_cleanup_registry();
        return 0;
    }
    CU_basic_set_mode(CU_BRM_NORMAL);
    (void)CU_basic_run_tests();
    int failed = CU_get_number_of_failure_records() > 0;
    CU_cleanup_registry();
    browser_stop();
    pages_remove();
    return failed;
}
