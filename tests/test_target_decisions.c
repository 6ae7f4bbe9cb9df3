/* test_target_decisions.c - decisions at the target stage: lifting the cap, slopes, bases. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>

#include "reduce/target_pass.h"
#include "tests/check.h"
#include "tests/target_map.h"

static const char *flag_detail(struct night_fixture *fixture, const char *rule)
{
    char sql[200];
    (void)snprintf(sql, sizeof sql, "SELECT detail FROM flag WHERE rule = '%s' AND point = 'P1'",
                   rule);
    return fixture_text(fixture, sql);
}

/* Restoring lifts the cap, and the slope carries the point from where it stands. */
static void a_restored_point_off_target_is_carried_there(void)
{
    struct night_fixture fixture;
    target_map_open(&fixture, 0.0008, 0);
    fixture_decide(&fixture, "r1", "P1", "restore");
    target_map_reduce(&fixture);
    CHECK_TEXT(target_map_method(&fixture), "local fit");
    CHECK_NEAR(target_map_value(&fixture, "is_used"), 1, 0, "somebody decided so");
    CHECK_NEAR(target_map_value(&fixture, "reason = 'restored'"), 1, 0, "and it shows");
    CHECK_NEAR(target_map_value(&fixture, "downforce_coefficient"), 3, 1e-9,
               "the fixture's plane at the target");
    CHECK_CONTAINS(flag_detail(&fixture, "point-restored"),
                   "taken in although it is off target by");
    CHECK_CONTAINS(flag_detail(&fixture, "off-target"), "+0.80 mm from target low");
    CHECK_TEXT(fixture_text(&fixture, "SELECT state || ' ' || rules FROM left_out"),
               "restored off-target");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM target_other WHERE basis = 'all in'"),
               0, 0, "all in already");
    CHECK_NEAR(fixture_number(&fixture, "SELECT is_used FROM target_other WHERE basis = 'rules "
                                        "alone' AND point = 'P1'"),
               0, 0, "the rule would leave it");
    fixture_close(&fixture);
}

static void nobody_decides_and_all_in_carries_what_is_off_target(void)
{
    struct night_fixture fixture;
    target_map_open(&fixture, 0.0008, 0);
    target_map_reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture,
                              "SELECT downforce_coefficient FROM target_other WHERE basis "
                              "= 'all in' AND point = 'P1' AND is_used = 1"),
               3, 1e-9, "the fixture's plane at the target");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM target_other WHERE basis = 'rules "
                                        "alone'"),
               0, 0, "nobody decided");
    CHECK_TEXT(fixture_text(&fixture, "SELECT place || ' ' || state || who FROM left_out"),
               "r1/P1 off-target");
    fixture_close(&fixture);
}

static void where_no_slope_holds_a_restore_has_no_effect(void)
{
    struct night_fixture fixture;
    struct fixture_point values = {.rise = 3000, .front = 0.0208, .rear = 0.04};
    fixture_open(&fixture);
    fixture_add_zero(&fixture, "z1", 0, 0);
    fixture_outputs(0.9, 3, 1.35, values.output);
    fixture_add_run(&fixture,
                    &(struct fixture_run){
                        .run = "r1", .kind = "wind_on", .configuration = "base", .start = 50});
    fixture_add_point(&fixture, "r1", "P1", 50, &values);
    fixture_decide(&fixture, "r1", "P1", "restore");
    target_map_reduce(&fixture);
    CHECK_NEAR(target_map_value(&fixture, "is_used"), 0, 0, "no slope, no value at the target");
    CHECK_CONTAINS(flag_detail(&fixture, "decision-without-effect"),
                   "changes nothing: no local fit about target low");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM flag WHERE rule = 'target-refused'"),
               0, 0, "the decision's flag says it");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM left_out"), 0, 0,
               "no comparison could take it");
    fixture_close(&fixture);
}

