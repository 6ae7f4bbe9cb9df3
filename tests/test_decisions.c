/* test_decisions.c - decisions in the reduction: what is left out, taken in, and what that changes. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include "reduce/compare_table.h"
#include "reduce/explain.h"
#include "reduce/pipeline.h"
#include "schema/point_statistics.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

static struct reduce_summary reduce(struct night_fixture *fixture)
{
    struct fault fault;
    struct reduce_summary summary;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
    return summary;
}

/* Four returns; without a2 the baseline at b1 is (3.000 + 3.002)/2 of a1 and a3 at their times. */
static void open_night(struct night_fixture *fixture)
{
    fixture_open(fixture);
    fixture_add_zero(fixture, "z1", 0, 0);
    fixture_add_wind(fixture, "a1", "base", 1000, 3.000);
    fixture_add_wind(fixture, "b1", "wing", 2000, 3.041);
    fixture_add_wind(fixture, "a2", "base", 3000, 3.020);
    fixture_add_wind(fixture, "b2", "wing", 4000, 3.043);
    fixture_add_wind(fixture, "a3", "base", 5000, 3.002);
    fixture_add_wind(fixture, "c1", "floor", 6000, 3.001);
    fixture_add_wind(fixture, "a4", "base", 7000, 3.000);
}

static double main_effect(struct night_fixture *fixture, const char *basis, const char *column)
{
    char sql[300];
    (void)snprintf(sql, sizeof sql,
                   "SELECT %s FROM exclusion WHERE configuration = 'wing' AND is_main = 1 AND "
                   "basis = '%s'",
                   column, basis);
    return fixture_number(fixture, sql);
}

static void without_decisions_nothing_is_kept_beside(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    (void)reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM target_other"), 0, 0, "none");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM exclusion_effect"), 0, 0, "none");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM left_out"), 0, 0, "none");
    fixture_close(&fixture);
}

/* wing as it stands: 3.041 - 3.0005 and 3.043 - 3.0015; all in: 3.041 - 3.010 and 3.043 - 3.011. */
static void an_excluded_point_keeps_its_numbers_and_is_not_compared(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    (void)reduce(&fixture);
    double before = fixture_number(&fixture, "SELECT delta FROM delta WHERE configuration = 'wing' "
                                             "AND is_main = 1");
    fixture_decide(&fixture, "a2", "P1", "exclude");
    struct reduce_summary summary = reduce(&fixture);
    CHECK(summary.runs_reduced == 1 && summary.runs_up_to_date == 6);
    CHECK_TEXT(fixture_text(&fixture, "SELECT state FROM point_coefficient WHERE run = 'a2'"),
               "excluded");
    CHECK_TEXT(fixture_text(&fixture, "SELECT rule_state FROM point_result WHERE run = 'a2' AND "
                                      "state = 'excluded'"),
               "ok");
    CHECK_NEAR(fixture_number(&fixture, "SELECT downforce_coefficient FROM point_coefficient WHERE "
                                        "run = 'a2'"),
               3.020, 1e-12, "the fixture's own");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM point_coefficient WHERE "
                                        "target_is_used = 1 AND state <> 'excluded'"),
               6, 0, "all the others");
    CHECK_NEAR(main_effect(&fixture, "all in", "delta_with"), 0.0410, 1e-12,
               "by hand: ((3.041 - 3.0005) + (3.043 - 3.0015))/2");
    CHECK_NEAR(main_effect(&fixture, "all in", "delta_without"), 0.0315, 1e-12,
               "by hand: ((3.041 - 3.010) + (3.043 - 3.011))/2");
    CHECK_NEAR(main_effect(&fixture, "all in", "delta_without"), before, 0,
               "identity: the delta before anybody decided");
    CHECK_NEAR(main_effect(&fixture, "all in", "points"), 1, 0, "a2/P1");
    CHECK_NEAR(main_effect(&fixture, "all in", "runs"), 1, 0, "a2");
    CHECK_TEXT(fixture_text(&fixture, "SELECT decided_by FROM exclusion WHERE configuration = "
                                      "'wing' AND is_main = 1"),
               "J. Moss");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM exclusion WHERE basis <> 'all in'"),
               0, 0, "no rule failed: the rules alone say the same");
    CHECK_TEXT(fixture_text(&fixture, "SELECT state || ': ' || detail FROM flag WHERE rule = "
                                      "'point-excluded'"),
               "info: excluded by J. Moss on 2026-02-12: seen on video");
    fixture_close(&fixture);
}

static void taking_a_decision_back_brings_the_old_numbers_back(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    (void)reduce(&fixture);
    fixture_decide(&fixture, "a2", "P1", "exclude");
    (void)reduce(&fixture);
    fixture_execute(&fixture, "UPDATE decision SET why = 'because'");
    CHECK(reduce(&fixture).runs_reduced == 1);
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'point-excluded'"),
                   "because");
    fixture_execute(&fixture, "UPDATE decision SET sheet_line = 77");
    CHECK(reduce(&fixture).runs_reduced == 0); /* where it stands in the file changes nothing */
    fixture_execute(&fixture, "DELETE FROM decision");
    struct reduce_summary summary = reduce(&fixture);
    CHECK(summary.runs_reduced == 0 && summary.groups_reduced == 0);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM left_out"), 0, 0, "none");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM exclusion"), 0, 0, "none");
    fixture_close(&fixture);
}

