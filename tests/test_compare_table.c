/* test_compare_table.c - `lapwing compare` over a season of several entries. */
#include <CUnit/CUnit.h>
#include <string.h>

#include "reduce/compare_command.h"
#include "reduce/compare_table.h"
#include "reduce/pipeline.h"
#include "schema/entry.h"
#include "tests/check.h"
#include "tests/night_fixture.h"

static void add_bracket(struct night_fixture *fixture, const char *const runs[4], double start,
                        double gain)
{
    fixture_add_zero(fixture, runs[0], start, 0);
    fixture_add_wind(fixture, runs[1], "base", start + 1000, 3.000);
    fixture_add_wind(fixture, runs[2], "wing", start + 2000, 3.001 + gain);
    fixture_add_wind(fixture, runs[3], "base", start + 3000, 3.002);
}

/* Entry e1 with a delta of 0.04 in wing, and after it e2 with one of -0.02. */
static void open_season(struct night_fixture *fixture)
{
    static const char *const first[] = {"z1", "a1", "b1", "c1"};
    static const char *const second[] = {"z2", "a2", "b2", "c2"};
    struct reduce_summary summary;
    struct fault fault;

    fixture_open(fixture);
    add_bracket(fixture, first, 0, 0.04);
    add_bracket(fixture, second, 100000, -0.02);
    fixture_execute(fixture, "UPDATE run SET entry = 'e2' WHERE run LIKE '%2'");
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
}

/* The table for an entry; "" when compare_table() does not give the status that is wanted. */
static const char *table(struct night_fixture *fixture, const char *entry,
                         enum compare_format format, enum status wanted, struct key_text *text,
                         struct fault *fault)
{
    struct compare_request request = {
        .first = "wing", .metric = "CL", .format = format, .entry = entry};

    CHECK(compare_table(fixture->store, &request, text, fault) == wanted);
    return text->text != NULL ? text->text : "";
}

static void the_latest_entry_is_the_default(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;

    open_season(&fixture);
    const char *got = table(&fixture, NULL, COMPARE_TEXT, OK, &text, &fault);
    CHECK_CONTAINS(got, "facility tunnel, entry e2: delta = configuration - baseline base;");
    CHECK_CONTAINS(got, "-0.0200"); /* 2.981 - (3.000 + 3.002)/2 */
    CHECK(strstr(got, "+0.0400") == NULL);
    CHECK_CONTAINS(got, "\nnot shown: e1 at tunnel; see --entry NAME and --entry all\n");
    key_text_end(&text);
    fixture_close(&fixture);
}

static void an_entry_is_asked_for_by_name(void)
{
    static const char *const names[] = {"e1", "tunnel/e1"};
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;

    open_season(&fixture);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        const char *got = table(&fixture, names[i], COMPARE_TEXT, OK, &text, &fault);
        CHECK_CONTAINS(got, "facility tunnel, entry e1: ");
        CHECK_CONTAINS(got, "+0.0400"); /* 3.041 - (3.000 + 3.002)/2 */
        CHECK(strstr(got, "-0.0200") == NULL);
        key_text_end(&text);
    }
    fixture_close(&fixture);
}

static void all_entries_are_given_latest_first(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;

    open_season(&fixture);
    const char *got = table(&fixture, "all", COMPARE_TEXT, OK, &text, &fault);
    const char *second = strstr(got, "entry e2");
    const char *first = strstr(got, "entry e1");
    CHECK(first != NULL && second != NULL && second < first);
    CHECK(strstr(got, "not shown") == NULL);
    key_text_end(&text);
    got = table(&fixture, "all", COMPARE_CSV, OK, &text, &fault);
    CHECK(strncmp(got, "configuration,baseline,facility,entry,quantity,unit,target,", 59) == 0);
    CHECK_CONTAINS(got, "\n\"wing\",\"base\",\"tunnel\",\"e1\",\"CL\",\"1\",");
    CHECK_CONTAINS(got, "\n\"wing\",\"base\",\"tunnel\",\"e2\",\"CL\",\"1\",");
    CHECK(strstr(got, "not shown") == NULL);
    key_text_end(&text);
    fixture_close(&fixture);
}

static void a_baseline_alone_lists_its_family(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    struct compare_request request = {.first = "base"};

    open_season(&fixture);
    CHECK_OK(compare_table(fixture.store, &request, &text, &fault), &fault);
    CHECK_CONTAINS(text.text, "\nwing ");
    key_text_end(&text);
    request.second = "floor"; /* the two named, of which floor was not run */
    CHECK(compare_table(fixture.store, &request, &text, &fault) == NOT_FOUND);
    key_text_end(&text);
    fixture_close(&fixture);
}

static void a_reason_is_set_off_from_its_verdict(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;

    open_season(&fixture);
    fixture_execute(&fixture, "UPDATE delta_result SET verdict = 'gain', reason = 'few repeats' "
                              "WHERE is_main");
    const char *got = table(&fixture, NULL, COMPARE_TEXT, OK, &text, &fault);
    CHECK_CONTAINS(got, "main: gain; few repeats\n");
    key_text_end(&text);
    fixture_execute(&fixture, "UPDATE delta_result SET verdict = NULL WHERE is_main");
    got = table(&fixture, NULL, COMPARE_TEXT, OK, &text, &fault);
    CHECK_CONTAINS(got, "main: few repeats\n");
    key_text_end(&text);
    fixture_close(&fixture);
}

