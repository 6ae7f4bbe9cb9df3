/* test_report_text.c - escaping, numbers as a reader sees them, clocks, base64 and CSV cells. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "report/base64.h"
#include "report/csv_out.h"
#include "report/display.h"
#include "report/html.h"
#include "report/number_text.h"
#include "report/time_text.h"
#include "tests/check.h"

static void check_escaped(const char *text, const char *wanted)
{
    struct buffer out = {0};

    html_escape(&out, text);
    CHECK_TEXT(buffer_string(&out), wanted);
    buffer_free(&out);
}

static void five_characters_are_escaped(void)
{
    check_escaped("a<b>&\"'", "a&lt;b&gt;&amp;&quot;&#39;");
    check_escaped("plain", "plain");
    check_escaped("", "");
}

static void controls_are_dropped_and_words_kept_apart(void)
{
    check_escaped("a\x01\x02"
                  "b\x7f"
                  "c",
                  "abc");
    check_escaped("one\ntwo\tthree", "one two three");
    check_escaped("a\xC2\x85"
                  "b",
                  "ab"); /* U+0085, a C1 control */
    check_escaped("a\xE2\x80\xA8"
                  "b",
                  "a b"); /* U+2028 LINE SEPARATOR */
}

/* Overrides, embeddings and isolates: Unicode Standard Annex 9, table 1. A name in letters that run from
 * right to left is a name like any other. */
static void marks_of_direction_are_shown_not_obeyed(void)
{
    check_escaped("a\xE2\x80\xAE"
                  "gnp",
                  "a\xEF\xBF\xBD"
                  "gnp"); /* U+202E */
    check_escaped("\xE2\x80\xAA\xE2\x81\xA6\xE2\x81\xA9",
                  "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD"); /* U+202A, U+2066, U+2069 */
    check_escaped("\xD7\xA9\xD7\x9C", "\xD7\xA9\xD7\x9C"); /* two Hebrew letters */
}

/* Well-formed sequences: The Unicode Standard 15, table 3-7. */
static void only_well_formed_utf8_passes(void)
{
    check_escaped("\xC2\xB1 \xE2\x88\x92 \xF0\x9F\x9A\x97",
                  "\xC2\xB1 \xE2\x88\x92 \xF0\x9F\x9A\x97");
    check_escaped("\xFF", "\xEF\xBF\xBD");
    check_escaped("\xC3", "\xEF\xBF\xBD");                                 /* cut in the middle */
    check_escaped("\xC0\xAF", "\xEF\xBF\xBD\xEF\xBF\xBD");                 /* overlong slash */
    check_escaped("\xED\xA0\x80", "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD"); /* surrogate */
    check_escaped("\xF5\x80\x80\x80", "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");
    check_escaped("\xE2\x88<", "\xEF\xBF\xBD\xEF\xBF\xBD&lt;"); /* a cut must not eat the < */
}

static void elements_close_and_attributes_are_quoted(void)
{
    struct html page = {0};
    struct fault fault = {0};

    html_open(&page, "p", "class", "a\"b", "id", (const char *)NULL, HTML_END);
    html_text(&page, "50% done");
    html_format(&page, " %d%s", 7, "<");
    CHECK(html_status(&page, &fault) == NO_RESULT);
    html_close(&page);
    CHECK_OK(html_status(&page, &fault), &fault);
    CHECK_TEXT(buffer_string(&page.out), "<p class=\"a&quot;b\">50% done 7&lt;</p>\n");
    html_close(&page);
    CHECK(html_status(&page, &fault) == NO_RESULT);
    html_free(&page);
}

static void ids_differ(void)
{
    struct html page = {0};
    struct html_id first = html_next_id(&page);
    struct html_id second = html_next_id(&page);

    CHECK(strcmp(first.text, second.text) != 0);
    html_free(&page);
}

/* Two significant figures in the half-width: JCGM 100:2008 (GUM) 7.2.6, at most two digits. */
static void half_width_sets_the_decimals(void)
{
    CHECK_TEXT(number_text_pair(38.234, 6.123, 1).text, "+38.2 \xC2\xB1 6.1");
    CHECK_TEXT(number_text_pair(-0.314, 0.0996, 1).text, "\xE2\x88\x92"
                                                         "0.31 \xC2\xB1 0.10");
    CHECK_TEXT(number_text_pair(123.4, 14.6, 1).text, "+123 \xC2\xB1 15");
    CHECK_TEXT(number_text_pair(2.2, 1.9, 1).text, "+2.2 \xC2\xB1 1.9");
    CHECK_TEXT(number_text_pair(2.2, 9.96, 1).text, "+2 \xC2\xB1 10");
    CHECK_TEXT(number_text_pair(2.26, (double)NAN, 1).text, "+2.3");
    CHECK_TEXT(number_text_pair((double)NAN, 1, 1).text, "n/a");
    CHECK(number_text_decimals(0, 3) == 3);
    CHECK(number_text_decimals((double)INFINITY, 3) == 3);
    CHECK(number_text_decimals(250, 1) == 0);
}

