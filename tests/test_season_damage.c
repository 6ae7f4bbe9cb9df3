/* test_season_damage.c - a season.sqlite of which a page is gone, seen from the outside. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/store.h"
#include "schema/store_check.h"
#include "tests/check.h"
#include "tests/program.h"
#include "tests/refusal_folder.h"
#include "tests/season_look.h"

/* The page where a table of the season begins; 0 when it can't be told. */
static long root_page(const char *folder, const char *table)
{
    char path[96];
    char sql[128];
    struct store *store = NULL;
    struct fault fault;
    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    (void)snprintf(sql, sizeof sql, "SELECT rootpage FROM sqlite_schema WHERE name = '%s'", table);
    CHECK_OK(store_open(path, STORE_READ_ONLY, &store, &fault), &fault);
    char *text = store != NULL ? season_query(store, sql, 1) : NULL;
    long page = text != NULL ? strtol(text, NULL, 10) : 0;
    free(text);
    CHECK_OK(store_close(store, &fault), &fault);
    return page;
}

/* A night that was reduced, then the page of a table overwritten with zeros. */
static void make_damaged(char folder[64], const char *table, char *out)
{
    CU_ASSERT_FATAL(refusal_folder_make(folder));
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 0);
    long page = root_page(folder, table);
    CU_ASSERT_FATAL(page > 1);
    CHECK(program_shell(out,
                        "dd if=/dev/zero of=%s/season.sqlite bs=16384 count=1 conv=notrunc "
                        "seek=%ld",
                        folder, page - 1) == 0);
}

static int says_no_problem(const char *out)
{
    return out != NULL && strstr(out, "no problem") != NULL;
}

static void refused_by(const char *command, const char *folder, char *out)
{
    char file[96];
    (void)snprintf(file, sizeof file, "%s/season.sqlite is damaged: ", folder);
    int status = program_shell(out, "%s -C %s %s", program_lapwing(), folder, command);
    if (status != 2)
        (void)fprintf(stderr, "%s: exit %d\n%s", command, status, out);
    CHECK(status == 2);
    CHECK_CONTAINS(out, file);
    CHECK_CONTAINS(out, "; move it aside and run lapwing batch: the logs are the truth\n");
    CHECK(!says_no_problem(out));
}

static void commands_that_rest_on_a_damaged_season_refuse_it(void)
{
    static const char *const tables[] = {"point", "flag_row", "data_dictionary"};
    static const char *const commands[] = {"check", "ingest", "reduce", "batch"};
    char *out = malloc(PROGRAM_OUTPUT);
    CU_ASSERT_FATAL(out != NULL);
    for (size_t t = 0; t < sizeof tables / sizeof tables[0]; t++) {
        char folder[64];
        make_damaged(folder, tables[t], out);
        for (size_t i = 0; i < sizeof commands / sizeof commands[0]; i++)
            refused_by(commands[i], folder, out);
        CHECK(program_shell(out, "mv %s/season.sqlite %s/damaged", folder, folder) == 0);
        CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 0);
        program_remove(folder);
    }
    free(out);
}

static void other_commands_name_the_damaged_file(void)
{
    char folder[64];
    char file[128];
    char *out = malloc(PROGRAM_OUTPUT);
    CU_ASSERT_FATAL(out != NULL);
    make_damaged(folder, "run", out);
    (void)snprintf(file, sizeof file, "%s/season.sqlite is damaged: move it aside and run", folder);
    CHECK(program_shell(out, "%s -C %s report", program_lapwing(), folder) == 3);
    CHECK_CONTAINS(out, file);
    program_remove(folder);
    free(out);
}

static void a_whole_season_and_none_are_fine(void)
{
    char folder[64];
    struct fault fault = {.status = OK};
    char *out = malloc(PROGRAM_OUTPUT);
    CU_ASSERT_FATAL(out != NULL && refusal_folder_make(folder));
    CHECK_OK(store_check_folder(folder, &fault), &fault);
    CHECK(program_shell(out, "test -e %s/season.sqlite", folder) == 1);
    CHECK(program_shell(out, "touch %s/season.sqlite", folder) == 0);
    CHECK_OK(store_check_folder(folder, &fault), &fault);
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 0);
    CHECK(program_shell(out, "cd %s && md5sum season.sqlite > sum", folder) == 0);
    CHECK_OK(store_check_folder(folder, &fault), &fault);
    CHECK(fault.status == OK);
    CHECK(program_shell(out, "cd %s && md5sum -c sum && ls season.sqlite*", folder) == 0);
    CHECK_TEXT(out, "season.sqlite: OK\nseason.sqlite\n");
    CHECK(program_shell(out, "echo no database, and long enough to be told > %s/season.sqlite",
                        folder) == 0);
    CHECK(store_check_folder(folder, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "is not a database");
    program_remove(folder);
    free(out);
}

CU_TestInfo season_damage_tests[] = {
    {"commands that rest on a damaged season refuse it",
     commands_that_rest_on_a_damaged_season_refuse_it},
    {"other commands name the damaged file", other_commands_name_the_damaged_file},
    {"a whole season and none are fine", a_whole_season_and_none_are_fine},
    CU_TEST_INFO_NULL};
