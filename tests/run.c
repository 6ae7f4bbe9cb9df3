/* run.c - runs every suite and ends with CUnit's own summary; fails on an empty registry.
 *
 * Usage: run [SUITE ...]   all suites by default. The list is tests/suites.def.                    */
#include <CUnit/Basic.h>
#include <CUnit/CUnit.h>
#include <gsl/gsl_errno.h>
#include <stdio.h>
#include <string.h>

#define SUITE(name) extern CU_TestInfo name##_tests[];
#include "tests/suites.def"
#undef SUITE

static CU_SuiteInfo suites[] = {
#define SUITE(name) {#name, NULL, NULL, NULL, NULL, name##_tests},
#include "tests/suites.def"
#undef SUITE
    CU_SUITE_INFO_NULL};

static int is_wanted(const char *name, int argc, char **argv)
{
    for (int i = 1; i < argc; i++)
        if (strcmp(argv[i], name) == 0)
            return 1;
    return argc < 2;
}

static int register_wanted(int argc, char **argv)
{
    for (CU_SuiteInfo *suite = suites; suite->pName != NULL; suite++) {
        CU_SuiteInfo one[] = {*suite, CU_SUITE_INFO_NULL};
        if (!is_wanted(suite->pName, argc, argv))
            continue;
        if (CU_register_suites(one) != CUE_SUCCESS || CU_get_error() != CUE_SUCCESS) {
            (void)fprintf(stderr, "tests/run: suite %s: %s\n", suite->pName, CU_get_error_msg());
            return 0;
        }
    }
    return 1;
}

int main(int argc, char **argv)
{
    (void)gsl_set_error_handler_off(); /* the default one aborts the program */
    if (CU_initialize_registry() != CUE_SUCCESS)
        return 3;
    if (!register_wanted(argc, argv)) {
        CU_cleanup_registry();
        return 3;
    }
    CU_basic_set_mode(CU_BRM_NORMAL);
    (void)CU_basic_run_tests();
    int failed = CU_get_number_of_failure_records() > 0;
    int empty = CU_get_number_of_tests_run() == 0;
    CU_cleanup_registry();
    return failed || empty;
}