static void to_target_none_lets_no_decision_carry(void)
{
    struct night_fixture fixture;
    target_map_open(&fixture, 0.0003, 0);
    fixture.facility.to_target = TARGET_NONE;
    fixture_decide(&fixture, "r1", "", "restore");
    target_map_reduce(&fixture);
    CHECK_TEXT(target_map_method(&fixture), "left at attained");
    CHECK_NEAR(target_map_value(&fixture, "is_used"), 0, 0, "nothing carries it");
    CHECK_CONTAINS(flag_detail(&fixture, "decision-without-effect"), "to_target is none");
    fixture_close(&fixture);
}

/* P2 has a downforce off the plane by 1: every slope that rests on it is wrong. */
static void no_slope_rests_on_an_excluded_point(void)
{
    struct night_fixture fixture;
    struct fixture_point values = {.rise = 3000, .front = 0.016, .rear = 0.044};
    target_map_open(&fixture, 0.0003, -0.0002);
    fixture_outputs(0.9, 4.0, 1.8, values.output);
    fixture_add_point(&fixture, "r1", "off", 90, &values);
    target_map_reduce(&fixture);
    double bent = target_map_value(&fixture, "downforce_coefficient");
    CHECK(fabs(bent - 3) > 1e-3);
    fixture_decide(&fixture, "r1", "off", "exclude");
    target_map_reduce(&fixture);
    CHECK_NEAR(target_map_value(&fixture, "downforce_coefficient"), 3, 1e-9,
               "the fixture's plane at the target");
    CHECK_NEAR(fixture_number(&fixture, "SELECT downforce_coefficient FROM target_other AS t JOIN "
                                        "reduction USING (reduction) WHERE is_current = 1 AND "
                                        "basis = 'all in' AND point = 'P1'"),
               bent, 0, "identity: as before anybody decided");
    CHECK_NEAR(fixture_number(&fixture, "SELECT downforce_coefficient FROM point_coefficient WHERE "
                                        "point = 'off'"),
               4, 1e-9, "it keeps its number");
    fixture_close(&fixture);
}

/* Made by hand, since a rule of the point stage needs a spoilt record to fail a point. */
static void a_failed_point_takes_part_where_it_may(void)
{
    static const struct {
        enum decision decision;
        enum basis basis;
        int is_used;
        const char *reason;
    } cases[] = {
        {DECISION_NONE, BASIS_STANDS, 0, "failed"},
        {DECISION_NONE, BASIS_ALL_IN, 1, ""},
        {DECISION_NONE, BASIS_RULES_ALONE, 0, "failed"},
        {DECISION_RESTORE, BASIS_STANDS, 1, "restored"},
        {DECISION_RESTORE, BASIS_RULES_ALONE, 0, "failed"},
        {DECISION_EXCLUDE, BASIS_STANDS, 0, "excluded"},
        {DECISION_EXCLUDE, BASIS_RULES_ALONE, 0, "failed"},
    };
    struct night_fixture fixture;
    struct run_row run = {.run = "r1"};
    fixture_open(&fixture);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct attained_point point = {.run = &run, .point = "P1", .attitude = {0.02, 0.04, 0}};
        struct attained_list list = {&point, 1};
        struct target_rules rules = {&fixture.campaign.attitudes, 1, 0.01};
        struct target_pass pass;
        struct fault fault;
        point.rules = POINT_FAILED;
        point.decision = cases[i].decision;
        CHECK_OK(target_pass_make(&list, &rules, cases[i].basis, &pass, &fault), &fault);
        CHECK(pass.rows[0].is_used == cases[i].is_used);
        CHECK_TEXT(pass.rows[0].reason, cases[i].reason);
        target_pass_end(&pass);
    }
    fixture_close(&fixture);
}

extern CU_TestInfo target_decisions_tests[];
CU_TestInfo target_decisions_tests[] = {
    {"a restored point off target is carried there", a_restored_point_off_target_is_carried_there},
    {"nobody decides and all in carries what is off target",
     nobody_decides_and_all_in_carries_what_is_off_target},
    {"where no slope holds a restore has no effect", where_no_slope_holds_a_restore_has_no_effect},
    {"to_target none lets no decision carry", to_target_none_lets_no_decision_carry},
    {"no slope rests on an excluded point", no_slope_rests_on_an_excluded_point},
    {"a failed point takes part where it may", a_failed_point_takes_part_where_it_may},
    CU_TEST_INFO_NULL};
