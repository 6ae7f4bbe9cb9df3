/* test_report_trust.c - a check on the night that fails takes the winner's place. */
#include <CUnit/CUnit.h>
#include <stdlib.h>
#include <string.h>

#include "report/trust.h"
#include "tests/check.h"
#include "tests/test_report_made.h"

static const char distrust[] = "<h1>Do not use these deltas yet: ";

static void check_distrust(const char *sql, const char *says, const char *chip)
{
    char *text = report_page_after(NULL, sql);

    if (text != NULL) {
        CHECK_CONTAINS(text, distrust);
        CHECK_CONTAINS(text, says);
        CHECK_CONTAINS(text, chip);
        CHECK_CONTAINS(text, "Measured, but not to be used before that is cleared. W2 beats C0");
        CHECK(strstr(text, "<h1>W2 beats") == NULL);
        CHECK(strstr(text, "class=\"winner\"") == NULL);
    }
    free(text);
}

static void check_trust(const char *sql, const char *says)
{
    char *text = report_page_after(NULL, sql);

    if (text != NULL) {
        CHECK_CONTAINS(text, "<h1>W2 beats C0");
        CHECK(strstr(text, distrust) == NULL);
        CHECK(strstr(text, "</span>fails</span>") == NULL);
        CHECK_CONTAINS(text, says);
    }
    free(text);
}

static const char fails[] = "</span>fails</span>";

/* Returns at 3.100, 3.130 and 3.102: a step of 30 counts, where the widest judged half-width is 7.9. */
static void a_step_of_the_baseline_takes_the_winner_s_place(void)
{
    check_distrust(
        "DELETE FROM observation WHERE configuration = 'C0' AND mounting > 3;"
        "UPDATE observation SET value = CASE mounting WHEN 1 THEN 3.100 WHEN 2 THEN "
        "3.130 ELSE 3.102 END WHERE configuration = 'C0'",
        "the baseline moved by 2.0 counts from the first to the last of its 3 mountings, "
        "by 30.0 counts at most between neighbours, which is more than twice the widest judged "
        "half-width, 7.9 counts.</h1>",
        fails);
}

/* 15 counts are more than matters and less than twice 7.9. */
static void a_step_that_intervals_hold_is_only_looked_at(void)
{
    check_trust("DELETE FROM observation WHERE configuration = 'C0' AND mounting > 3;"
                "UPDATE observation SET value = CASE mounting WHEN 1 THEN 3.100 WHEN 2 THEN 3.115 "
                "ELSE 3.102 END WHERE configuration = 'C0'",
                "by 15.0 counts at most between neighbours; more than the 10 counts that matter.");
}

#define FLAG                                                                           \
    "INSERT INTO flag_row (reduction, run, point, subject, rule, state, value, unit, " \
    "effect_counts, detail) VALUES "

/* W2's interval is 6.1 counts to either side: half of 14 is beyond it, half of 12 is not. */
static void a_bracket_that_moved_fails_by_half_of_it(void)
{
    check_distrust(FLAG "(100, '', '', 'W2', 'bracket-wide', 'flagged', 0.014, '1', 14, '')",
                   "around W2 the baseline moved by 14.0 counts between its returns; half of that "
                   "is more than the delta&#39;s interval.</h1>",
                   fails);
    check_trust(FLAG "(100, '', '', 'W2', 'bracket-wide', 'flagged', -0.012, '1', -12, '')",
                "Around W2 the baseline moved by 12.0 counts between its returns, more than "
                "matters.");
    /* W3 is not decided: nothing rests on it */
    check_trust(FLAG "(100, '', '', 'W3', 'bracket-wide', 'flagged', 0.040, '1', 40, '')",
                "Around W3 the baseline moved by 40.0 counts");
}

static void an_undeclared_change_fails_by_its_effect(void)
{
    check_distrust(FLAG
                   "(5, 'R105', '', 'zero', 'undeclared-change', 'flagged', 1, 'N', -12.5, '')",
                   "before R105 something changed that the run sheet does not tell, worth 12.5 "
                   "counts.</h1>",
                   fails);
    check_trust(FLAG "(5, 'R105', '', 'zero', 'undeclared-change', 'flagged', 1, 'N', 9, '')",
                "Before R105 something changed that the run sheet does not tell, worth 9.0 "
                "counts.");
    check_trust(FLAG "(5, 'R105', '', 'zero', 'undeclared-change', 'flagged', 1, 'N', NULL, '')",
                "Before R105 something changed that the run sheet does not tell.");
}