/* No interval is without width, and one of rounding alone has no digits to show. */
static void a_width_never_prints_as_nothing(void)
{
    CHECK_TEXT(number_text_pair(5, 0, 1).text, "+5.0 \xC2\xB1 <0.1");
    CHECK_TEXT(number_text_pair(5, 1e-14, 1).text, "+5.0 \xC2\xB1 <0.1");
    CHECK_TEXT(number_text_pair(5, 0.0096, 1).text, "+5.0000 \xC2\xB1 0.0096");
    CHECK_TEXT(number_text_pair(0.02, 0, 3).text, "+0.020 \xC2\xB1 <0.001");
    CHECK_TEXT(number_text_width(6.123, 1).text, "\xC2\xB1 6.1");
    CHECK_TEXT(number_text_width(0, 0).text, "\xC2\xB1 <1");
    CHECK_TEXT(number_text_width((double)NAN, 1).text, "");
}

static void ranges_and_declared_numbers_are_short(void)
{
    CHECK_TEXT(number_text_range(1495.2, 1504.4, 0).text, "1495 to 1504");
    CHECK_TEXT(number_text_range(1499.8, 1500.3, 0).text, "1500");
    CHECK_TEXT(number_text_range(-0.5, 0.5, 1).text, "\xE2\x88\x92"
                                                     "0.5 to 0.5");
    CHECK_TEXT(number_text_declared(10).text, "10");
    CHECK_TEXT(number_text_declared(12.5).text, "12.5");
    CHECK_TEXT(number_text_declared(100 * 0.9500000000000001).text, "95");
    CHECK_TEXT(number_text_declared(0).text, "0");
    CHECK_TEXT(number_text_declared(1.0 / 3).text, "0.333333");
    CHECK_TEXT(number_text_declared((double)NAN).text, "n/a");
}

static void small_files_are_in_kilobytes(void)
{
    CHECK_TEXT(number_text_size(21.46e6).text, "21.5 MB");
    CHECK_TEXT(number_text_size(100000).text, "0.1 MB");
    CHECK_TEXT(number_text_size(38420).text, "38.4 kB");
    CHECK_TEXT(number_text_size(0).text, "0.0 kB");
}

static void signs_are_true(void)
{
    CHECK_TEXT(number_text_plain(-1.25, 2).text, "\xE2\x88\x92"
                                                 "1.25");
    CHECK_TEXT(number_text_plain(1.25, 2).text, "1.25");
    CHECK_TEXT(number_text_delta(0.04, 1).text, "0.0");
    CHECK_TEXT(number_text_delta(-0.04, 1).text, "0.0"); /* never minus nothing */
    CHECK_TEXT(number_text_delta(0.05001, 1).text, "+0.1");
    CHECK_TEXT(number_text_plain((double)NAN, 1).text, "n/a");
    CHECK_TEXT(number_text_delta((double)-INFINITY, 1).text, "n/a");
    CHECK_TEXT(number_text_whole(1234567).text, "1\xE2\x80\xAF"
                                                "234\xE2\x80\xAF"
                                                "567");
    CHECK_TEXT(number_text_whole(-999).text, "\xE2\x88\x92"
                                             "999");
}

static void quantities_know_their_unit(void)
{
    struct display cl = display_delta("CL", 0.001);
    struct display balance = display_delta("balance", 0.001);

    CHECK_NEAR(cl.factor * 0.0238, 23.8, 1e-12, "identity");
    CHECK_TEXT(cl.unit, "counts");
    CHECK_TEXT(balance.unit, "pp");
    CHECK_TEXT(display_value("balance").unit, "%");
    CHECK_TEXT(display_delta("CL", 0).unit, "");
    CHECK_TEXT(display_sign("CL"), "+ is more downforce");
    CHECK_TEXT(display_sign("no such"), "");
    CHECK_TEXT(display_named(&cl, "downforce").text, "counts of downforce");
}

