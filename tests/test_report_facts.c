/* test_report_facts.c - facts, refusals and the sentences about one comparison: what the page claims
 * beyond its table. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/baseline_track.h"
#include "tests/check.h"
#include "tests/test_report_made.h"

static void a_step_is_not_hidden_by_first_to_last(void)
{
    static const double returns[] = {3.176, 3.177, 3.186, 3.182};
    struct baseline_track track = baseline_track(returns, 4);

    CHECK(track.returns == 4);
    CHECK_NEAR(track.moved, 0.006, 1e-12, "identity");
    CHECK_NEAR(track.step, 0.009, 1e-12, "identity");
    CHECK_NEAR(track.range, 0.010, 1e-12, "identity");
    CHECK_NEAR(baseline_track_size(&track), 0.009, 1e-12, "identity");
}

static void a_step_down_keeps_its_sign(void)
{
    static const double returns[] = {1, 4, -1, 1};
    struct baseline_track track = baseline_track(returns, 4);

    CHECK_NEAR(track.moved, 0, 0, "identity");
    CHECK_NEAR(track.step, -5, 0, "identity");
    CHECK_NEAR(baseline_track_size(&track), 5, 0, "identity");
    track = baseline_track(returns, 1);
    CHECK(isnan(track.moved) && isnan(track.step) && isnan(track.range));
}

/* Drift of many small steps: first to last counts. */
static void drift_is_judged_too(void)
{
    static const double returns[] = {0, 1, 2, 3};
    struct baseline_track track = baseline_track(returns, 4);

    CHECK_NEAR(baseline_track_size(&track), 3, 0, "identity");
}

/* Three returns at 3.100, 3.112 and 3.105: five counts first to last, a step of twelve; what matters
 * is ten. */
static void the_fact_is_judged_by_the_step(void)
{
    char *text = report_page_after(
        NULL, "DELETE FROM observation WHERE configuration = 'C0' AND mounting > 3;"
              "UPDATE observation SET value = CASE mounting WHEN 1 THEN 3.100 WHEN 2 "
              "THEN 3.112 ELSE 3.105 END WHERE configuration = 'C0'");

    if (text != NULL) {
        CHECK_CONTAINS(text, "<p class=\"value\">+5.0 <small>counts of downforce</small>");
        CHECK_CONTAINS(
            text, "stepped</span> over 3 mountings of it; largest step between neighbours +12.0, "
                  "range 12.0. A step is not a drift: it does not drop out of deltas "
                  "next to it.");
    }
    free(text);
}

static void a_small_walk_is_less_than_matters(void)
{
    char *text = report_page_after(
        NULL, "DELETE FROM observation WHERE configuration = 'C0' AND mounting > 2;"
              "UPDATE observation SET value = 3 + 0.004 * mounting WHERE configuration "
              "= 'C0'");

    if (text != NULL)
        CHECK_CONTAINS(text, "less than matters</span> over 2 mountings of it</p>");
    free(text);
}

/* The widest of the fixture's five judged half-widths is W3's 7.9 counts. */
static void the_half_width_is_called_what_it_is(void)
{
    char *text = report_page_after(NULL, NULL);

    if (text != NULL) {
        CHECK_CONTAINS(text, "<h3>Half-width of a judged interval</h3>");
        CHECK_CONTAINS(text, "\xC2\xB1 7.9 <small>counts of downforce</small>");
        CHECK_CONTAINS(text,
                       "within what matters</span> the widest of 5; a true change of this size "
                       "is told from zero about half the time; worth having: 10 counts");
        CHECK(strstr(text, "Smallest step") == NULL);
    }
    free(text);
    text = report_page_after(NULL, "UPDATE delta_result SET half_width = 0.0125 WHERE is_main = 1");
    if (text != NULL)
        CHECK_CONTAINS(text, "wider than what matters</span> a true change");
    free(text);
    text = report_page_after(NULL, "UPDATE delta_result SET half_width = CASE configuration WHEN "
                                   "'W3' THEN 0.01249 ELSE 0.01251 END WHERE is_main = 1");
    if (text != NULL) /* told apart as they are printed: 13 here, 12 in the table */
        CHECK_CONTAINS(text, "wider than what matters</span> the widest of 5; a true change");
    free(text);
}

/* 20 runs of 24 points; three flags of points, and one that is an information and does not count. */
static void points_without_a_flag_are_counted_by_flags(void)
{
    char *text = report_page_after(
        NULL, "INSERT INTO flag_row (reduction, run, point, subject, rule, state, unit, "
              "detail) VALUES (1, 'R101', '5', '', 'no-target', 'info', '', 'none near')");

    if (text != NULL)
        CHECK_CONTAINS(text, "and 477 of 480 reduced points have no flag of their own.");
    free(text);
    text = report_page_after(
        NULL, "INSERT INTO flag_row (reduction, run, point, subject, rule, state, unit, detail) "
              "SELECT reduction, run, point, 'q', 'q-unsteady', 'flagged', '', 'moved' FROM "
              "point_result");
    if (text != NULL) {
        CHECK_CONTAINS(text, "and 0 of 480 reduced points have no flag of their own.");
        CHECK(strstr(text, "</span>fine</span>") == NULL);
        CHECK_CONTAINS(text, "</span>the rest</span>");
    }
    free(text);
}

static void flags_name_their_points_and_channels(void)
{
    char *text = report_page_after(
        NULL, "INSERT INTO flag_row (reduction, run, point, subject, rule, state, unit, "
              "detail) SELECT reduction, run, point, 'R2', 'not-estimable', 'flagged', '', 'too "
              "short' FROM point_result WHERE reduction = 3 AND point < '2'");

    if (text != NULL) {
        CHECK_CONTAINS(text, "Points R105/3, R105/4. Concerns front_ride_height. ");
        CHECK_CONTAINS(text, "Point R112/9. Concerns q. ");
        CHECK_CONTAINS(text,
                       "Points R103/1, R103/10, R103/11, R103/12, R103/13, R103/14 and 5 more. "
                       "Concerns R2. ");
    }
    free(text);
}

