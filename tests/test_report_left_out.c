/* test_report_left_out.c - the page's section on what was left out: there only when something was. */
#include <CUnit/CUnit.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"
#include "tests/test_report_made.h"

static void a_night_that_leaves_nothing_out_has_no_section(void)
{
    char *text = report_page_after(NULL, NULL);
    if (text != NULL)
        CHECK(strstr(text, "What was left out") == NULL);
    free(text);
}

static const char exclude_one[] =
    "UPDATE point_result SET state = 'excluded' WHERE run = 'R103' AND point = '4';"
    "INSERT INTO decision VALUES ('R103', '4', 'exclude', 'J. Moss', '2026-02-12', 'belt', 2)";

static const char flip[] =
    "INSERT INTO exclusion_effect SELECT reduction, configuration, quantity, target, 'all in', "
    "is_main, delta, half_width, verdict, delta - 0.0123, half_width, 'can''t tell yet', 1, 1, "
    "'J. Moss' FROM delta_result WHERE is_main = 1 AND verdict = 'gain'";

static void a_verdict_that_differs_catches_the_eye(void)
{
    char *text = report_page_after(exclude_one, flip);
    if (text != NULL) {
        const char *section = strstr(text, "What was left out");
        CHECK(section != NULL);
        section = section == NULL ? "" : section;
        CHECK_CONTAINS(section, "<b>R103/4</b>");
        CHECK_CONTAINS(section, "by J. Moss on 2026-02-12: belt");
        CHECK_CONTAINS(section,
                       "<span class=\"chip look\"><span aria-hidden=\"true\">!</span>gain");
        CHECK_CONTAINS(section, "<span class=\"chip look\"><span aria-hidden=\"true\">!</span>"
                                "can&#39;t tell yet");
        CHECK_CONTAINS(section, "+23.8"); /* of W2, as in the table above it */
        CHECK_CONTAINS(section, "+11.5"); /* 23.8 less the 12.3 of the statement above */
    }
    free(text);
}

/* The gain is none with nothing left out, by the program's own second look. */
static const char hang[] =
    "DELETE FROM robustness WHERE configuration = 'W2';"
    "DELETE FROM stability_result WHERE configuration = 'W2';"
    "INSERT INTO robustness SELECT reduction, configuration, quantity, target, 'all in', delta, "
    "half_width, 'can''t tell yet' FROM delta_result WHERE is_main = 1 AND configuration = 'W2';"
    "INSERT INTO stability_result SELECT reduction, configuration, quantity, target, 'softer "
    "without some', 4, 3 FROM delta_result WHERE is_main = 1 AND configuration = 'W2'";

static void a_verdict_that_hangs_on_it_says_so_at_the_top(void)
{
    char *text = report_page_after(exclude_one, hang);
    if (text != NULL) {
        CHECK_CONTAINS(text, "; the verdict hangs on what was left out.</h1>");
        CHECK_CONTAINS(text, " Not firm: W2 (hangs on what was left out).");
        const char *repeat = strstr(text, "id=\"repeat\"");
        CHECK_CONTAINS(repeat == NULL ? "" : repeat,
                       "softer without some: 3 of 4 variants say the same");
    }
    free(text);
}

static void a_run_excluded_whole_is_not_usable(void)
{
    char *text = report_page_after(
        NULL,
        "INSERT INTO decision SELECT run, '', 'exclude', 'J. Moss', '2026-02-12', 'belt', 2 "
        "FROM run WHERE configuration = 'W2' AND kind = 'wind_on';"
        "UPDATE delta_result SET delta = NULL, half_width = NULL, lower = NULL, upper = NULL, "
        "verdict = NULL, reason = 'left out at this attitude: no delta' WHERE configuration = "
        "'W2'");
    if (text != NULL) {
        CHECK_CONTAINS(text, "excluded by a person");
        CHECK_CONTAINS(text, "No verdict on W2: all its runs are excluded by a person.");
        CHECK(strstr(text, "</span>all read</span>") == NULL);
    }
    free(text);
}

static void a_decision_that_changes_no_delta_says_so(void)
{
    char *text = report_page_after(exclude_one, NULL);
    if (text != NULL)
        CHECK_CONTAINS(text, "No delta of the table above changes by it. exclusions.csv has");
    free(text);
}

static void many_points_are_counted_and_a_whole_run_is_one_place(void)
{
    char *text = report_page_after(
        "UPDATE point_result SET state = 'excluded' WHERE run IN ('R101', 'R103')",
        "INSERT INTO decision VALUES ('R101', '', 'exclude', 'J. Moss', '2026-02-12', 'belt', 2); "
        "INSERT INTO decision SELECT run, point, 'exclude', 'J. Moss', '2026-02-12', 'belt', 3 "
        "FROM "
        "point WHERE run = 'R103'");
    if (text != NULL) {
        CHECK_CONTAINS(text, "<b>R101</b>");
        CHECK_CONTAINS(text, ", whole run), by J. Moss");
        CHECK(strstr(text, "<b>R101/") == NULL);
        CHECK_CONTAINS(text, "and 13 more: see the states in points.csv."); /* 1 + 24 - 12 */
    }
    free(text);
}

extern CU_TestInfo report_left_out_tests[];
CU_TestInfo report_left_out_tests[] = {
    {"a night that leaves nothing out has no section",
     a_night_that_leaves_nothing_out_has_no_section},
    {"a verdict that differs catches the eye", a_verdict_that_differs_catches_the_eye},
    {"a verdict that hangs on it says so at the top",
     a_verdict_that_hangs_on_it_says_so_at_the_top},
    {"a run excluded whole is not usable", a_run_excluded_whole_is_not_usable},
    {"a decision that changes no delta says so", a_decision_that_changes_no_delta_says_so},
    {"many points are counted and a whole run is one place",
     many_points_are_counted_and_a_whole_run_is_one_place},
    CU_TEST_INFO_NULL};
