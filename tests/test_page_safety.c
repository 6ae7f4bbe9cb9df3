/* test_page_safety.c - a page's policy fits its bytes, no number that is none is drawn or written, cut
 * names stay whole characters, and the same season gives the same bytes.
 *
 * The policy: W3C, Content Security Policy Level 3, 'sha256-...' of an inline element's text; hash and
 * base64 here are OpenSSL's.                                                                       */
#include <CUnit/CUnit.h>
#include <ctype.h>
#include <math.h>
#include <openssl/evp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/cut_text.h"
#include "report/svg.h"
#include "schema/utf8.h"
#include "tests/check.h"
#include "tests/test_report_fixture.h"
#include "tests/test_report_made.h"

/* The text of the first element of that kind; the caller frees. */
static char *element_text(const char *page, const char *open, const char *close)
{
    const char *start = strstr(page, open);
    const char *stop = start != NULL ? strstr(start, close) : NULL;

    CHECK(stop != NULL);
    if (stop == NULL)
        return NULL;
    start += strlen(open);
    return strndup(start, (size_t)(stop - start));
}

static void check_hash(const char *page, const char *directive, const char *open, const char *close)
{
    unsigned char digest[EVP_MAX_MD_SIZE], encoded[2 * EVP_MAX_MD_SIZE];
    unsigned length = 0;
    char *text = element_text(page, open, close);
    char wanted[200];

    if (text == NULL)
        return;
    CHECK(EVP_Digest(text, strlen(text), digest, &length, EVP_sha256(), NULL) == 1);
    (void)EVP_EncodeBlock(encoded, digest, (int)length);
    (void)snprintf(wanted, sizeof wanted, "%s &#39;sha256-%s&#39;;", directive, (char *)encoded);
    CHECK_CONTAINS(page, wanted);
    free(text);
}

static void the_policy_names_the_bytes_that_are_there(void)
{
    char *page = report_page_after(NULL, NULL);

    if (page != NULL) {
        check_hash(page, "style-src", "<style>", "</style>");
        check_hash(page, "script-src", "<script>", "</script>");
        const char *policy = strstr(page, "Content-Security-Policy");
        const char *style = strstr(page, "<style>");
        CHECK(policy != NULL && style != NULL &&
              policy < style); /* in force before anything else */
        CHECK_CONTAINS(page, "content=\"default-src &#39;none&#39;; ");
        CHECK(strstr(page, "unsafe") == NULL);
    }
    free(page);
}

/* 1 when a word of letters stands in the page outside of other words. */
static int has_word(const char *page, const char *word)
{
    size_t n = strlen(word);

    for (const char *at = page; (at = strstr(at, word)) != NULL; at += n)
        if ((at == page || !isalpha((unsigned char)at[-1])) && !isalpha((unsigned char)at[n]))
            return 1;
    return 0;
}

static void check_numbers(const char *change)
{
    char *page = report_page_after(change, NULL);

    if (page != NULL) {
        const char *body = strstr(page, "<body>");
        CHECK(body != NULL);
        CHECK(!has_word(body, "nan") && !has_word(body, "inf") && !has_word(body, "NaN"));
        CHECK(!has_word(body, "1e308") && strstr(body, "-nan") == NULL);
        CHECK_CONTAINS(body, "</html>");
    }
    free(page);
}

static void what_is_no_number_is_not_drawn(void)
{
    check_numbers(
        "UPDATE map_tap SET delta_cp = NULL, delta_cp_u = NULL;"
        "UPDATE delta_result SET half_width = NULL, lower = NULL, upper = NULL;"
        "UPDATE point_result SET static_temperature_k = 9e999, dynamic_pressure_pa = NULL");
    check_numbers(
        "UPDATE map_tap SET cp = NULL, delta_cp = NULL;"
        "UPDATE delta_result SET delta = 9e999, lower = -9e999, upper = 9e999, half_width "
        "= 9e999");
    check_numbers("UPDATE map_tap SET cp = 9e999, delta_cp = -9e999 WHERE tap = 'T003';"
                  "UPDATE observation SET value = 9e999 WHERE mounting = 1;"
                  "UPDATE target SET front_ride_height_m = 9e999 WHERE sequence = 2");
    check_numbers(
        "UPDATE map_tap SET cp = 1e308, delta_cp = -1e308, delta_cp_u = 9e999;"
        "UPDATE delta_result SET delta = 1e308, lower = -1e308, upper = 1e308, half_width "
        "= 1e308; UPDATE observation SET value = -1e308, time_s = 9e999");
    check_numbers("UPDATE point SET time_s = 9e999; UPDATE metric SET worthwhile = 9e999;"
                  "UPDATE tap SET x_m = 9e999 WHERE tap = 'T010'");
}

