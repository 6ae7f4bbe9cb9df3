/* test_fault.c - schema/fault.c. */
#include <CUnit/CUnit.h>
#include <string.h>

#include "schema/fault.h"
#include "tests/check.h"

static void keeps_sentence_status_and_our_own_line(void)
{
    struct fault fault;
    enum status status = FAIL(&fault, BAD_INPUT, "'%s' is %d; limit %d", "RHf", -3, 0);
    char line[1024];
    CHECK(status == BAD_INPUT && fault.status == BAD_INPUT);
    CHECK_TEXT(fault.text, "'RHf' is -3; limit 0");
    CHECK_CONTAINS(fault.source, "test_fault.c:");
    fault_line(&fault, line, sizeof line);
    CHECK_TEXT(line, "'RHf' is -3; limit 0");
}

static void the_innermost_place_wins(void)
{
    struct fault fault;
    char line[1024];
    (void)FAIL(&fault, NOT_FOUND, "no such run");
    fault_where(&fault, "runs.csv:%d:%d", 4, 1);
    fault_where(&fault, "elsewhere");
    fault_line(&fault, line, sizeof line);
    CHECK_TEXT(line, "runs.csv:4:1: no such run");
    (void)FAIL(&fault, NOT_FOUND, "again"); /* a new fault has no old place */
    fault_line(&fault, line, sizeof line);
    CHECK_TEXT(line, "again");
}

static void a_long_sentence_is_cut_and_ended(void)
{
    struct fault fault;
    char tiny[8];
    (void)FAIL(&fault, BAD_INPUT, "%0900d", 1);
    CHECK(strlen(fault.text) == sizeof fault.text - 1);
    fault_line(&fault, tiny, sizeof tiny);
    CHECK(strlen(tiny) == sizeof tiny - 1);
}

static void a_character_is_never_cut_in_two(void)
{
    struct fault fault;
    char line[1024];
    (void)FAIL(&fault, BAD_INPUT, "'%.3s' and '%.4s'", "ab\xC3\xA9", "ab\xC3\xA9");
    CHECK_TEXT(fault.text, "'ab' and 'ab\xC3\xA9'");
    fault_where(&fault, "%.2s:%.5s", "\xE2\x82\xAC",
                "\xF0\x9F\x8F\x8E"
                "\xF0");
    CHECK_TEXT(fault.where, ":\xF0\x9F\x8F\x8E");
    (void)FAIL(&fault, BAD_INPUT, "%0638d\xC3\xA9", 1); /* the room ends inside it */
    CHECK(strlen(fault.text) == 638);
    (void)FAIL(&fault, BAD_INPUT, "a\xC3\xA9");
    fault_line(&fault, line, 3);
    CHECK_TEXT(line, "a");
    fault_line(&fault, line, 4);
    CHECK_TEXT(line, "a\xC3\xA9");
}

static void what_commands_a_terminal_is_shown(void)
{
    struct fault fault;
    char line[1024];
    (void)FAIL(&fault, BAD_INPUT,
               "run 'a\033[31mb\tc\x7F' \xC2\x9B \xE2\x80\xAE \xE2\x81\xA6 \xB0 \xC3\xA9");
    fault_where(&fault, "x\ny");
    fault_line(&fault, line, sizeof line);
    CHECK_TEXT(line, "x\\x0ay: run 'a\\x1b[31mb\\x09c\\x7f' \\x9b \\u202e \\u2066 \\xb0 \xC3\xA9");
}

static void no_fault_wanted_is_allowed(void)
{
    fault_set(NULL, BAD_INPUT, __FILE__, __LINE__, "nobody listens");
    fault_where(NULL, "nowhere");
    CHECK(FAIL((struct fault *)NULL, NO_MEMORY, "x") == NO_MEMORY);
}

static void exit_statuses_are_as_documented(void)
{
    CHECK(fault_exit_code(OK) == 0);
    CHECK(fault_exit_code(BAD_INPUT) == 2);
    CHECK(fault_exit_code(NOT_FOUND) == 2);
    CHECK(fault_exit_code(NO_RESULT) == 2);
    CHECK(fault_exit_code(NO_MEMORY) == 3);
    CHECK(fault_exit_code(STORE_FAILED) == 3);
    CHECK(fault_exit_code(WRITE_FAILED) == 3);
}

CU_TestInfo fault_tests[] = {
    {"a fault keeps sentence, status and our own line", keeps_sentence_status_and_our_own_line},
    {"the innermost place wins", the_innermost_place_wins},
    {"a long sentence is cut and ended", a_long_sentence_is_cut_and_ended},
    {"a character is never cut in two", a_character_is_never_cut_in_two},
    {"what commands a terminal is shown", what_commands_a_terminal_is_shown},
    {"no fault wanted is allowed", no_fault_wanted_is_allowed},
    {"exit statuses are as documented", exit_statuses_are_as_documented},
    CU_TEST_INFO_NULL};
