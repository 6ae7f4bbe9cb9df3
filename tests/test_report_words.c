/* test_report_words.c - sentences of the pages under conditions that are rarer than the one they were written
 * for: each is true, or left out. Invented numbers; expected words follow from the rows by hand. */
#include <CUnit/CUnit.h>
#include <stdlib.h>
#include <string.h>

#include "report/proof.h"
#include "tests/check.h"
#include "tests/test_report_fixture.h"
#include "tests/test_report_made.h"

extern CU_TestInfo report_words_tests[];

/* wanted and refused end with NULL. */
static void check_page(const char *sql, const char *const *wanted, const char *const *refused)
{
    char *text = report_page_after(NULL, sql);

    for (size_t i = 0; text != NULL && wanted[i] != NULL; i++)
        CHECK_CONTAINS(text, wanted[i]);
    for (size_t i = 0; text != NULL && refused[i] != NULL; i++)
        CHECK(strstr(text, refused[i]) == NULL);
    free(text);
}

static const char *const none[] = {NULL};

/* W4 reads "no change that matters"; the others have no verdict. */
static void of_one_that_is_unchanged_only_that_is_said(void)
{
    static const char *const wanted[] = {
        "<h1>W4 does not change downforce by an amount that matters (10 counts).</h1>",
        "No verdict on W2: parts not refitted.", NULL};
    static const char *const refused[] = {"No configuration changes downforce",
                                          "No comparison with the baseline is left open", NULL};

    check_page("UPDATE delta_result SET verdict = NULL, half_width = NULL, lower = NULL, upper = "
               "NULL, reason = 'parts not refitted: no verdict (1 mounting)' WHERE is_main = 1 AND "
               "configuration <> 'W4'",
               wanted, refused);
}

static void of_some_that_are_unchanged_only_those_are_meant(void)
{
    static const char *const wanted[] = {
        "<h1>No configuration with a verdict changes downforce by an amount that matters (10 "
        "counts).</h1>",
        NULL};

    check_page("UPDATE delta_result SET verdict = 'no change that matters' WHERE is_main = 1;"
               "UPDATE delta_result SET verdict = NULL WHERE is_main = 1 AND configuration = 'W1'",
               wanted, none);
}

/* Of two that are not decided each has an interval of its own. */
static void what_is_open_has_its_own_interval(void)
{
    static const char *const wanted[] = {
        "Both no change and a change that matters are inside each interval.", NULL};

    check_page("UPDATE delta_result SET verdict = 'can''t tell yet' WHERE is_main = 1 AND "
               "configuration = 'W4'",
               wanted, none);
}

/* The baseline stands at a mean near 3.1; the goal is 13 counts above it, so that W1 (+12.1) ends 1 count
 * from it and W2 (+23.8) 11 counts. */
static void nearer_to_the_goal_is_better_than_larger(void)
{
    static const char *const wanted[] = {"<h1>W1 beats C0 by the most: +12.1", NULL};

    check_page(
        "UPDATE metric SET better = 'toward', toward = 0.013 + (SELECT avg(value) FROM "
        "observation WHERE configuration = 'C0' AND quantity = 'CL' AND target = 'weighted') "
        "WHERE is_main = 1",
        wanted, none);
}

static void the_largest_of_undirected_changes_differs_most(void)
{
    static const char *const wanted[] = {"<h1>W2 differs most from C0: +23.8", NULL};

    check_page("UPDATE metric SET better = 'undeclared' WHERE is_main = 1;"
               "UPDATE delta_result SET verdict = 'changed' WHERE verdict IN ('gain', 'loss')",
               wanted, none);
}

static void without_a_wind_on_run_nothing_was_read(void)
{
    static const char *const wanted[] = {"of 0 wind-on runs</small>", "none made</span>",
                                         "Nothing is drawn: no wind-on run was made.", NULL};
    static const char *const refused[] = {"all read", NULL};

    check_page("UPDATE run SET kind = 'record_only'; DELETE FROM observation", wanted, refused);
}

