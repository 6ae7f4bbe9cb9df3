/* test_number.c - schema/number.c. */
#include <CUnit/CUnit.h>
#include <float.h>
#include <locale.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/number.h"
#include "tests/check.h"

static enum number_outcome parse(const char *text, double *value)
{
    return number_parse(text, strlen(text), '.', value, NULL);
}

/* The compiler's own constants are the oracle: GCC rounds them with MPFR. */
#define LITERAL(number) \
    {                   \
#number, number \
    }
static const struct {
    const char *text;
    double value;
} literals[] = {
    LITERAL(0),
    LITERAL(1),
    LITERAL(0.1),
    LITERAL(101325.0),
    LITERAL(1e22),
    LITERAL(1e23),
    LITERAL(123456789012345678.0),
    LITERAL(9007199254740993.0),      /* 2^53 + 1: a tie, to even */
    LITERAL(9007199254740993.00001),  /* just above the tie */
    LITERAL(2.2250738585072011e-308), /* the largest subnormal, famous for endless loops */
    LITERAL(2.2250738585072012e-308),
    LITERAL(1.7976931348623157e308),
    LITERAL(1.7976931348623158e308),
    LITERAL(4.9e-324),
    LITERAL(2.4703282292062328e-324),
    LITERAL(6.631236846766476e-316),
    LITERAL(3.518437208883201171875e13),
    LITERAL(62.5364939768271845828),
    LITERAL(8.10109172351e-10),
    LITERAL(1.50000000000000011102230246251565),
    LITERAL(0.000000000000000000000000000000123456789),
    LITERAL(1234567890123456789012345678901234567890.0),
    LITERAL(.5),
    LITERAL(5.),
    LITERAL(12.5E+3),
};
#undef LITERAL

static void rounds_as_the_compiler_does(void)
{
    for (size_t i = 0; i < sizeof literals / sizeof literals[0]; i++) {
        double got = (double)NAN;
        CHECK(parse(literals[i].text, &got) == NUMBER_OK);
        CHECK_NEAR(got, literals[i].value, 0, "GCC's constants, rounded by MPFR");
    }
}

/* 1 + 2^-53 lies in the middle between two doubles; what decides may stand 900 digits away. */
static void a_far_digit_breaks_a_tie(void)
{
    char text[1024] = "1.00000000000000011102230246251565404236316680908203125";
    double got = 0;
    CHECK(parse(text, &got) == NUMBER_OK);
    CHECK_NEAR(got, 1.0, 0, "IEEE 754-2008, 4.3.1: ties to even");
    size_t length = strlen(text);
    memset(text + length, '0', 900);
    text[length + 900] = '\0';
    CHECK(parse(text, &got) == NUMBER_OK);
    CHECK_NEAR(got, 1.0, 0, "IEEE 754-2008, 4.3.1: ties to even");
    text[length + 899] = '1';
    CHECK(parse(text, &got) == NUMBER_OK);
    CHECK_NEAR(got, 1.0 + DBL_EPSILON, 0, "IEEE 754-2008, 4.3.1: above the tie");
}

static uint64_t next_random(uint64_t *state)
{
    *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return *state ^ (*state >> 29);
}

static void every_double_comes_back_from_print(void)
{
    uint64_t state = 20260211;
    for (int i = 0; i < 20000; i++) {
        uint64_t bits = next_random(&state);
        double value = 0;
        double back = 0;
        char text[32];
        memcpy(&value, &bits, sizeof value);
        if (!isfinite(value))
            continue;
        int length = number_print(value, text, sizeof text);
        if (length != (int)strlen(text) || length > 24 || parse(text, &back) != NUMBER_OK ||
            back != value)
            CHECK_TEXT(text, "the same double");
    }
    CU_PASS("20000 doubles");
}

static void short_decimals_are_exact(void)
{
    for (int i = -5000; i < 5000; i++) {
        char text[32];
        char again[32];
        double value = 0;
        (void)snprintf(text, sizeof text, "%d.%03d", i, abs(i) % 1000);
        if (parse(text, &value) != NUMBER_OK || value != strtod(text, NULL))
            CHECK_TEXT(text, "strtod()'s value");
        (void)number_print_fixed(value, 3, again, sizeof again);
        CHECK_TEXT(again, text);
    }
}

