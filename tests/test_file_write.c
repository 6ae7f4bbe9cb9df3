/* test_file_write.c - schema/file_write.c. */
#include <CUnit/CUnit.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "schema/file_write.h"
#include "tests/check.h"
#include "tests/scratch.h"

static size_t entries(const char *folder)
{
    size_t n = 0;
    DIR *directory = opendir(folder);
    CHECK(directory != NULL);
    if (directory == NULL)
        return 0;
    while (readdir(directory) != NULL)
        n++;
    (void)closedir(directory);
    return n - 2; /* itself and its parent */
}

static void check_file(const char *folder, const char *name, const char *want)
{
    char *text = scratch_read(folder, name);
    CHECK_TEXT(text, want);
    free(text);
}

static void a_file_appears_whole_at_commit(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 16];
    struct file_writer *writer = NULL;
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    CHECK(scratch_write(folder, "page", "old"));
    (void)snprintf(path, sizeof path, "%s/page", folder);
    CHECK_OK(file_writer_open(path, &writer, &fault), &fault);
    CHECK_OK(file_writer_write(writer, "new ", 4, &fault), &fault);
    CHECK_OK(file_writer_write(writer, "page", 4, &fault), &fault);
    check_file(folder, "page", "old");
    CHECK_OK(file_writer_commit(writer, &fault), &fault);
    check_file(folder, "page", "new page");
    CHECK(entries(folder) == 1);
    scratch_remove(folder);
}

static void one_that_is_given_up_leaves_nothing(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 16];
    struct file_writer *writer = NULL;
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    (void)snprintf(path, sizeof path, "%s/page", folder);
    CHECK_OK(file_writer_open(path, &writer, &fault), &fault);
    CHECK_OK(file_writer_write(writer, "half", 4, &fault), &fault);
    file_writer_abandon(writer);
    file_writer_abandon(NULL);
    CHECK(entries(folder) == 0);
    scratch_remove(folder);
}

static void what_a_kill_left_is_cleared_away(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 16];
    struct file_writer *killed = NULL;
    struct file_writer *writer = NULL;
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    (void)snprintf(path, sizeof path, "%s/page", folder);
    CHECK(scratch_write(folder, "page.part", "half"));
    CHECK_OK(file_writer_open(path, &killed, &fault), &fault);
    CHECK_OK(file_writer_open(path, &writer, &fault), &fault);
    CHECK_OK(file_writer_write(writer, "whole", 5, &fault), &fault);
    CHECK(file_writer_commit(killed, &fault) == WRITE_FAILED); /* its file is not there any more */
    CHECK_CONTAINS(fault.text, "another program writes it");
    CHECK_OK(file_writer_commit(writer, &fault), &fault);
    check_file(folder, "page", "whole");
    CHECK(entries(folder) == 1);
    scratch_remove(folder);
}

static void a_full_disk_is_told_by_name(void)
{
    struct file_writer *writer = NULL;
    struct fault fault = {0};
    struct stat found;
    CHECK_OK(file_writer_open("/dev/full", &writer, &fault), &fault);
    CHECK_OK(file_writer_write(writer, "page", 4, &fault), &fault);
    CHECK(file_writer_commit(writer, &fault) == WRITE_FAILED);
    CHECK_CONTAINS(fault.text, "/dev/full");
    CHECK_CONTAINS(fault.text, "free some space");
    CHECK(stat("/dev/full", &found) == 0 && S_ISCHR(found.st_mode)); /* not replaced */
}

static void a_folder_that_is_missing_is_told(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 32];
    struct file_writer *writer = NULL;
    struct fault fault = {0};
    CHECK(scratch_make(folder));
    (void)snprintf(path, sizeof path, "%s/none/page", folder);
    CHECK(file_writer_open(path, &writer, &fault) == WRITE_FAILED && writer == NULL);
    CHECK_CONTAINS(fault.text, "none/page");
    CHECK(file_writer_open(folder, &writer, &fault) == WRITE_FAILED && writer == NULL);
    (void)snprintf(path, sizeof path, "%s/page", folder);
    CHECK_OK(file_writer_open(path, &writer, &fault), &fault);
    scratch_remove(folder); /* under the writer's feet */
    CHECK(file_writer_commit(writer, &fault) == WRITE_FAILED);
}

CU_TestInfo file_write_tests[] = {
    {"a file appears whole at commit", a_file_appears_whole_at_commit},
    {"one that is given up leaves nothing", one_that_is_given_up_leaves_nothing},
    {"what a kill left is cleared away", what_a_kill_left_is_cleared_away},
    {"a full disk is told by name", a_full_disk_is_told_by_name},
    {"a folder that is missing is told", a_folder_that_is_missing_is_told},
    CU_TEST_INFO_NULL};