/* The first thing that is missing is the one to look at. */
static void nothing_compared_says_what_is_missing(void)
{
    static const char *const read[] = {
        "<h1>Nothing was compared: of 21 wind-on runs none could be read as declared.</h1>", NULL};
    static const char *const made[] = {"<h1>Nothing was compared: no wind-on run was made.</h1>",
                                       NULL};
    static const char *const metric[] = {
        "<h1>Nothing was compared: the campaign declares no metric.</h1>", NULL};
    static const char *const baseline[] = {
        "<h1>Nothing was compared: only the baseline was measured.</h1>", NULL};
    static const char *const delta[] = {
        "<h1>Nothing was compared: no configuration has a delta.</h1>", NULL};

    check_page("DELETE FROM delta_result; UPDATE run SET state = 'quarantined'", read, none);
    check_page("DELETE FROM delta_result; UPDATE run SET kind = 'zero'", made, none);
    check_page("DELETE FROM metric", metric, none);
    check_page("DELETE FROM delta_result; DELETE FROM point_result WHERE run IN (SELECT run FROM "
               "run WHERE configuration <> 'C0')",
               baseline, none);
    check_page("DELETE FROM delta_result", delta, none);
}

static void taps_without_a_value_are_not_alive(void)
{
    static const char *const wanted[] = {"none measured</span>", NULL};
    static const char *const refused[] = {"119 <small>of 120", NULL};

    check_page("DELETE FROM tap_result", wanted, refused);
}

/* One is frozen in the fixture; another has a zero without a value. */
static void a_tap_whose_zero_is_silent_is_dead(void)
{
    static const char *const wanted[] = {"118 <small>of 120", "2 dead</span>", NULL};

    check_page("INSERT INTO tap_result SELECT 1, '1', tap, 0, 0, NULL, 10, 'ok' FROM tap WHERE "
               "NOT EXISTS (SELECT 1 FROM tap_result);"
               "INSERT INTO flag_row (reduction, run, point, subject, rule, state, unit, detail) "
               "SELECT 1, 'R101', '', tap, 'tap-zero-silent', 'failed', '', 'none' FROM tap WHERE "
               "tap NOT IN (SELECT subject FROM flag_row) ORDER BY sequence LIMIT 1",
               wanted, none);
}

static void without_returns_no_bracket_holds(void)
{
    static const char *const wanted[] = {"The baseline was not returned to",
                                         "No mounting lies between two mountings of the baseline.",
                                         NULL};
    static const char *const refused[] = {"Between no two returns", NULL};

    check_page("DELETE FROM observation WHERE configuration = 'C0' AND mounting > 1", wanted,
               refused);
}

static void steps_are_looked_for_where_there_are_zeros(void)
{
    static const char *const unknown[] = {"Fewer than two zeros or weight tares were taken", NULL};
    static const char *const holds[] = {"No step of zero or weight is flagged between runs", NULL};

    check_page(NULL, unknown, holds);
    check_page("UPDATE run SET kind = 'zero' WHERE run IN ('R103', 'R105')", holds, unknown);
}

/* The fixture's first run starts at 1770836700 s. */
static void only_what_came_before_is_the_season(void)
{
    static const char *const unknown[] = {"The season knows of no earlier scatter", NULL};
    static const char *const earlier[] = {
        "not flagged as unlike that of the facility&#39;s earlier entries", NULL};
    static const char *const declared[] = {"not flagged as unlike what is declared of the facility",
                                           NULL};
    static const char insert[] =
        "INSERT INTO reduction VALUES (900, 'repeatability', 'saltmarsh/January', 'k', 'i', 1);"
        "INSERT INTO repeatability VALUES (900, 'saltmarsh', 'January', 1768000000, 'CL', "
        "'weighted', 'part refitted', 1e-6, 9, 12)";
    static const char later[] =
        "INSERT INTO reduction VALUES (900, 'repeatability', 'saltmarsh/March', 'k', 'i', 1);"
        "INSERT INTO repeatability VALUES (900, 'saltmarsh', 'March', 1773000000, 'CL', "
        "'weighted', 'part refitted', 1e-6, 9, 12)";

    check_page(NULL, unknown, earlier);
    check_page(insert, earlier, unknown);
    check_page(later, unknown, earlier);
    check_page("INSERT INTO repeatability_declared VALUES ('saltmarsh', 'CL', 'any', 'part "
               "refitted', 0.002, 20, 'check standard')",
               declared, unknown);
}