static void the_grammar_is_closed(void)
{
    static const struct {
        const char *text;
        size_t stop;
    } bad[] = {{"0x10", 1},
               {"nan", 0},
               {"inf", 0},
               {"-inf", 1},
               {" 1", 0},
               {"1 ", 1},
               {"1,5", 1},
               {"1.2.3", 3},
               {".", 1},
               {"+", 1},
               {"-", 1},
               {"1e", 2},
               {"1e+", 3},
               {"e5", 0},
               {"--1", 1},
               {"1'000", 1},
               {"1e5x", 3},
               {"1e1.5", 3},
               {"1_000", 1},
               {"\xe2\x88\x92"
                "1",
                0}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        double value = -77;
        size_t stop = 99;
        CHECK(number_parse(bad[i].text, strlen(bad[i].text), '.', &value, &stop) ==
              NUMBER_MALFORMED);
        CHECK_NEAR((double)stop, (double)bad[i].stop, 0, "the grammar in number.h");
        CHECK_NEAR(value, -77, 0, "a refused text leaves the value alone");
    }
}

static void empty_overflow_and_zero_are_told_apart(void)
{
    double value = 1;
    CHECK(parse("", &value) == NUMBER_EMPTY);
    CHECK(parse("1e309", &value) == NUMBER_OVERFLOW);
    CHECK(parse("1.7976931348623159e308", &value) == NUMBER_OVERFLOW);
    CHECK(parse("-1e99999999999999999999", &value) == NUMBER_OVERFLOW);
    CHECK(parse("1e-99999999999999999999", &value) == NUMBER_OK && value == 0);
    CHECK(parse("0e99999999999999999999", &value) == NUMBER_OK && value == 0);
    CHECK(parse("-0", &value) == NUMBER_OK && value == 0 && signbit(value));
}

static void the_decimal_mark_is_the_callers(void)
{
    double value = 0;
    CHECK(number_parse("-3,05e1", 7, ',', &value, NULL) == NUMBER_OK);
    CHECK_NEAR(value, -30.5, 0, "identity");
    CHECK(number_parse("3.05", 4, ',', &value, NULL) == NUMBER_MALFORMED);
    CHECK(number_parse("12345", 2, '.', &value, NULL) == NUMBER_OK); /* length rules, not the NUL */
    CHECK_NEAR(value, 12, 0, "identity");
}

static void prints_shortest_and_fixed(void)
{
    static const struct {
        double value;
        const char *text;
    } shortest[] = {{0.1, "0.1"},
                    {-0.0, "0"},
                    {101325, "101325"},
                    {1e22, "1e+22"},
                    {0.001, "0.001"},
                    {5e-324, "5e-324"},
                    {1.0 / 3, "0.3333333333333333"},
                    {-2.5e-7, "-2.5e-07"},
                    {0.1 + 0.2, "0.30000000000000004"}};
    char text[400];
    for (size_t i = 0; i < sizeof shortest / sizeof shortest[0]; i++) {
        (void)number_print(shortest[i].value, text, sizeof text);
        CHECK_TEXT(text, shortest[i].text);
    }
    CHECK(number_print_fixed(2.0 / 3, 4, text, sizeof text) == 6);
    CHECK_TEXT(text, "0.6667");
    (void)number_print_fixed(-0.0004, 3, text, sizeof text);
    CHECK_TEXT(text, "0.000"); /* no sign without a digit */
    (void)number_print_fixed(-0.0006, 3, text, sizeof text);
    CHECK_TEXT(text, "-0.001");
    (void)number_print_fixed(1234567.5, 0, text, sizeof text);
    CHECK_TEXT(text, "1234568");
    CHECK(number_print_fixed(DBL_MAX, 2, text, sizeof text) == 312);
}

/* The fewest digits, each tried by C's own printf and strtod. */
static void print_plainly(double value, char text[64])
{
    for (int digits = fabs(value) < DBL_MIN ? 1 : 15; digits <= 17; digits++) {
        (void)snprintf(text, 64, "%.*g", digits, value);
        if (strtod(text, NULL) == value)
            return;
    }
}

