/* test_scratch.c - a test's folder goes with all that is in it, and with nothing else. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include "tests/check.h"
#include "tests/scratch.h"

static void what_a_link_points_at_stays(void)
{
    char folder[SCRATCH_PATH], other[SCRATCH_PATH], link_path[SCRATCH_PATH + 8];
    CU_ASSERT_FATAL(scratch_make(folder) && scratch_make(other));
    CHECK(scratch_write(other, "kept.txt", "kept"));
    (void)snprintf(link_path, sizeof link_path, "%s/link", folder);
    CHECK(symlink(other, link_path) == 0);
    scratch_remove(folder);
    CHECK(access(folder, F_OK) != 0);
    char *text = scratch_read(other, "kept.txt");
    CHECK_TEXT(text, "kept");
    free(text);
    scratch_remove(other);
    CHECK(access(other, F_OK) != 0);
}

extern CU_TestInfo scratch_tests[];
CU_TestInfo scratch_tests[] = {{"what a link points at stays", what_a_link_points_at_stays},
                               CU_TEST_INFO_NULL};
