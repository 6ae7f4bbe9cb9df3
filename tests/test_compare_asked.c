/* test_compare_asked.c - `lapwing compare`: two configurations against each other, JSON, and the page. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/compare_table.h"
#include "report/compare_report.h"
#include "tests/check.h"
#include "tests/derive_night.h"

extern CU_TestInfo compare_asked_tests[];

/* Two mountings of each of four configurations between nine returns; invented. */
static void open_night(struct derive_night *night)
{
    static const struct {
        const char *configuration;
        double drag, downforce, front;
    } runs[] = {{"wing", 0.910, 0.040, 0.046},
                {"floor", 0.904, 0.020, 0.008},
                {"both", 0.912, 0.053, 0.051},
                {"flap", 0.902, 0.010, 0.034}};
    derive_night_open(night);
    for (int i = 0; i < 8; i++) {
        double noise = 1e-3 * ((i * 5) % 7 - 3);
        derive_night_add(night, "base", 0.9 + 0.1 * noise, 3 + noise, 1.2 + 0.3 * noise);
        derive_night_add(night, runs[i % 4].configuration, runs[i % 4].drag - 0.2 * noise,
                         3 + runs[i % 4].downforce - 0.5 * noise, 1.2 + runs[i % 4].front);
    }
    derive_night_add(night, "base", 0.9, 3.0005, 1.2);
    derive_night_reduce(night);
}

static struct compare_request ask_for(struct derive_night *night, const char *first,
                                      const char *second)
{
    return (struct compare_request){
        .first = first, .second = second, .campaign = &night->fixture.campaign};
}

static double asked_number(struct derive_night *night, const char *column,
                           const char *configuration, int is_pair)
{
    char sql[300];
    (void)snprintf(sql, sizeof sql,
                   "SELECT %s FROM asked_delta WHERE configuration = '%s' AND quantity = 'CL' AND "
                   "target = 'low' AND is_pair = %d",
                   column, configuration, is_pair);
    return fixture_number(&night->fixture, sql);
}

static void two_configurations_have_a_difference_of_their_own(void)
{
    struct derive_night night;
    struct fault fault;
    open_night(&night);
    struct compare_request request = ask_for(&night, "wing", "floor");
    CHECK_OK(compare_ask(night.fixture.store, &request, &fault), &fault);
    double wing = asked_number(&night, "delta", "wing", 0);
    double floor = asked_number(&night, "delta", "floor", 0);
    double difference = asked_number(&night, "delta", "wing", 1);
    double uncertainty = asked_number(&night, "standard_uncertainty", "wing", 1);
    CHECK_NEAR(difference, wing - floor, 1e-12, "identity");
    CHECK(asked_number(&night, "half_width", "wing", 1) > 0);
    /* The baseline that both share adds nothing to their difference. */
    CHECK(uncertainty < hypot(asked_number(&night, "standard_uncertainty", "wing", 0),
                              asked_number(&night, "standard_uncertainty", "floor", 0)));
    CHECK_NEAR(
        fixture_number(&night.fixture,
                       "SELECT count(*) FROM asked_delta WHERE is_pair AND (is_main OR verdict "
                       "IS NOT NULL)"),
        0, 0, "nobody declared it");
    CHECK_TEXT(fixture_text(&night.fixture, "SELECT DISTINCT baseline || ': ' || reason FROM "
                                            "asked_delta WHERE is_pair"),
               "floor: not declared before the night: exploratory, no verdict");
    request = ask_for(&night, "floor", "wing");
    CHECK_OK(compare_ask(night.fixture.store, &request, &fault), &fault);
    CHECK_NEAR(asked_number(&night, "delta", "floor", 1), -difference, 1e-12,
               "the other way round");
    CHECK_NEAR(asked_number(&night, "standard_uncertainty", "floor", 1), uncertainty, 1e-12,
               "the other way round");
    /* With the baseline among both there is nothing to add. */
    request = ask_for(&night, "wing", "base");
    CHECK_OK(compare_ask(night.fixture.store, &request, &fault), &fault);
    CHECK_NEAR(fixture_number(&night.fixture, "SELECT total(is_pair) FROM asked_delta"), 0, 0,
               "a delta already");
    derive_night_close(&night);
}