static void check_plain(double value)
{
    char got[64], wanted[64];

    print_plainly(value, wanted);
    (void)number_print(value, got, sizeof got);
    if (value != 0 && strcmp(got, wanted) != 0)
        CHECK_TEXT(got, wanted);
}

/* Any bits, numbers of every day, and decimals of 15 to 17 digits that end in nines and fives. */
static void prints_as_plain_trial_does(void)
{
    static const char *const near[] = {"9.9999999999999995",
                                       "0.99999999999999989",
                                       "99999999999999.95",
                                       "9007199254740993",
                                       "123456789012345.5",
                                       "1234567890123456.5",
                                       "1e15",
                                       "1e16",
                                       "1e17",
                                       "9.5e-5",
                                       "0.00012345678901234565",
                                       "4.9406564584124654e-324",
                                       "2.2250738585072014e-308",
                                       "1.7976931348623157e308",
                                       "5e22",
                                       "1e23"};
    uint64_t state = 11;

    for (int i = 0; i < 40000; i++) {
        double value = 0;
        state = state * 6364136223846793005U + 1442695040888963407U;
        memcpy(&value, &state, sizeof value);
        if (isfinite(value) && value != 0)
            check_plain(value);
        double every_day = ((double)(state >> 33) - 1e9) / 70000;
        check_plain(every_day);
        check_plain(every_day / 1e9);
        check_plain(round(every_day) / 1000);
        check_plain((round(every_day) + 0.5) * 1e-14);
    }
    for (size_t i = 0; i < sizeof near / sizeof near[0]; i++) {
        check_plain(strtod(near[i], NULL));
        check_plain(-nextafter(strtod(near[i], NULL), 0));
        check_plain(nextafter(strtod(near[i], NULL), 1e300));
    }
}

/* The locale of this thread only; machines without a German one check the rest above. */
static void a_comma_locale_changes_nothing(void)
{
    locale_t german = newlocale(LC_ALL_MASK, "de_DE.UTF-8", (locale_t)0);
    if (german == (locale_t)0)
        german = newlocale(LC_ALL_MASK, "de_DE", (locale_t)0);
    if (german == (locale_t)0)
        return;
    locale_t before = uselocale(german);
    double value = 0;
    double hard = 0;
    char text[64];
    char fixed[64];
    char raw[64];
    enum number_outcome outcome = parse("2.5", &value);
    enum number_outcome hard_outcome = parse("2.2250738585072011e-308", &hard);
    (void)number_print(1.0 / 3, text, sizeof text);
    (void)number_print_fixed(-2.5, 2, fixed, sizeof fixed);
    (void)snprintf(raw, sizeof raw, "%.1f", 2.5);
    (void)uselocale(before);
    freelocale(german);
    CHECK_TEXT(raw, "2,5"); /* the locale was in force */
    CHECK(outcome == NUMBER_OK && hard_outcome == NUMBER_OK);
    CHECK_NEAR(value, 2.5, 0, "identity");
    CHECK_NEAR(hard, 2.2250738585072011e-308, 0, "GCC's constants, rounded by MPFR");
    CHECK_TEXT(text, "0.3333333333333333");
    CHECK_TEXT(fixed, "-2.50");
}

CU_TestInfo number_tests[] = {
    {"numbers are rounded as the compiler does", rounds_as_the_compiler_does},
    {"a far digit breaks a tie", a_far_digit_breaks_a_tie},
    {"every double comes back from print", every_double_comes_back_from_print},
    {"short decimals are exact", short_decimals_are_exact},
    {"the grammar is closed", the_grammar_is_closed},
    {"empty, overflow and zero are told apart", empty_overflow_and_zero_are_told_apart},
    {"the decimal mark is the caller's", the_decimal_mark_is_the_callers},
    {"prints shortest and fixed", prints_shortest_and_fixed},
    {"prints as plain trial does", prints_as_plain_trial_does},
    {"a comma locale changes nothing", a_comma_locale_changes_nothing},
    CU_TEST_INFO_NULL};