static void a_picture_without_an_interval_says_so(void)
{
    static const char *const wanted[] = {"\xCE\x94"
                                         "CL of W1: +12.1 counts, no interval",
                                         "\xCE\x94"
                                         "CL of W5: not known",
                                         NULL};
    static const char *const refused[] = {"from n/a to n/a", "n/a counts", NULL};

    check_page("UPDATE delta_result SET verdict = NULL, half_width = NULL, lower = NULL, upper = "
               "NULL WHERE configuration IN ('W1', 'W5') AND is_main = 1;"
               "UPDATE delta_result SET delta = NULL WHERE configuration = 'W5' AND is_main = 1",
               wanted, refused);
}

static void firmness_below_a_reading_is_explained(void)
{
    static const char *const wanted[] = {"Softer, depends, reversed: the reading is another one",
                                         NULL};

    check_page("INSERT INTO stability_result VALUES (100, 'W1', 'CL', 'weighted', 'softer without "
               "some', 9, 7)",
               wanted, none);
    check_page("INSERT INTO stability_result VALUES (100, 'W1', 'CL', 'weighted', 'firm', 9, 9)",
               none, wanted);
}

/* Its deltas are by the model of the whole night: no line through the returns is subtracted. */
static void the_strip_does_not_say_what_deltas_rest_on(void)
{
    static const char *const wanted[] = {"the dashed line joins the mountings of the baseline",
                                         "A delta is by one model of the whole night", NULL};
    static const char *const refused[] = {"deltas are measured from it",
                                          "A configuration is compared with its baseline as "
                                          "interpolated",
                                          NULL};

    check_page(NULL, wanted, refused);
}

static void a_winner_without_pressures_leaves_no_gap(void)
{
    static const char *const wanted[] = {"<h3>W1, change from the baseline</h3>", NULL};

    check_page("DELETE FROM map_triangle WHERE configuration = 'W2';"
               "DELETE FROM map_tap WHERE configuration = 'W2'",
               wanted, none);
}

#define FLAG                                                                           \
    "INSERT INTO flag_row (reduction, run, point, subject, rule, state, value, unit, " \
    "effect_counts, detail) VALUES "
#define FAILS FLAG "(100, '', '', 'W2', 'bracket-wide', 'flagged', 0.014, '1', 14, '')"

static void with_a_check_that_fails_nothing_is_settled(void)
{
    static const char *const wanted[] = {
        "Every configuration that was compared has its verdict, but a check on the night fails",
        NULL};
    static const char *const refused[] = {"None: every configuration", NULL};

    check_page(FAILS "; UPDATE delta_result SET verdict = 'no change that matters' WHERE verdict = "
                     "'can''t tell yet'",
               wanted, refused);
}

static void check_sheet(const char *sql, const char *part, const char *const *wanted,
                        const char *const *refused)
{
    struct store *store = NULL;
    struct findings findings;
    struct html page = {0};
    struct fault fault = {0};

    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    CHECK_OK(store_execute(store, sql, &fault), &fault);
    CHECK_OK(findings_read(store, &findings, &fault), &fault);
    struct proof proof = {store, &findings, findings_configuration(&findings, part), NULL};
    CHECK_OK(page_proof(&page, &proof, &fault), &fault);
    for (size_t i = 0; wanted[i] != NULL; i++)
        CHECK_CONTAINS(buffer_string(&page.out), wanted[i]);
    for (size_t i = 0; refused[i] != NULL; i++)
        CHECK(strstr(buffer_string(&page.out), refused[i]) == NULL);
    html_free(&page);
    findings_end(&findings);
    CHECK_OK(store_close(store, &fault), &fault);
}

