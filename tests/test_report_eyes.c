/* test_report_eyes.c - what needs a person's eyes, ranked by what it does; which runs to repeat first. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/repeat_first.h"
#include "report/sign_text.h"
#include "tests/check.h"
#include "tests/test_report_made.h"

static void check_signs(const char *text, const char *wanted)
{
    struct buffer out = {0};

    sign_text(&out, text);
    CHECK_TEXT(buffer_string(&out), wanted);
    buffer_free(&out);
}

#define MINUS "\xE2\x88\x92"
#define PLUS_MINUS "\xC2\xB1"

static void signs_are_true_and_names_stay(void)
{
    check_signs("moves by -8.91 counts", "moves by " MINUS "8.91 counts");
    check_signs("-0.029 +- 0.000 deg", MINUS "0.029 " PLUS_MINUS " 0.000 deg");
    check_signs("-.5 (-3)", MINUS ".5 (" MINUS "3)");
    check_signs("2026-02-11, R-12, F10-3, 1e-05", "2026-02-11, R-12, F10-3, 1e-05");
    check_signs("a - b, floor-edge, +-a", "a - b, floor-edge, +-a");
    check_signs("from -1 to +2", "from " MINUS "1 to +2");
    check_signs("", "");
}

static void details_have_true_signs_on_the_page(void)
{
    char *text = report_page_after(
        NULL, "UPDATE flag_row SET detail = 'off by -3.2 counts, 1.0 +- 0.2' WHERE rule = "
              "'q-unsteady'");

    if (text != NULL)
        CHECK_CONTAINS(text, "off by " MINUS "3.2 counts, 1.0 " PLUS_MINUS " 0.2 (<code>q-unst");
    free(text);
}

/* Where each rule's code stands on the page, one after another. */
static void check_order(const char *text, const char *const *rules, size_t n)
{
    const char *at = strstr(text, "id=\"eyes\"");

    for (size_t i = 0; at != NULL && i < n; i++) {
        const char *next = strstr(at, rules[i]);
        CHECK(next != NULL);
        if (next == NULL)
            CHECK_TEXT("missing or too early", rules[i]);
        at = next;
    }
}

/* Effects by hand: unsteady q 7.25 counts, drift -4.5 and 2 counts, the rest not known. Off target is
 * failed, so that by state it would stand first. */
static void what_needs_eyes_is_ranked_by_effect(void)
{
    static const char *const rules[] = {"<code>q-unsteady", "<code>zero-drift", "<code>off-target",
                                        "<code>tap-frozen", "</span>fine</span>"};
    char *text = report_page_after(
        NULL, "UPDATE flag_row SET effect_counts = 7.25 WHERE rule = 'q-unsteady';"
              "UPDATE flag_row SET effect_counts = CASE run WHEN 'R109' THEN -4.5 ELSE 2 END WHERE "
              "rule = 'zero-drift'");

    if (text != NULL) {
        check_order(text, rules, sizeof rules / sizeof rules[0]);
        CHECK_CONTAINS(text, "</span>flagged</span><small>4.5 counts</small>");
        CHECK_CONTAINS(text, "</span>failed</span><small>effect not known</small>");
        CHECK_CONTAINS(text,
                       "Ranked by what each does to downforce; what is not known comes last.");
    }
    free(text);
}

/* The points off target are of R105, of W3: all that is kept out moves its delta from 4.9
 * to 13.2 counts. */
static void a_failed_point_s_effect_is_its_exclusion_s(void)
{
    char *text = report_page_after(
        NULL, "INSERT INTO exclusion_effect SELECT 100, configuration, 'CL', 'weighted', 'all in', "
              "1, 0.0049, 0.007, NULL, 0.0132, 0.007, NULL, 2, 1, '' FROM run WHERE run = 'R105'");

    if (text != NULL) {
        CHECK_CONTAINS(text, "</span>failed</span><small>8.3 counts</small>");
        CHECK_CONTAINS(text, "The effect is that of all points of the configuration that were kept "
                             "out, together.");
    }
    free(text);
    text = report_page_after(
        NULL, "INSERT INTO exclusion_effect SELECT 100, configuration, 'CD', 'weighted', 'all in', "
              "0, 0.0049, 0.007, NULL, 0.0132, 0.007, NULL, 2, 1, '' FROM run WHERE run = 'R105'");
    if (text != NULL)
        CHECK_CONTAINS(text, "</span>failed</span><small>0.0 counts</small>");
    free(text);
}

/* By hand: a delta of nothing needs the whole strip, one of its half is hardest to tell, one beyond it
 * needs to leave zero out. */
