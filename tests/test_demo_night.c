/* test_demo_night.c - the generator of the demo night: same seed same bytes, files kept in step. */
#include <CUnit/CUnit.h>

#include "tests/check.h"
#include "tests/program.h"

static void the_same_seed_gives_the_same_bytes(void)
{
    char out[PROGRAM_OUTPUT], a[64], b[64];
    const char *make = program_make_night();

    CHECK(program_scratch(a) && program_scratch(b));
    CHECK(program_shell(out, "%s --copy --seed 7 --rows 5 --tap-rows 2 --out %s", make, a) == 0);
    CHECK(program_shell(out, "%s --copy --seed 7 --rows 5 --tap-rows 2 --out %s", make, b) == 0);
    CHECK(program_shell(out, "diff -r %s %s", a, b) == 0);
    CHECK_TEXT(out, "");
    CHECK(program_shell(out, "%s --seed 8 --rows 5 --tap-rows 2 --out %s", make, b) == 0);
    CHECK(program_shell(out, "cmp -s %s/logs/r01_forces.csv %s/logs/r01_forces.csv", a, b) == 1);
    program_remove(a);
    program_remove(b);
}

/* A digest of one short night, so that a machine whose library rounds otherwise is found out. */
static void a_night_is_the_same_on_every_machine(void)
{
    char out[PROGRAM_OUTPUT], a[64];

    CHECK(program_scratch(a));
    CHECK(program_shell(out, "%s --seed 1 --rows 4 --tap-rows 2 --out %s", program_make_night(),
                        a) == 0);
    CHECK(program_shell(out, "cd %s && cat logs/*.csv truth/truth.csv | cksum", a) == 0);
    CHECK_TEXT(out, "3616807183 1507686\n");
    program_remove(a);
}

static void the_tables_in_the_folder_are_those_of_the_generator(void)
{
    char out[PROGRAM_OUTPUT], a[64];

    CHECK(program_scratch(a));
    CHECK(program_shell(out, "%s --static --out %s", program_make_night(), a) == 0);
    CHECK(program_shell(out, "diff -r %s sample_runs/night | grep -v '^Only in sample_runs'", a) ==
          1);
    CHECK_TEXT(out, "");
    program_remove(a);
}

static void each_point_has_as_many_rows_as_asked(void)
{
    char out[PROGRAM_OUTPUT], a[64];

    CHECK(program_scratch(a));
    CHECK(program_shell(out, "%s --rows 5 --tap-rows 3 --out %s", program_make_night(), a) == 0);
    CHECK(program_shell(out, "cat %s/logs/r14_forces.csv | wc -l", a) == 0);
    CHECK_TEXT(out, "122\n"); /* names, units, 24 points of 5 */
    CHECK(program_shell(out, "cat %s/logs/r14_taps.csv | wc -l", a) == 0);
    CHECK_TEXT(out, "73\n"); /* names, 24 points of 3 */
    CHECK(program_shell(out, "ls %s/logs | wc -l", a) == 0);
    CHECK_TEXT(out, "59\n"); /* 14 runs of two logs, 15 pairs of zeros, a tare */
    program_remove(a);
}

static void wrong_options_are_refused(void)
{
    static const char *const wrong[] = {"--rows 1",     "--rows 2001", "--rows 4x",
                                        "--tap-rows 0", "--seed -1",   "--seed",
                                        "--unknown",    "--rows 1e3",  "--tap-rows 401"};
    char out[PROGRAM_OUTPUT];

    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        CHECK(program_shell(out, "%s %s", program_make_night(), wrong[i]) == 2);
        CHECK_CONTAINS(out, "usage: make_night");
    }
    CHECK(program_shell(out, "%s --out /nowhere/at/all", program_make_night()) == 3);
    CHECK_CONTAINS(out, "/nowhere/at/all");
}

static void the_generator_knows_nothing_of_the_program(void)
{
    char out[PROGRAM_OUTPUT];

    CHECK(program_shell(out, "grep -hE '#include +\"' sample_runs/*.[ch] | "
                             "grep -vE '\"sample_runs/'") == 1);
    CHECK_TEXT(out, "");
}

extern CU_TestInfo demo_night_tests[];
CU_TestInfo demo_night_tests[] = {
    {"the same seed gives the same bytes", the_same_seed_gives_the_same_bytes},
    {"a night is the same on every machine", a_night_is_the_same_on_every_machine},
    {"the tables in the folder are those of the generator",
     the_tables_in_the_folder_are_those_of_the_generator},
    {"each point has as many rows as asked", each_point_has_as_many_rows_as_asked},
    {"wrong options are refused", wrong_options_are_refused},
    {"the generator knows nothing of the program", the_generator_knows_nothing_of_the_program},
    CU_TEST_INFO_NULL};