static void what_cannot_be_compared_is_refused(void)
{
    struct derive_night night;
    struct fault fault;
    open_night(&night);
    fixture_execute(
        &night.fixture,
        "INSERT INTO configuration (configuration, sequence, parent, baseline, change, "
        "note) VALUES ('old', 8, NULL, 'old', '', ''), ('lip', 9, 'old', 'old', '', '')");
    struct compare_request request = ask_for(&night, "wing", "lip");
    CHECK(compare_ask(night.fixture.store, &request, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "'wing' is of the family of 'base', 'lip' of that of 'old'");
    CHECK_CONTAINS(fault.text, "compare each alone");
    request = ask_for(&night, "wing", "wing");
    CHECK(compare_ask(night.fixture.store, &request, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "'wing' is named twice");
    request = ask_for(&night, NULL, NULL);
    request.family = "wing";
    CHECK(compare_ask(night.fixture.store, &request, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "--family 'base'");
    request.family = "gurney";
    CHECK(compare_ask(night.fixture.store, &request, &fault) == NOT_FOUND);
    request.family = "base";
    CHECK_OK(compare_ask(night.fixture.store, &request, &fault), &fault);
    CHECK_NEAR(fixture_number(&night.fixture, "SELECT count(DISTINCT configuration) FROM "
                                              "asked_delta"),
               4, 0, "the whole family");
    request.first = "wing";
    CHECK(compare_ask(night.fixture.store, &request, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "give one of both");
    derive_night_close(&night);
}

/* Parsed back by SQLite; its JSON functions write 15 significant digits. */
static void json_says_what_the_store_says(void)
{
    struct derive_night night;
    struct key_text text;
    struct statement *insert = NULL;
    struct fault fault;
    open_night(&night);
    struct compare_request request = ask_for(&night, "wing", "floor");
    request.format = COMPARE_JSON;
    CHECK_OK(compare_table(night.fixture.store, &request, &text, &fault), &fault);
    fixture_execute(&night.fixture, "CREATE TEMP TABLE said (text TEXT)");
    CHECK_OK(
        statement_prepare(night.fixture.store, "INSERT INTO said VALUES (?1)", &insert, &fault),
        &fault);
    CHECK_OK(statement_bind_text(insert, 1, text.text, &fault), &fault);
    CHECK_OK(statement_run(insert, &fault), &fault);
    statement_free(insert);
    CHECK_NEAR(fixture_number(&night.fixture, "SELECT json_valid(text) FROM said"), 1, 0,
               "RFC 8259");
    fixture_execute(
        &night.fixture,
        "CREATE TEMP TABLE parsed AS SELECT e.key + 1 AS place, "
        "e.value ->> 'configuration' AS configuration, e.value ->> 'delta' AS delta, "
        "e.value ->> 'half_width' AS half_width, e.value ->> 'verdict' AS verdict, "
        "e.value ->> 'reason' AS reason FROM said, json_each(said.text, '$.deltas') AS e");
    CHECK_NEAR(fixture_number(&night.fixture, "SELECT count(*) FROM parsed"),
               fixture_number(&night.fixture, "SELECT count(*) FROM asked_delta"), 0, "every row");
    CHECK_NEAR(
        fixture_number(&night.fixture,
                       "SELECT count(*) FROM parsed AS p JOIN asked_delta AS a ON a.rowid = "
                       "p.place WHERE a.configuration = p.configuration AND (a.delta IS p.delta OR "
                       "abs(a.delta "
                       "- p.delta) <= 1e-14 * abs(a.delta)) AND (a.half_width IS p.half_width OR "
                       "abs(a.half_width - p.half_width) <= 1e-14 * a.half_width) AND a.verdict "
                       "IS p.verdict AND a.reason = p.reason"),
        fixture_number(&night.fixture, "SELECT count(*) FROM asked_delta"), 0,
        "in its order and to 15 digits");
    CHECK_NEAR(fixture_number(&night.fixture,
                              "SELECT count(*) FROM said, json_each(said.text, '$.ratios')"),
               fixture_number(&night.fixture, "SELECT count(*) FROM ratio WHERE configuration IN "
                                              "('wing', 'floor')"),
               0, "ratios of what is asked");
    CHECK(fixture_number(&night.fixture,
                         "SELECT count(*) FROM said, json_each(said.text, '$.made_by')") >= 3);
    key_text_end(&text);
    derive_night_close(&night);
}

static void a_page_shows_what_is_asked_and_nothing_else(void)
{
    static const char name[] = "<script>alert(1)&\"'";
    struct derive_night night;
    struct html page = {0};
    struct fault fault;
    open_night(&night);
    fixture_execute(&night.fixture,
                    "INSERT INTO metric VALUES ('downforce', 0, 'CL', 'higher', NULL, 0.01, 1)");
    fixture_execute(
        &night.fixture,
        "INSERT INTO setting VALUES ('season', 'season', 'Winter <b>tests', ''), "
        "('season', 'count', '0.001', '1'), ('limits', 'confidence', '0.95', '1');"
        "UPDATE configuration SET configuration = '<script>alert(1)&\"''' WHERE "
        "configuration = 'wing';"
        "UPDATE run SET configuration = '<script>alert(1)&\"''' WHERE configuration = "
        "'wing';"
        "UPDATE configuration_part SET part = '<script>alert(1)&\"''' WHERE part = 'wing'");
    derive_night_reduce(&night);
    struct compare_request request = ask_for(&night, name, "floor");
    CHECK_OK(compare_ask(night.fixture.store, &request, &fault), &fault);
    CHECK_OK(page_compare(&page, night.fixture.store, &fault), &fault);
    const char *got = buffer_string(&page.out);
    CHECK_CONTAINS(got, "&lt;script&gt;alert(1)&amp;&quot;&#39; minus floor: +");
    CHECK(strstr(got, "<script>alert") == NULL);
    CHECK(strstr(got, "<b>tests") == NULL);
    CHECK_CONTAINS(got, "default-src &#39;none&#39;");
    CHECK(strstr(got, " style=") == NULL);
    CHECK(strstr(got, "flap") == NULL || strstr(got, "front flap") != NULL);
    CHECK(strstr(got, "both,") == NULL && strstr(got, ">both<") == NULL);
    CHECK_CONTAINS(got, "id=\"ratio\"");
    CHECK_CONTAINS(got, "id=\"equal-balance\"");
    CHECK(strstr(got, "id=\"package\"") == NULL);
    html_free(&page);
    page = (struct html){0};
    request = ask_for(&night, "both", NULL);
    CHECK_OK(compare_ask(night.fixture.store, &request, &fault), &fault);
    CHECK_OK(page_compare(&page, night.fixture.store, &fault), &fault);
    CHECK_NEAR(fixture_number(&night.fixture,
                              "SELECT count(*) > 0 FROM asked_package WHERE quantity "
                              "= 'CL' AND interaction IS NOT NULL"),
               1, 0, "the package was run with its parts");
    CHECK_CONTAINS(buffer_string(&page.out), "id=\"package\"");
    html_free(&page);
    derive_night_close(&night);
}

static void text_tells_all_of_it_in_a_hundred_columns(void)
{
    struct derive_night night;
    struct key_text text;
    struct fault fault;
    open_night(&night);
    fixture_execute(&night.fixture,
                    "INSERT INTO metric VALUES ('downforce', 0, 'CL', 'higher', NULL, "
                    "0.01, 1)");
    fixture_execute(&night.fixture,
                    "INSERT INTO setting VALUES ('limits', 'confidence', '0.95', '1')");
    fixture_execute(&night.fixture,
                    "INSERT INTO target (target, sequence, weight) VALUES ('low', 1, 1)");
    struct compare_request request = ask_for(&night, NULL, NULL);
    request.family = "base";
    request.metric = "CL";
    request.attitude = "low";
    CHECK_OK(compare_table(night.fixture.store, &request, &text, &fault), &fault);
    CHECK_CONTAINS(text.text, "change of CL for change of CD");
    CHECK_CONTAINS(text.text, "with front flap ");
    CHECK_CONTAINS(text.text, "its parts (wing; floor) add up to +0.0");
    CHECK_CONTAINS(text.text, "they cost each other");
    CHECK_CONTAINS(text.text, "4 judged: ");
    size_t column = 0;
    size_t longest = 0;
    for (const char *c = text.text != NULL ? text.text : ""; *c != '\0'; c++) {
        column = *c == '\n' ? 0 : column + 1;
        longest = column > longest ? column : longest;
    }
    CHECK(longest <= 100);
    key_text_end(&text);
    derive_night_close(&night);
}

CU_TestInfo compare_asked_tests[] = {
    {"two configurations have a difference of their own",
     two_configurations_have_a_difference_of_their_own},
    {"what cannot be compared is refused", what_cannot_be_compared_is_refused},
    {"JSON says what the store says", json_says_what_the_store_says},
    {"a page shows what is asked and nothing else", a_page_shows_what_is_asked_and_nothing_else},
    {"text tells all of it in a hundred columns", text_tells_all_of_it_in_a_hundred_columns},
    CU_TEST_INFO_NULL};
