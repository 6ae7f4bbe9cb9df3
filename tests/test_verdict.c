/* test_verdict.c - intervals to words, every branch. All intervals are invented. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stddef.h>

#include "reduce/statistics/verdict.h"
#include "tests/check.h"

extern CU_TestInfo verdict_tests[];

struct reading_case {
    double lower, upper, worthwhile;
    enum direction direction;
    double baseline, toward;
    enum verdict verdict;
    int real_but_small;
};

static void check_cases(const struct reading_case *cases, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        const struct reading_case *want = &cases[i];
        struct verdict_reading got = verdict_read(want->lower, want->upper, want->worthwhile,
                                                  want->direction, want->baseline, want->toward);
        CHECK_NEAR((double)got.verdict, (double)want->verdict, 0, "invented");
        CHECK_NEAR((double)got.real_but_small, (double)want->real_but_small, 0, "invented");
    }
}

static void reads_the_strip(void)
{
    static const struct reading_case cases[] = {
        {-4, 5, 10, DIRECTION_HIGHER, 0, 0, VERDICT_NO_CHANGE, 0},
        {2, 6, 10, DIRECTION_HIGHER, 0, 0, VERDICT_NO_CHANGE, 1},
        {-6, -2, 10, DIRECTION_HIGHER, 0, 0, VERDICT_NO_CHANGE, 1},
        {-10, 10, 10, DIRECTION_HIGHER, 0, 0, VERDICT_NO_CHANGE, 0}, /* touching is inside */
        {1, 10, 10, DIRECTION_HIGHER, 0, 0, VERDICT_NO_CHANGE, 1},
        {0, 6, 10, DIRECTION_HIGHER, 0, 0, VERDICT_NO_CHANGE, 0}, /* zero touched is not outside */
        {3, 3, 10, DIRECTION_NONE, 0, 0, VERDICT_NO_CHANGE, 1},
    };
    check_cases(cases, sizeof cases / sizeof cases[0]);
}

static void reads_gain_and_loss(void)
{
    static const struct reading_case cases[] = {
        {2, 12, 10, DIRECTION_HIGHER, 0, 0, VERDICT_GAIN, 0},
        {-12, -2, 10, DIRECTION_HIGHER, 0, 0, VERDICT_LOSS, 0},
        {2, 12, 10, DIRECTION_LOWER, 0, 0, VERDICT_LOSS, 0},
        {-12, -2, 10, DIRECTION_LOWER, 0, 0, VERDICT_GAIN, 0},
        {2, 12, 10, DIRECTION_NONE, 0, 0, VERDICT_CHANGED, 0},
        {20, 30, 10, DIRECTION_HIGHER, 0, 0, VERDICT_GAIN, 0}, /* wholly outside the strip */
    };
    check_cases(cases, sizeof cases / sizeof cases[0]);
}

static void reads_toward_a_goal(void)
{
    static const struct reading_case cases[] = {
        {0.5, 1.5, 0.3, DIRECTION_TOWARD, 43, 45, VERDICT_GAIN, 0},
        {-1.5, -0.5, 0.3, DIRECTION_TOWARD, 43, 45, VERDICT_LOSS, 0},
        {-1.5, -0.5, 0.3, DIRECTION_TOWARD, 47, 45, VERDICT_GAIN, 0},
        {1, 3.5, 0.3, DIRECTION_TOWARD, 43, 45, VERDICT_GAIN, 0}, /* the goal inside, both nearer */
        {1, 5, 0.3, DIRECTION_TOWARD, 43, 45, VERDICT_CHANGED, 0}, /* one end overshoots */
        {1, 4, 0.3, DIRECTION_TOWARD, 43, 45, VERDICT_CHANGED, 0}, /* as far on the other side */
        {5, 7, 0.3, DIRECTION_TOWARD, 43, 45, VERDICT_LOSS, 0},    /* overshoots for sure */
        {0.5, 1, 0.3, DIRECTION_TOWARD, 45, 45, VERDICT_LOSS, 0},  /* was on the goal */
        {0.5, 1, 0.3, DIRECTION_TOWARD, (double)NAN, 45, VERDICT_CHANGED, 0},
    };
    check_cases(cases, sizeof cases / sizeof cases[0]);
}

static void cannot_tell(void)
{
    static const struct reading_case cases[] = {
        {-2, 12, 10, DIRECTION_HIGHER, 0, 0, VERDICT_CANNOT_TELL, 0},
        {0, 12, 10, DIRECTION_HIGHER, 0, 0, VERDICT_CANNOT_TELL, 0}, /* zero touched */
        {-12, 0, 10, DIRECTION_HIGHER, 0, 0, VERDICT_CANNOT_TELL, 0},
        {-20, 20, 10, DIRECTION_TOWARD, 43, 45, VERDICT_CANNOT_TELL, 0},
        {12, 2, 10, DIRECTION_HIGHER, 0, 0, VERDICT_CANNOT_TELL, 0}, /* bounds swapped */
        {(double)NAN, 2, 10, DIRECTION_HIGHER, 0, 0, VERDICT_CANNOT_TELL, 0},
        {1, (double)INFINITY, 10, DIRECTION_HIGHER, 0, 0, VERDICT_CANNOT_TELL, 0},
        {1, 2, 0, DIRECTION_HIGHER, 0, 0, VERDICT_CANNOT_TELL, 0}, /* no strip */
        {1, 2, (double)NAN, DIRECTION_HIGHER, 0, 0, VERDICT_CANNOT_TELL, 0},
    };
    check_cases(cases, sizeof cases / sizeof cases[0]);
}

static void has_a_word_for_each(void)
{
    CHECK_TEXT(verdict_words(VERDICT_GAIN), "gain");
    CHECK_TEXT(verdict_words(VERDICT_LOSS), "loss");
    CHECK_TEXT(verdict_words(VERDICT_NO_CHANGE), "no change that matters");
    CHECK_TEXT(verdict_words(VERDICT_CHANGED), "changed");
    CHECK_TEXT(verdict_words(VERDICT_CANNOT_TELL), "can't tell yet");
}

CU_TestInfo verdict_tests[] = {
    {"an interval inside the strip does not matter", reads_the_strip},
    {"an interval clear of zero is a gain or a loss", reads_gain_and_loss},
    {"toward a goal, both ends of the interval are judged", reads_toward_a_goal},
    {"otherwise it can't tell", cannot_tell},
    {"every verdict has its words", has_a_word_for_each},
    CU_TEST_INFO_NULL,
};
