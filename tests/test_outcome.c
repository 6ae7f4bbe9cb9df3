/* test_outcome.c - every outcome has its own sentence. */
#include <CUnit/CUnit.h>
#include <string.h>

#include "reduce/physics/outcome.h"
#include "tests/check.h"

static void every_outcome_has_its_own_sentence(void)
{
    for (int i = 0; i < OUTCOME_COUNT; i++) {
        const char *sentence = outcome_sentence((enum outcome)i);
        CHECK(sentence != NULL && strlen(sentence) > 10);
        for (int j = 0; sentence != NULL && j < i; j++)
            CHECK(strcmp(sentence, outcome_sentence((enum outcome)j)) != 0);
    }
    CHECK_TEXT(outcome_sentence(OUTCOME_NO_WIND), "total pressure is not above static pressure");
    CHECK_TEXT(outcome_sentence(OUTCOME_COUNT), "an outcome that is not in the table");
}

CU_TestInfo outcome_tests[] = {
    {"every outcome has its own sentence", every_outcome_has_its_own_sentence}, CU_TEST_INFO_NULL};