/* RFC 4648, section 10: test vectors. */
static void base64_agrees_with_its_rfc(void)
{
    static const char *const pairs[][2] = {{"", ""},
                                           {"f", "Zg=="},
                                           {"fo", "Zm8="},
                                           {"foo", "Zm9v"},
                                           {"foob", "Zm9vYg=="},
                                           {"fooba", "Zm9vYmE="},
                                           {"foobar", "Zm9vYmFy"}};
    char out[16];

    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        base64_encode((const unsigned char *)pairs[i][0], strlen(pairs[i][0]), out);
        CHECK_TEXT(out, pairs[i][1]);
    }
}

static void hexadecimal_is_read_whole_or_not(void)
{
    unsigned char bytes[4];

    CHECK(base64_bytes_from_hex("00ffA1", bytes, sizeof bytes) == 3);
    CHECK(bytes[1] == 0xFF && bytes[2] == 0xA1);
    CHECK(base64_bytes_from_hex("0g", bytes, sizeof bytes) == 0);
    CHECK(base64_bytes_from_hex("012", bytes, sizeof bytes) == 0);
    CHECK(base64_bytes_from_hex("0011223344", bytes, sizeof bytes) == 0);
}

/* 1770836700 is 2026-02-11T19:05:00Z by GNU date. */
static void clocks_follow_the_run_sheet(void)
{
    CHECK_NEAR(time_zone_offset("2026-02-11T20:05:00+01:00"), 3600, 0, "identity");
    CHECK_NEAR(time_zone_offset("2026-02-11T20:05:00-03:30"), -12600, 0, "identity");
    CHECK_NEAR(time_zone_offset("2026-02-11T20:05:00Z"), 0, 0, "identity");
    CHECK_NEAR(time_zone_offset(""), 0, 0, "identity");
    CHECK_TEXT(time_clock(1770836700, 3600).text, "20:05");
    CHECK_TEXT(time_zone(3600).text, "UTC+01:00");
    CHECK_TEXT(time_zone(-12600).text, "UTC\xE2\x88\x92"
                                       "03:30");
    CHECK_TEXT(time_zone(0).text, "UTC");
    CHECK_TEXT(time_clock(1770836700, -72000).text, "23:05");
    CHECK_TEXT(time_date(1770836700, 3600).text, "11 Feb 2026");
    CHECK_TEXT(time_date(1770836700, 18000).text, "12 Feb 2026");
    CHECK_TEXT(time_date(951782400, 0).text, "29 Feb 2000"); /* GNU date */
    CHECK_TEXT(time_date(-1, 0).text, "31 Dec 1969");
    CHECK_TEXT(time_clock((double)NAN, 0).text, "n/a");
    CHECK_NEAR(time_tick_step(7 * 3600, 12), 3600, 0, "identity");
}

static void check_cell(const char *text, const char *wanted)
{
    struct buffer out = {0};

    csv_text(&out, text);
    CHECK_TEXT(buffer_string(&out), wanted);
    buffer_free(&out);
}

static void cells_cannot_become_formulas(void)
{
    check_cell("R101", "\"R101\"");
    check_cell("=1+1", "\"'=1+1\"");
    check_cell("-3 deg flap", "\"'-3 deg flap\"");
    check_cell("+x", "\"'+x\"");
    check_cell("@sum", "\"'@sum\"");
    check_cell("say \"no\", he said", "\"say \"\"no\"\", he said\"");
    check_cell("", "\"\"");
}

CU_TestInfo report_text_tests[] = {
    {"five characters are escaped", five_characters_are_escaped},
    {"controls are dropped and words kept apart", controls_are_dropped_and_words_kept_apart},
    {"marks of direction are shown, not obeyed", marks_of_direction_are_shown_not_obeyed},
    {"only well-formed UTF-8 passes", only_well_formed_utf8_passes},
    {"elements close and attributes are quoted", elements_close_and_attributes_are_quoted},
    {"ids differ", ids_differ},
    {"the half-width sets the decimals", half_width_sets_the_decimals},
    {"a width never prints as nothing", a_width_never_prints_as_nothing},
    {"ranges and declared numbers are short", ranges_and_declared_numbers_are_short},
    {"small files are in kilobytes", small_files_are_in_kilobytes},
    {"signs are true", signs_are_true},
    {"quantities know their unit", quantities_know_their_unit},
    {"base64 agrees with its RFC", base64_agrees_with_its_rfc},
    {"hexadecimal is read whole or not", hexadecimal_is_read_whole_or_not},
    {"clocks follow the run sheet", clocks_follow_the_run_sheet},
    {"cells cannot become formulas", cells_cannot_become_formulas},
    CU_TEST_INFO_NULL};
