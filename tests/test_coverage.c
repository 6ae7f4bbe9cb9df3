/* test_coverage.c - ten nights of known truth: the intervals contain it as often as they promise.
 *
 * The full count over 200 nights is `make bench-coverage`; this is its short run, and proof that the
 * judge can say no.                                                                                */
#include <CUnit/CUnit.h>
#include <stdio.h>

#include "tests/check.h"
#include "tests/program.h"

static void ten_nights_are_covered(void)
{
    char out[PROGRAM_OUTPUT];
    int status = program_shell(out, "LAPWING=%s MAKE_NIGHT=%s sh tests/bench/coverage.sh 10",
                               program_lapwing(), program_make_night());

    CHECK(status == 0);
    CHECK_CONTAINS(out, "10 nights, 4470 single intervals, 0 without an interval");
    CHECK_CONTAINS(out, "coverage: good");
}

/* Judges nights of ten single intervals and one of the main measure, each -1 .. 1 about a delta that
 * misses the truth by 0 or, in `missed` of the single ones, by 2; gives the exit status. */
static int judge(char *out, const char *folder, int missed, double ratio)
{
    char path[96];
    (void)snprintf(path, sizeof path, "%s/intervals.csv", folder);
    FILE *file = fopen(path, "w");

    CHECK(file != NULL);
    for (int night = 0; file != NULL && night < 10; night++) {
        (void)fprintf(file, "%d,1,b,weighted,CL,0,0,-1,1,1\n", night);
        for (int i = 0; i < 10; i++)
            (void)fprintf(file, "%d,0,b,T%d,CL,0,%d,%d,%d,%g\n", night, i, i < missed ? 2 : 0,
                          i < missed ? 1 : -1, i < missed ? 3 : 1, ratio);
    }
    if (file != NULL)
        CHECK(fclose(file) == 0);
    return program_shell(out, "python3 tests/bench/coverage.py judge %s", path);
}

static void the_judge_can_say_no(void)
{
    char out[PROGRAM_OUTPUT], folder[64];

    CHECK(program_scratch(folder));
    CHECK(judge(out, folder, 0, 1.0) == 0); /* 10 nights cannot tell 100 % from 97 % */
    CHECK(judge(out, folder, 4, 1.0) == 1);
    CHECK_CONTAINS(out, "60.00 %");
    CHECK(judge(out, folder, 0, 1.31) == 1);
    CHECK(judge(out, folder, 0, 0.76) == 1);
    CHECK_CONTAINS(out, "coverage: MISSED");
    program_remove(folder);
}

static void a_program_that_is_not_there_is_not_success(void)
{
    char out[PROGRAM_OUTPUT];

    CHECK(program_shell(out, "LAPWING=/nowhere/lapwing sh tests/bench/coverage.sh 1") == 2);
    CHECK_CONTAINS(out, "/nowhere/lapwing is not there");
}

extern CU_TestInfo coverage_tests[];
CU_TestInfo coverage_tests[] = {
    {"ten nights are covered", ten_nights_are_covered},
    {"the judge can say no", the_judge_can_say_no},
    {"a program that is not there is not success", a_program_that_is_not_there_is_not_success},
    CU_TEST_INFO_NULL};