static void an_attitude_shows_its_rows_only(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;
    struct compare_request request = {.attitude = "low"};

    open_season(&fixture);
    fixture_execute(&fixture, "INSERT INTO target (target, sequence, weight) VALUES ('low', 1, 1), "
                              "('idle', 2, 0)");
    CHECK_OK(compare_table(fixture.store, &request, &text, &fault), &fault);
    const char *got = text.text != NULL ? text.text : "";
    CHECK_CONTAINS(got, " low ");
    CHECK(strstr(got, " weighted ") == NULL);
    CHECK_CONTAINS(got, "\nat attitude low only; see --attitude NAME and --attitude all\n");
    key_text_end(&text);
    request.attitude = "flying";
    CHECK(compare_table(fixture.store, &request, &text, &fault) == NOT_FOUND);
    CHECK_CONTAINS(fault.text, "no attitude 'flying'");
    key_text_end(&text);
    request.attitude = "idle";
    CHECK(compare_table(fixture.store, &request, &text, &fault) == NOT_FOUND);
    CHECK_CONTAINS(fault.text, "--attitude all and --entry all");
    key_text_end(&text);
    fixture_close(&fixture);
}

static void an_entry_that_is_not_there_is_refused(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;

    open_season(&fixture);
    (void)table(&fixture, "e3", COMPARE_TEXT, NOT_FOUND, &text, &fault);
    CHECK_CONTAINS(fault.text, "no entry 'e3'");
    key_text_end(&text);
    (void)table(&fixture, "shed/e1", COMPARE_TEXT, NOT_FOUND, &text, &fault);
    key_text_end(&text);
    (void)table(&fixture, "tunnel/", COMPARE_TEXT, NOT_FOUND, &text, &fault);
    key_text_end(&text);
    fixture_close(&fixture);
}

static void an_empty_latest_entry_points_to_the_others(void)
{
    struct night_fixture fixture;
    struct key_text text;
    struct fault fault;

    open_season(&fixture);
    fixture_add_wind(&fixture, "a3", "base", 200000, 3.0);
    fixture_execute(&fixture, "UPDATE run SET entry = 'e3' WHERE run = 'a3'");
    (void)table(&fixture, NULL, COMPARE_TEXT, NOT_FOUND, &text, &fault);
    CHECK_CONTAINS(fault.text, "latest entry, e3 at tunnel");
    CHECK_CONTAINS(fault.text, "--entry all");
    key_text_end(&text);
    fixture_close(&fixture);
}

static void the_option_needs_a_value(void)
{
    struct common_options common = {.folder = "."};
    struct fault fault = {0};
    char name[] = "compare";
    char option[] = "--entry";
    char *words[] = {name, option, NULL};

    struct comparison made;
    CHECK(compare_begin(&common, 2, words, &made, &fault) == BAD_INPUT);
    CHECK(compare_end(&made, BAD_INPUT, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "--entry needs a value");
}

static void entries_come_latest_first(void)
{
    struct night_fixture fixture;
    struct season_entries entries;
    struct fault fault;

    open_season(&fixture);
    /* No wind-on run, so last, however late its zero is; and an equal start, which goes by name. */
    fixture_add_zero(&fixture, "z9", 900000, 0);
    fixture_add_wind(&fixture, "d2", "base", 103000, 3.0);
    fixture_execute(&fixture, "UPDATE run SET entry = 'e9' WHERE run = 'z9';"
                              "UPDATE run SET facility = 'shed' WHERE run = 'd2'");
    CHECK_OK(entries_read(fixture.store, &entries, &fault), &fault);
    CHECK(entries.n == 4);
    static const char *const wanted[][2] = {
        {"shed", "e1"}, {"tunnel", "e2"}, {"tunnel", "e1"}, {"tunnel", "e9"}};
    for (size_t i = 0; entries.n == 4 && i < 4; i++) {
        CHECK_TEXT(entries.items[i].facility, wanted[i][0]);
        CHECK_TEXT(entries.items[i].entry, wanted[i][1]);
    }
    entries_end(&entries);
    fixture_execute(&fixture, "DELETE FROM run");
    CHECK_OK(entries_read(fixture.store, &entries, &fault), &fault);
    CHECK(entries.n == 0);
    entries_end(&entries);
    fixture_close(&fixture);
}

CU_TestInfo compare_table_tests[] = {
    {"the latest entry is the default", the_latest_entry_is_the_default},
    {"an entry is asked for by name", an_entry_is_asked_for_by_name},
    {"all entries are given, latest first", all_entries_are_given_latest_first},
    {"a baseline alone lists its family", a_baseline_alone_lists_its_family},
    {"a reason is set off from its verdict", a_reason_is_set_off_from_its_verdict},
    {"an attitude shows its rows only", an_attitude_shows_its_rows_only},
    {"an entry that is not there is refused", an_entry_that_is_not_there_is_refused},
    {"an empty latest entry points to the others", an_empty_latest_entry_points_to_the_others},
    {"the option needs a value", the_option_needs_a_value},
    {"entries come latest first", entries_come_latest_first},
    CU_TEST_INFO_NULL};