static void an_excluded_run_is_left_out_whole_and_was_mounted_all_the_same(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    fixture_decide(&fixture, "b1", "", "exclude");
    (void)reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, "SELECT place || ' ' || state || ' ' || who FROM left_out"),
               "b1 excluded J. Moss");
    CHECK_TEXT(fixture_text(&fixture, "SELECT runs FROM observation WHERE configuration = 'wing' "
                                      "AND mounting = 2 AND quantity = 'CL' AND target = 'low'"),
               "b2");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM observation WHERE configuration = "
                                        "'wing' AND mounting = 1"),
               0, 0, "b1's mounting");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = "
                                        "'attitude-not-measured' AND run = 'b1'"),
               0, 0, "what is left out on purpose misses nothing");
    CHECK_TEXT(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'point-excluded' AND "
                                      "point = ''"),
               "whole run excluded by J. Moss on 2026-02-12: seen on video");
    fixture_decide(&fixture, "b2", "", "exclude");
    (void)reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, "SELECT reason FROM delta WHERE configuration = 'wing' AND "
                                      "is_main = 1"),
               "left out at this attitude: no delta");
    CHECK(!isnan(main_effect(&fixture, "all in", "delta_without")));
    fixture_close(&fixture);
}

static void a_point_of_its_own_stands_before_its_run(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    fixture_decide(&fixture, "b1", "", "exclude");
    fixture_decide(&fixture, "b1", "P1", "restore");
    (void)reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT target_is_used FROM point_coefficient WHERE run = "
                                        "'b1'"),
               1, 0, "kept in");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'point-restored'"),
                   "its run is excluded");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = "
                                        "'decision-without-effect'"),
               0, 0, "it has an effect");
    fixture_close(&fixture);
}

/* b2 is all that makes a second mounting: without it there is no verdict. */
static void a_verdict_that_rests_on_a_decision_is_flagged_with_its_name(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    fixture_decide(&fixture, "b2", "P1", "exclude");
    (void)reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, "SELECT state || ' ' || subject FROM flag WHERE rule = "
                                      "'verdict-rests-on-exclusion'"),
               "flagged wing");
    const char *detail = fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = "
                                                "'verdict-rests-on-exclusion'");
    CHECK_CONTAINS(detail, "as it stands: no verdict; with nothing left out: ");
    CHECK_CONTAINS(detail, "b2/P1 by J. Moss");
    CHECK_NEAR(main_effect(&fixture, "all in", "verdict_differs"), 1, 0, "none is another word");
    fixture_close(&fixture);
}

static void what_cannot_be_done_is_flagged_and_changes_nothing(void)
{
    static const struct {
        const char *run, *point, *decision, *reason;
    } cases[] = {
        {"a1", "P1", "restore", "no rule failed it"},
        {"a1", "P9", "exclude", "the run has no such point"},
        {"a1", "P9", "restore", "the run has no such point"},
        {"a1", "", "restore", "no rule failed any of its points that has a number"},
        {"r1", "P1", "restore", "the point is refused, it has no number"},
        {"r1", "P1", "exclude", "the point is refused, it has no number"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct night_fixture fixture;
        struct fixture_point still = {.rise = -1, .front = 0.02, .rear = 0.04};
        open_night(&fixture);
        fixture_add_run(
            &fixture, &(struct fixture_run){
                          .run = "r1", .kind = "wind_on", .configuration = "wing", .start = 7500});
        fixture_add_point(&fixture, "r1", "P1", 7500, &still);
        fixture_decide(&fixture, cases[i].run, cases[i].point, cases[i].decision);
        (void)reduce(&fixture);
        CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = "
                                            "'decision-without-effect' AND state = 'flagged'"),
                   1, 0, "one decision");
        CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = "
                                              "'decision-without-effect'"),
                       cases[i].reason);
        CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM left_out"), 0, 0, "nothing");
        CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM point_coefficient WHERE state = "
                                            "'refused'"),
                   1, 0, "r1 has no number, whoever decides");
        fixture_close(&fixture);
    }
}