static void a_sheet_of_a_night_that_fails_claims_nothing(void)
{
    static const char *const wanted[] = {
        "<h1>Do not use this sheet yet: around W2 the baseline moved by 14.0 counts",
        "Measured, but not to be used before that is cleared. At the weighted mean of the "
        "attitudes, W1 changes downforce against C0 by +12.1",
        NULL};
    static const char *const refused[] = {"<h1>At the weighted mean", NULL};

    check_sheet(FAILS, "W1", wanted, refused);
}

static void a_sheet_without_heights_still_says_its_limits(void)
{
    static const char *const wanted[] = {">Anything outside yaw of ",
                                         "The wakes of other cars, the curved flow", NULL};
    static const char *const refused[] = {"ride heights of", NULL};
    static const char *const nothing[] = {"<dd class=\"long\">The wakes of other cars", NULL};

    check_sheet("UPDATE point_result SET front_ride_height_m = NULL, rear_ride_height_m = NULL",
                "W1", wanted, refused);
    check_sheet("UPDATE point_result SET front_ride_height_m = NULL, rear_ride_height_m = NULL, "
                "yaw_rad = NULL",
                "W1", nothing, refused);
}

static void a_sheet_of_one_measure_has_no_others(void)
{
    static const char *const wanted[] = {"and the verdict is read from it. ", ">this entry</small>",
                                         NULL};
    static const char *const refused[] = {"the others are exploratory", ">tonight<", NULL};

    check_sheet("DELETE FROM metric WHERE is_main = 0", "W1", wanted, refused);
}

CU_TestInfo report_words_tests[] = {
    {"of one that is unchanged only that is said", of_one_that_is_unchanged_only_that_is_said},
    {"of some that are unchanged only those are meant",
     of_some_that_are_unchanged_only_those_are_meant},
    {"what is open has its own interval", what_is_open_has_its_own_interval},
    {"nearer to the goal is better than larger", nearer_to_the_goal_is_better_than_larger},
    {"the largest of undirected changes differs most",
     the_largest_of_undirected_changes_differs_most},
    {"without a wind-on run nothing was read", without_a_wind_on_run_nothing_was_read},
    {"nothing compared says what is missing", nothing_compared_says_what_is_missing},
    {"taps without a value are not alive", taps_without_a_value_are_not_alive},
    {"a tap whose zero is silent is dead", a_tap_whose_zero_is_silent_is_dead},
    {"without returns no bracket holds", without_returns_no_bracket_holds},
    {"steps are looked for where there are zeros", steps_are_looked_for_where_there_are_zeros},
    {"only what came before is the season", only_what_came_before_is_the_season},
    {"a picture without an interval says so", a_picture_without_an_interval_says_so},
    {"firmness below a reading is explained", firmness_below_a_reading_is_explained},
    {"the strip does not say what deltas rest on", the_strip_does_not_say_what_deltas_rest_on},
    {"a winner without pressures leaves no gap", a_winner_without_pressures_leaves_no_gap},
    {"with a check that fails nothing is settled", with_a_check_that_fails_nothing_is_settled},
    {"a sheet of a night that fails claims nothing", a_sheet_of_a_night_that_fails_claims_nothing},
    {"a sheet without heights still says its limits",
     a_sheet_without_heights_still_says_its_limits},
    {"a sheet of one measure has no others", a_sheet_of_one_measure_has_no_others},
    CU_TEST_INFO_NULL,
};
