/* test_pipeline.c - what is reduced again, what is left alone, and what comes back; tables. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "reduce/compare_table.h"
#include "reduce/explain.h"
#include "reduce/explain_command.h"
#include "reduce/pipeline.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

static struct reduce_summary reduce(struct night_fixture *fixture)
{
    struct fault fault;
    struct reduce_summary summary;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
    return summary;
}

/* Two runs through the balance "under", one through "side", which has a calibration of its own. */
static void open_night(struct night_fixture *fixture)
{
    fixture_open(fixture);
    fixture_add_zero(fixture, "z1", 0, 0);
    fixture_add_zero(fixture, "z2", 10, 0);
    fixture_add_wind(fixture, "a1", "base", 1000, 3.000);
    fixture_add_wind(fixture, "b1", "wing", 2000, 3.040);
    fixture_add_wind(fixture, "s1", "base", 3000, 3.001);
    fixture_execute(fixture,
                    "INSERT INTO calibration_file (balance, file, sha256, output_unit, form, "
                    "second_order, from_natural_zero) SELECT 'side', file, sha256, output_unit, "
                    "form, second_order, from_natural_zero FROM calibration_file WHERE "
                    "balance = 'under'");
    fixture_execute(fixture, "INSERT INTO calibration SELECT 'side', load, term, coefficient, unit "
                             "FROM calibration WHERE balance = 'under'");
    fixture_execute(fixture, "UPDATE run SET balance = 'side' WHERE run IN ('z2', 's1')");
    static struct balance balances[2];
    balances[0] = fixture->balance;
    balances[1] = fixture->balance;
    balances[1].name = "side";
    fixture->campaign.balances = balances;
    fixture->campaign.n_balances = 2;
}

static void a_second_time_reduces_nothing(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    struct reduce_summary summary = reduce(&fixture);
    CHECK(summary.runs_reduced == 3 && summary.runs_up_to_date == 0);
    CHECK(summary.groups_reduced == 4); /* two configurations, one family, one map */
    double rows = fixture_number(&fixture, "SELECT count(*) FROM ledger_row");
    summary = reduce(&fixture);
    CHECK(summary.runs_reduced == 0 && summary.runs_up_to_date == 3);
    CHECK(summary.groups_reduced == 0 && summary.groups_up_to_date == 4);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM ledger_row"), rows, 0,
               "nothing is written");
    fixture_close(&fixture);
}

static void a_changed_coefficient_reduces_its_dependants_only(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    (void)reduce(&fixture);
    fixture_execute(&fixture,
                    "UPDATE calibration SET coefficient = 1001 WHERE balance = 'side' AND "
                    "load = 'Fz' AND term = 'R3'");
    struct reduce_summary summary = reduce(&fixture);
    CHECK(summary.runs_reduced == 1 && summary.runs_up_to_date == 2);
    CHECK(summary.groups_reduced == 3 && summary.groups_up_to_date == 1); /* wing stays */
    CHECK_NEAR(fixture_number(&fixture, "SELECT downforce_coefficient FROM point_coefficient WHERE "
                                        "run = 's1'"),
               3.001 * 1.001, 1e-12, "identity: one part in 1000 more of Fz");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM reduction WHERE subject = 's1'"), 2,
               0, "the old reduction is kept");
    fixture_close(&fixture);
}

static void reverting_a_change_brings_the_old_reduction_back(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    (void)reduce(&fixture);
    double first = fixture_number(&fixture, "SELECT reduction FROM reduction WHERE subject = 's1'");
    fixture_execute(&fixture,
                    "UPDATE calibration SET coefficient = 1001 WHERE balance = 'side' AND "
                    "load = 'Fz' AND term = 'R3'");
    (void)reduce(&fixture);
    fixture_execute(&fixture,
                    "UPDATE calibration SET coefficient = 1000 WHERE balance = 'side' AND "
                    "load = 'Fz' AND term = 'R3'");
    struct reduce_summary summary = reduce(&fixture);
    CHECK(summary.runs_reduced == 0 && summary.groups_reduced == 0);
    CHECK_NEAR(fixture_number(&fixture, "SELECT reduction FROM reduction WHERE subject = 's1' AND "
                                        "is_current = 1"),
               first, 0, "the first reduction is current again");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM reduction WHERE is_current = 1"), 14,
               0, "an entry's records, three runs, four of configurations and six of families");
    fixture_close(&fixture);
}