static void the_largest_effect_comes_first(void)
{
    char *text = report_page_after(
        NULL, "INSERT INTO flag_row (reduction, run, point, subject, rule, state, unit, "
              "effect_counts, detail) VALUES (1, 'R101', '', 'R3', 'spikes', 'flagged', '', 0.5, "
              "'first of them'), (1, 'R101', '', 'R4', 'spikes', 'flagged', '', -7.5, 'worst of "
              "them'), (1, 'R101', '', 'CL', 'trend', 'flagged', '', 9, 'up and up')");

    if (text != NULL) {
        const char *trend = strstr(text, "Seen: up and up");
        const char *spikes = strstr(text, "Largest effect: worst of them");
        CHECK(trend != NULL && spikes != NULL && trend < spikes);
        CHECK(strstr(text, "first of them") == NULL);
    }
    free(text);
    text =
        report_page_after("UPDATE point_result SET state = 'failed' WHERE reduction = 1 AND point "
                          "= '7'",
                          "DELETE FROM flag_row");
    if (text != NULL)
        CHECK_CONTAINS(text, "and 479 of 480 reduced points have no flag of their own.");
    free(text);
}

static const char refuse_all[] =
    "UPDATE point_result SET state = 'refused', downforce_coefficient = NULL, drag_coefficient = "
    "NULL; INSERT INTO flag_row (reduction, run, point, subject, rule, state, unit, detail) SELECT "
    "DISTINCT reduction, run, '', '', 'zero-missing', 'refused', '', 'none' FROM point_result";

/* Measured points without a number are not "not measured". */
static void refused_points_are_not_unmeasured(void)
{
    char *text = report_page_after(
        refuse_all,
        "UPDATE delta_result SET delta = NULL, lower = NULL, upper = NULL, half_width = "
        "NULL, verdict = NULL, reason = 'not measured at this attitude' WHERE is_main = 1");

    if (text != NULL) {
        CHECK_CONTAINS(text,
                       "<h1>Measured, but refused: No wind-off zero belongs to the run.</h1>");
        CHECK_CONTAINS(text, "480 of 480 points refused");
        CHECK_CONTAINS(text, "<small>measured, but refused: No wind-off zero belongs to the run");
        CHECK(strstr(text, "ot measured at this attitude") == NULL);
        CHECK_CONTAINS(text, "Not decided: everything.</p>");
    }
    free(text);
    text = report_page_after(refuse_all, "DELETE FROM delta_result; DELETE FROM observation");
    if (text != NULL)
        CHECK_CONTAINS(text,
                       "<h1>Measured, but refused: No wind-off zero belongs to the run.</h1>");
    free(text);
}

/* A point of each of W2's two usable runs is refused; one whose balance alone is undefined is not. */
static void a_part_refused_is_counted(void)
{
    char *text = report_page_after(
        NULL, "UPDATE point_result SET state = 'refused', downforce_coefficient = NULL, "
              "drag_coefficient = NULL WHERE point = '3' AND run IN (SELECT run FROM run WHERE "
              "configuration = 'W2'); UPDATE point_result SET state = 'refused', balance_percent "
              "= NULL WHERE point = '4'");

    if (text != NULL) {
        CHECK_CONTAINS(text, "1 quarantined</span> 2 of 480 points refused");
        CHECK(strstr(text, "but refused") == NULL);
    }
    free(text);
}

static void one_comparison_is_in_the_singular(void)
{
    char *text = report_page_after(NULL, "DELETE FROM delta_result WHERE configuration <> 'W2'");

    if (text != NULL) {
        CHECK_CONTAINS(text, "Real: W2 (gain). Zero lies outside its 95 % interval.</p>");
        CHECK_CONTAINS(text, "is judged by its 95 % interval, and the reading follows");
        CHECK(strstr(text, "all 1 ") == NULL);
    }
    free(text);
}

static void a_verdict_may_carry_a_caveat(void)
{
    char *text = report_page_after(
        NULL, "UPDATE delta_result SET reason = 'only 2 degrees of freedom' WHERE is_main "
              "= 1 AND configuration = 'W2'");

    if (text != NULL) {
        CHECK_CONTAINS(text, "gain</span><small>only 2 degrees of freedom</small></td>");
        CHECK_CONTAINS(text, "gain</span><small>only 2 degrees of freedom</small></div>");
        CHECK_CONTAINS(text, "<h1>W2 beats C0");
    }
    free(text);
}

CU_TestInfo report_facts_tests[] = {
    {"a step is not hidden by first to last", a_step_is_not_hidden_by_first_to_last},
    {"a step down keeps its sign", a_step_down_keeps_its_sign},
    {"drift is judged too", drift_is_judged_too},
    {"the fact is judged by the step", the_fact_is_judged_by_the_step},
    {"a small walk is less than matters", a_small_walk_is_less_than_matters},
    {"the half-width is called what it is", the_half_width_is_called_what_it_is},
    {"points without a flag are counted by flags", points_without_a_flag_are_counted_by_flags},
    {"the largest effect comes first", the_largest_effect_comes_first},
    {"flags name their points and channels", flags_name_their_points_and_channels},
    {"refused points are not unmeasured", refused_points_are_not_unmeasured},
    {"a part refused is counted", a_part_refused_is_counted},
    {"one comparison is in the singular", one_comparison_is_in_the_singular},
    {"a verdict may carry a caveat", a_verdict_may_carry_a_caveat},
    CU_TEST_INFO_NULL};