static void shapes_without_end_are_left_out(void)
{
    const double wrong[] = {NAN, INFINITY, -INFINITY, 1e300};
    struct html page = {0};

    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        double w = wrong[i];
        struct path path = {0};
        svg_line(&page, "a", w, 0, 0, 0);
        svg_line(&page, "a", 0, 0, 0, w);
        svg_rect(&page, "a", 0, w, 1, 1, NULL, NULL);
        svg_rect(&page, "a", 0, 0, w, 1, NULL, NULL);
        svg_rect(&page, "a", 0, 0, 1, w, NULL, NULL);
        svg_circle(&page, "a", 0, w, 1, NULL, NULL);
        svg_circle(&page, "a", 0, 0, w, NULL, NULL);
        svg_text(&page, "a", ANCHOR_START, w, 0, "text");
        svg_marker(&page, "a", MARKER_SQUARE, 0, w, 1, NULL);
        svg_marker(&page, "a", MARKER_CROSS, 0, 0, w, NULL);
        path_point(&path, w, 0);
        svg_path(&page, "a", &path, NULL, NULL);
        path_free(&path);
    }
    CHECK_TEXT(buffer_string(&page.out), "");
    html_free(&page);
}

static void a_long_name_is_cut_between_characters(void)
{
    static const char accented[] = "\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9";

    CHECK_TEXT(cut_text("floor-edge", 11).text, "floor-edge");
    CHECK_TEXT(cut_text("mirror-stay", 11).text, "mirror-stay");
    CHECK_TEXT(cut_text("mirror-stays", 11).text, "mirror-sta\xE2\x80\xA6");
    CHECK_TEXT(cut_text(accented, 4).text, accented);
    CHECK_TEXT(cut_text(accented, 3).text, "\xC3\xA9\xC3\xA9\xE2\x80\xA6");
    CHECK_TEXT(cut_text("", 3).text, "");
    CHECK_TEXT(cut_text("ab", 0).text, "");
    char cars[4 * 100 + 1] = "";
    for (size_t i = 0; i < 100; i++)
        memcpy(cars + 4 * i, "\xF0\x9F\x9A\x97", 5);
    struct cut_text cut = cut_text(cars, 1000);
    CHECK(utf8_valid_length(cut.text, strlen(cut.text)) == strlen(cut.text));
    CHECK(utf8_characters(cut.text, strlen(cut.text)) == CUT_TEXT_MOST);
}

/* Every title and label of a page with long names of two-byte characters is whole UTF-8. */
static void long_names_leave_no_torn_characters(void)
{
    char *page = report_page_after(
        "UPDATE tap SET tap = tap || replace(hex(zeroblob(90)), '0', char(233));"
        "UPDATE map_tap SET tap = tap || replace(hex(zeroblob(90)), '0', char(233));"
        "UPDATE map_triangle SET tap_a = tap_a || replace(hex(zeroblob(90)), '0', char(233)), "
        "tap_b = tap_b || replace(hex(zeroblob(90)), '0', char(233)), "
        "tap_c = tap_c || replace(hex(zeroblob(90)), '0', char(233));"
        "UPDATE flag_row SET subject = subject || replace(hex(zeroblob(90)), '0', char(233)) WHERE "
        "rule LIKE 'tap%'",
        "UPDATE map_triangle SET surface = replace(hex(zeroblob(90)), '0', char(233));"
        "UPDATE tap SET surface = replace(hex(zeroblob(90)), '0', char(233));"
        "UPDATE setting SET value = replace(hex(zeroblob(90)), '0', char(233)) WHERE name IN "
        "('season', 'name');"
        "UPDATE run SET reason = 'x' || replace(hex(zeroblob(400)), '0', char(233)) WHERE state <> "
        "'ok'");

    if (page != NULL) {
        CHECK(strstr(page, "\xEF\xBF\xBD") == NULL);
        CHECK(utf8_valid_length(page, strlen(page)) == strlen(page));
        CHECK_CONTAINS(page, "\xE2\x80\xA6: Cp ");
    }
    free(page);
}

CU_TestInfo page_safety_tests[] = {
    {"the policy names the bytes that are there", the_policy_names_the_bytes_that_are_there},
    {"what is no number is not drawn", what_is_no_number_is_not_drawn},
    {"shapes without end are left out", shapes_without_end_are_left_out},
    {"a long name is cut between characters", a_long_name_is_cut_between_characters},
    {"long names leave no torn characters", long_names_leave_no_torn_characters},
    CU_TEST_INFO_NULL};