static void two_methods_that_disagree_on_the_leader_fail(void)
{
    check_distrust("UPDATE delta_result SET beside_delta = 0.0100, disagrees = 1 WHERE is_main = 1 "
                   "AND configuration = 'W2'",
                   "disagree: on W2 they are 13.8 counts apart.</h1>", fails);
    check_trust("UPDATE delta_result SET beside_delta = 0.0120, disagrees = 1 WHERE is_main = 1 "
                "AND configuration = 'W3'",
                "disagree: on W3 they are 7.1 counts apart.");
    check_trust("UPDATE delta_result SET beside_delta = delta + 0.001 WHERE is_main = 1",
                "agree on all 5 deltas that both give; on ");
    check_trust(NULL, "Each delta could be found in one way only");
}

#define SCATTER                                                                                  \
    "INSERT INTO delta_uncertainty (reduction, configuration, baseline, quantity, target, "      \
    "is_main, standard_configuration, degrees_of_freedom_configuration, standard_baseline, "     \
    "standard_delta, degrees_of_freedom_delta, predicted_scatter, observed_scatter, "            \
    "observed_degrees_of_freedom) VALUES (100, 'W2', 'C0', 'CL', 'weighted', 1, 0.01, 9, 0.01, " \
    "0.003, 9, 0.0010, 0.0026, 9);"

/* The intervals rest on that scatter: it takes nobody's place. */
static void scatter_beyond_the_budget_is_to_be_looked_at(void)
{
    check_trust(SCATTER FLAG
                "(100, '', '', 'CL', 'budget-unlike-scatter', 'flagged', 0.0026, '1', NULL, '')",
                "Mountings scatter by 2.6 counts, where the uncertainties of the budget say 1.0 "
                "counts: something that is not declared changes");
    check_trust(SCATTER, "Mountings scatter by 2.6 counts, where the uncertainties of the budget "
                         "say 1.0 counts.");
}

static void a_reversed_verdict_of_the_leader_fails(void)
{
    check_distrust("INSERT INTO stability_result VALUES (100, 'W2', 'CL', 'weighted', 'reversed by "
                   "what is left out', 9, 4)",
                   "W2: reversed by what is left out (4 of 9 say the same).</h1>", fails);
    check_trust("INSERT INTO stability_result VALUES (100, 'W2', 'CL', 'weighted', 'firm', 9, 9)",
                "Worked out again without each return, without flagged points and with what was "
                "left out, the "
                "verdict stays the same for 1 of 1 configuration.");
    check_trust("INSERT INTO stability_result VALUES (100, 'W1', 'CL', 'weighted', 'softer without "
                "some', 9, 7)",
                "<small>softer without some</small>");
}

/* Every check of the fixture has a sentence, and several failures are counted. */
static void all_checks_are_told(void)
{
    char *text = report_page_after(
        FLAG "(100, '', '', 'W2', 'bracket-wide', 'flagged', 0.014, '1', 14, '')",
        FLAG "(5, 'R105', '', 'zero', 'undeclared-change', 'flagged', 1, 'N', -12.5, '')");

    if (text != NULL) {
        const char *at = strstr(text, "<table class=\"checks\"");
        CHECK(at != NULL);
        CHECK_CONTAINS(at != NULL ? at : "", "</span>not known</span>");
        CHECK_CONTAINS(text, "2 checks on the night fail; the table of checks has all.");
    }
    free(text);
    text = report_page_after(NULL, "DELETE FROM delta_result");
    if (text != NULL)
        CHECK(strstr(text, "<table class=\"checks\"") == NULL);
    free(text);
}

CU_TestInfo report_trust_tests[] = {
    {"a step of the baseline takes the winner's place",
     a_step_of_the_baseline_takes_the_winner_s_place},
    {"a step that intervals hold is only looked at", a_step_that_intervals_hold_is_only_looked_at},
    {"a bracket that moved fails by half of it", a_bracket_that_moved_fails_by_half_of_it},
    {"an undeclared change fails by its effect", an_undeclared_change_fails_by_its_effect},
    {"two methods that disagree on the leader fail", two_methods_that_disagree_on_the_leader_fail},
    {"scatter beyond the budget is to be looked at", scatter_beyond_the_budget_is_to_be_looked_at},
    {"a reversed verdict of the leader fails", a_reversed_verdict_of_the_leader_fails},
    {"all checks are told", all_checks_are_told},
    CU_TEST_INFO_NULL};