static void a_run_that_is_gone_or_quarantined_is_not_current(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    (void)reduce(&fixture);
    fixture_execute(&fixture, "UPDATE run SET state = 'quarantined' WHERE run = 'b1'");
    struct reduce_summary summary = reduce(&fixture);
    CHECK(summary.runs_not_usable == 1);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM point_coefficient WHERE run = 'b1'"),
               0, 0, "its reduction is not current");
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM reduction WHERE stage = 'target' AND "
                                        "is_current = 1"),
               1, 0, "and so is its configuration's");
    fixture_execute(&fixture, "DELETE FROM run WHERE run = 's1'");
    (void)reduce(&fixture);
    CHECK_NEAR(fixture_number(&fixture, "SELECT count(*) FROM reduction WHERE stage = 'point' AND "
                                        "is_current = 1"),
               1, 0, "a1 is left");
    fixture_close(&fixture);
}

static void a_changed_zero_reduces_the_runs_that_use_it(void)
{
    struct night_fixture fixture;
    open_night(&fixture);
    (void)reduce(&fixture);
    fixture_execute(&fixture, "UPDATE log SET sha256 = 'other' WHERE run = 'z1'");
    struct reduce_summary summary = reduce(&fixture);
    CHECK(summary.runs_reduced == 2 && summary.runs_up_to_date == 1);
    fixture_close(&fixture);
}

static void explain_shows_the_way_from_log_to_number(void)
{
    static const char *const pieces[] = {"logs/a1.csv",
                                         "sha of a1",
                                         "lines 2 to 1001",
                                         "held constant: run z1 point Z",
                                         "balance/under.csv",
                                         "c0ffee",
                                         "transfer:",
                                         "Reduction key",
                                         "method zero",
                                         "at target",
                                         "zero-after-missing",
                                         "q 2968.8",
                                         "1970-01-01 00:16:40.000 UTC"};
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    open_night(&fixture);
    (void)reduce(&fixture);
    struct explain_request request = {"a1", "P1", "CL", 1};
    CHECK_OK(explain_number(fixture.store, &fixture.campaign, &request, &text, &fault), &fault);
    /* The wind's row is set in columns; blanks are squeezed before looking. */
    char squeezed[16384];
    size_t n = 0;
    for (const char *c = text.text; c != NULL && *c != '\0' && n + 1 < sizeof squeezed; c++)
        if (*c != ' ' || n == 0 || squeezed[n - 1] != ' ')
            squeezed[n++] = *c;
    squeezed[n] = '\0';
    for (size_t i = 0; i < sizeof pieces / sizeof pieces[0]; i++)
        CHECK_CONTAINS(squeezed, pieces[i]);
    CHECK(strstr(squeezed, "has changed since") == NULL);
    key_text_end(&text);
    request.symbol = "Cp:T1";
    CHECK_OK(explain_number(fixture.store, &fixture.campaign, &request, &text, &fault), &fault);
    CHECK_CONTAINS(text.text, "Cp0 - (Cp0 - Cp)/(q_c/q)");
    key_text_end(&text);
    fixture.campaign.car.reference_area = 2.1;
    CHECK_OK(explain_number(fixture.store, &fixture.campaign, &request, &text, &fault), &fault);
    CHECK_CONTAINS(text.text, "has changed since");
    key_text_end(&text);
    fixture_close(&fixture);
}

