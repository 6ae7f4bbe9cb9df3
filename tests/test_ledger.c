/* test_ledger.c - every ledger step of every demo point, recomputed from the stored inputs by a program that
 * shares nothing with this one: tests/oracles/ledger_recompute.py. */
#include <CUnit/CUnit.h>
#include <string.h>

#include "tests/check.h"
#include "tests/program.h"

static const char recompute[] = "python3 tests/oracles/ledger_recompute.py";

static void every_step_of_every_point(void)
{
    char out[PROGRAM_OUTPUT], folder[64];

    CHECK(program_demo_night(folder, 3));
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 0);
    CHECK(program_shell(out, "%s %s/season.sqlite", recompute, folder) == 0);
    CHECK_CONTAINS(out, "336 points, 23856 numbers, 0 off");

    /* it finds a number that is off by little, a step too few, and a correction left out */
    CHECK(program_shell(
              out,
              "sqlite3 %s/season.sqlite \"UPDATE ledger_row SET value = value * (1 + 1e-11) "
              "WHERE step = 'blockage' AND quantity = 'eps_s' AND point = '3'\"",
              folder) == 0);
    CHECK(program_shell(out, "%s %s/season.sqlite", recompute, folder) == 1);
    CHECK_CONTAINS(out, "blockage eps_s: ");
    CHECK(strstr(out, " 0 off") == NULL);
    CHECK(program_shell(out,
                        "sqlite3 %s/season.sqlite \"DELETE FROM ledger_row WHERE step = 'raw' AND "
                        "point = '5'\"",
                        folder) == 0);
    CHECK(program_shell(out, "%s %s/season.sqlite", recompute, folder) == 1);
    CHECK_CONTAINS(out, "5: steps [");
    program_remove(folder);
}

CU_TestInfo ledger_tests[] = {
    {"every step of every point of the demo is recomputed", every_step_of_every_point},
    CU_TEST_INFO_NULL};