static void a_verdict_needs_the_nearer_of_two_widths(void)
{
    CHECK_NEAR(repeat_needed(0, 10), 10, 1e-12, "by hand");
    CHECK_NEAR(repeat_needed(5, 10), 5, 1e-12, "by hand");
    CHECK_NEAR(repeat_needed(-7, 10), 7, 1e-12, "by hand");
    CHECK_NEAR(repeat_needed(-2, 10), 8, 1e-12, "by hand");
    CHECK_NEAR(repeat_needed(30, 10), 30, 1e-12, "by hand");
    CHECK(isnan(repeat_needed(NAN, 10)));
}

static void doubt_is_ranked_by_the_minute(void)
{
    struct finding_configuration configurations[5] = {
        {.name = "base", .is_baseline = 1},
        {.name = "slow",
         .deltas = {{.is_there = 1, .verdict = "can't tell yet", .half_width = 14}}},
        {.name = "quick",
         .deltas = {{.is_there = 1, .verdict = "can't tell yet", .half_width = 12}}},
        {.name = "bare", .deltas = {{.is_there = 1, .verdict = "", .half_width = NAN}}},
        {.name = "gain", .deltas = {{.is_there = 1, .verdict = "gain", .half_width = 3}}}};
    const double minutes[] = {20, 40, 10, 15, 20};
    struct findings findings = {.metrics = {{.worthwhile = 10}},
                                .n_metrics = 1,
                                .configurations = configurations,
                                .n_configurations = 5,
                                .n_leading = 5};
    struct repeat_row *rows = NULL;
    struct fault fault = {0};
    size_t n = 0;

    CHECK_OK(repeat_first(&findings, minutes, &rows, &n, &fault), &fault);
    CHECK(n == 3);
    if (n == 3) {
        CHECK_TEXT(rows[0].configuration->name, "bare");
        CHECK(isnan(rows[0].doubt));
        CHECK_TEXT(rows[1].configuration->name, "quick"); /* 2 counts in 10 minutes */
        CHECK_NEAR(rows[1].doubt, 2, 1e-12, "by hand");
        CHECK_TEXT(rows[2].configuration->name, "slow"); /* 4 counts in 40 */
        CHECK_NEAR(rows[2].doubt, 4, 1e-12, "by hand");
    }
    free(rows);
}

/* W3 is the one that can't be told: +4.9 +- 7.9 counts against 10; within 5.1 it could. Runs are 23
 * minutes apart. */
static void runs_to_repeat_say_why(void)
{
    char *text = report_page_after(NULL, NULL);

    if (text != NULL) {
        const char *at = strstr(text, "id=\"repeat\"");
        CHECK(at != NULL);
        CHECK_CONTAINS(
            at != NULL ? at : "",
            "<th class=\"name\" scope=\"row\">W3</th>\n<td class=\"left\">R120</td>\n"
            "<td>23</td>\n<td>2.8</td>\n<td>0.12</td>\n<td class=\"left why-cell\">+4.9 " PLUS_MINUS
            " 7.9 counts: a verdict needs " PLUS_MINUS " 5.1 or less.");
    }
    free(text);
    text = report_page_after(NULL, "UPDATE delta_result SET verdict = 'gain' WHERE verdict = "
                                   "'can''t tell yet'");
    if (text != NULL)
        CHECK_CONTAINS(text, "None: every configuration that was compared has its verdict.");
    free(text);
    text = report_page_after(NULL, "DELETE FROM delta_result");
    if (text != NULL)
        CHECK_CONTAINS(text, "Nothing was compared, so nothing can be ranked.");
    free(text);
}

/* The quarantined run is W2's: where W2 is open, it is named. */
static void a_run_that_was_lost_is_named(void)
{
    char *text = report_page_after(
        NULL, "UPDATE delta_result SET verdict = NULL, half_width = NULL, lower = NULL, upper = "
              "NULL, reason = 'parts not refitted: no verdict (1 mounting)' WHERE is_main = 1 AND "
              "configuration = 'W2'");

    if (text != NULL)
        CHECK_CONTAINS(text, "No interval; parts not refitted: no verdict (1 mounting). R118 takes "
                             "no part.");
    free(text);
}

CU_TestInfo report_eyes_tests[] = {
    {"signs are true and names stay", signs_are_true_and_names_stay},
    {"details have true signs on the page", details_have_true_signs_on_the_page},
    {"what needs eyes is ranked by effect", what_needs_eyes_is_ranked_by_effect},
    {"a failed point's effect is its exclusion's", a_failed_point_s_effect_is_its_exclusion_s},
    {"a verdict needs the nearer of two widths", a_verdict_needs_the_nearer_of_two_widths},
    {"doubt is ranked by the minute", doubt_is_ranked_by_the_minute},
    {"runs to repeat say why", runs_to_repeat_say_why},
    {"a run that was lost is named", a_run_that_was_lost_is_named},
    CU_TEST_INFO_NULL};