static void explain_splits_at_the_first_slash(void)
{
    static const struct {
        const char *name, *run, *point;
    } cases[] = {{"r1/3", "r1", "3"},
                 {"r1/sweep/3", "r1", "sweep/3"},
                 {"r1", NULL, NULL},
                 {"/3", NULL, NULL},
                 {"r1/", NULL, NULL}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char name[32];
        struct fault fault;
        struct explain_request request = {NULL, NULL, NULL, 0};
        (void)snprintf(name, sizeof name, "%s", cases[i].name);
        enum status status = explain_split(name, &request, &fault);
        CHECK(status == (cases[i].run != NULL ? OK : BAD_INPUT));
        if (status != OK)
            continue;
        CHECK_TEXT(request.run, cases[i].run);
        CHECK_TEXT(request.point, cases[i].point);
    }
}

static void explain_refuses_what_is_not_there(void)
{
    static const struct explain_request requests[] = {{"zz", "P1", "CL", 0},
                                                      {"a1", "P9", "CL", 0},
                                                      {"a1", "P1", "CX", 0},
                                                      {"a1", "P1", "Cp:T9", 0},
                                                      {"z1", "Z", "CL", 0}};
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    open_night(&fixture);
    (void)reduce(&fixture);
    for (size_t i = 0; i < sizeof requests / sizeof requests[0]; i++) {
        CHECK(explain_number(fixture.store, &fixture.campaign, &requests[i], &text, &fault) ==
              NOT_FOUND);
        key_text_end(&text);
    }
    fixture_close(&fixture);
}

static void compare_prints_deltas_with_their_sign(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    struct compare_request request = {.format = COMPARE_TEXT};
    open_night(&fixture);
    (void)reduce(&fixture);
    fixture_execute(&fixture,
                    "INSERT INTO metric VALUES ('downforce',1,'CL','higher',NULL,0.01,1)");
    CHECK_OK(compare_table(fixture.store, &request, &text, &fault), &fault);
    CHECK_CONTAINS(text.text, "downforce positive");
    CHECK_CONTAINS(text.text, "+0.0395"); /* 3.040 - (3.000 + 3.001)/2 */
    key_text_end(&text);
    request = (struct compare_request){
        .first = "base", .second = "wing", .metric = "downforce", .format = COMPARE_CSV};
    CHECK_OK(compare_table(fixture.store, &request, &text, &fault), &fault);
    CHECK_CONTAINS(text.text, "\"wing\",\"base\",\"tunnel\",\"e1\",\"CL\",\"1\",\"low\",");
    CHECK(strstr(text.text, ",\"CD\",") == NULL);
    key_text_end(&text);
    request.second = "none such";
    CHECK(compare_table(fixture.store, &request, &text, &fault) == NOT_FOUND);
    CHECK_CONTAINS(fault.text, "none such");
    key_text_end(&text);
    request = (struct compare_request){.metric = "speed"};
    CHECK(compare_table(fixture.store, &request, &text, &fault) == NOT_FOUND);
    key_text_end(&text);
    fixture_close(&fixture);
}

CU_TestInfo pipeline_tests[] = {
    {"a second time reduces nothing", a_second_time_reduces_nothing},
    {"a changed coefficient reduces its dependants only",
     a_changed_coefficient_reduces_its_dependants_only},
    {"reverting a change brings the old reduction back",
     reverting_a_change_brings_the_old_reduction_back},
    {"a run that is gone or quarantined is not current",
     a_run_that_is_gone_or_quarantined_is_not_current},
    {"a changed zero reduces the runs that use it", a_changed_zero_reduces_the_runs_that_use_it},
    {"explain splits at the first slash", explain_splits_at_the_first_slash},
    {"explain shows the way from log to number", explain_shows_the_way_from_log_to_number},
    {"explain refuses what is not there", explain_refuses_what_is_not_there},
    {"compare prints deltas with their sign", compare_prints_deltas_with_their_sign},
    CU_TEST_INFO_NULL};