/* A channel that repeats one value is a rule's business: nobody decided. */
static void a_point_failed_by_a_rule_is_left_out_and_may_be_restored(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    fixture_set_point_statistic(&fixture, "a2", "P1", 2, offsetof(struct channel_statistics, stuck),
                                40);
    (void)reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, "SELECT place || ' ' || state || ' ' || rules || who FROM "
                                      "left_out"),
               "a2/P1 failed stuck");
    CHECK_NEAR(main_effect(&fixture, "all in", "delta_with"), 0.0410, 1e-12,
               "by hand: ((3.041 - 3.0005) + (3.043 - 3.0015))/2");
    CHECK_NEAR(main_effect(&fixture, "all in", "delta_without"), 0.0315, 1e-12,
               "by hand: ((3.041 - 3.010) + (3.043 - 3.011))/2");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM exclusion WHERE decided_by <> '' OR "
                                        "basis <> 'all in'"),
               0, 0, "nobody decided");
    fixture_decide(&fixture, "a2", "", "restore");
    (void)reduce(&fixture);
    CHECK_TEXT(fixture_text(&fixture, "SELECT state || ' ' || target_is_used FROM "
                                      "point_coefficient WHERE run = 'a2'"),
               "restored 1");
    CHECK_CONTAINS(fixture_text(&fixture, "SELECT detail FROM flag WHERE rule = 'point-restored'"),
                   "taken in although a rule failed it by J. Moss on 2026-02-12: seen on video");
    CHECK_NEAR(main_effect(&fixture, "rules alone", "delta_with"), 0.0315, 1e-12,
               "as all in above");
    CHECK_NEAR(main_effect(&fixture, "rules alone", "delta_without"), 0.0410, 1e-12,
               "as it stood above");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM exclusion WHERE basis = 'all in'"), 0,
               0, "everything is in");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = "
                                        "'decision-without-effect'"),
               0, 0, "it has an effect");
    fixture_close(&fixture);
}

/* An answer that nobody expects is compared as any other. */
static void an_unexpected_answer_is_never_left_out(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    fixture_add_wind(&fixture, "b3", "wing", 6500, 4.500);
    (void)reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM point_coefficient WHERE state NOT IN "
                                        "('ok', 'flagged') OR target_is_used = 0"),
               0, 0, "all are used");
    CHECK_NEAR(fixture_number(&fixture, "SELECT value FROM observation WHERE configuration = "
                                        "'wing' AND runs = 'b3' AND quantity = 'CL' AND target = "
                                        "'low'"),
               4.5, 1e-9, "the fixture's own");
    fixture_close(&fixture);
}

static void compare_and_explain_say_who_decided_and_what_it_changes(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    struct compare_request request = {.format = COMPARE_TEXT};
    open_night(&fixture);
    fixture_decide(&fixture, "a2", "P1", "exclude");
    fixture_execute(&fixture, "INSERT INTO metric VALUES ('downforce',1,'CL','higher',NULL,0.01,1),"
                              "('drag',2,'CD','lower',NULL,0.003,0)");
    (void)reduce(&fixture);
    CHECK_OK(compare_table(fixture.store, &request, &text, &fault), &fault);
    CHECK_CONTAINS(text.text, "left out or taken in, and what that changes");
    CHECK_CONTAINS(text.text, "a2/P1 (base) excluded by J. Moss on 2026-02-12: seen on video\n");
    CHECK_CONTAINS(text.text, "as it stands +0.0410");
    CHECK_CONTAINS(text.text, "; nothing left out +0.0315");
    key_text_end(&text);
    request.format = COMPARE_CSV;
    CHECK_OK(compare_table(fixture.store, &request, &text, &fault), &fault);
    CHECK(strstr(text.text, "left out") == NULL);
    key_text_end(&text);
    struct explain_request about = {"a2", "P1", "CL", 0};
    CHECK_OK(explain_number(fixture.store, &fixture.campaign, &about, &text, &fault), &fault);
    CHECK_CONTAINS(text.text, "state excluded (by the rules alone: ok)");
    CHECK_CONTAINS(text.text, "not compared there: excluded");
    CHECK_CONTAINS(text.text, "Decision\n  exclude, by J. Moss on 2026-02-12: seen on video\n");
    key_text_end(&text);
    about.run = "a1";
    CHECK_OK(explain_number(fixture.store, &fixture.campaign, &about, &text, &fault), &fault);
    CHECK(strstr(text.text, "Decision") == NULL);
    key_text_end(&text);
    fixture_close(&fixture);
}

extern CU_TestInfo decisions_tests[];
CU_TestInfo decisions_tests[] = {
    {"without decisions nothing is kept beside", without_decisions_nothing_is_kept_beside},
    {"an excluded point keeps its numbers and is not compared",
     an_excluded_point_keeps_its_numbers_and_is_not_compared},
    {"taking a decision back brings the old numbers back",
     taking_a_decision_back_brings_the_old_numbers_back},
    {"an excluded run is left out whole and was mounted all the same",
     an_excluded_run_is_left_out_whole_and_was_mounted_all_the_same},
    {"a point of its own stands before its run", a_point_of_its_own_stands_before_its_run},
    {"a verdict that rests on a decision is flagged with its name",
     a_verdict_that_rests_on_a_decision_is_flagged_with_its_name},
    {"what cannot be done is flagged and changes nothing",
     what_cannot_be_done_is_flagged_and_changes_nothing},
    {"a point failed by a rule is left out and may be restored",
     a_point_failed_by_a_rule_is_left_out_and_may_be_restored},
    {"an unexpected answer is never left out", an_unexpected_answer_is_never_left_out},
    {"compare and explain say who decided and what it changes",
     compare_and_explain_say_who_decided_and_what_it_changes},
    CU_TEST_INFO_NULL};
